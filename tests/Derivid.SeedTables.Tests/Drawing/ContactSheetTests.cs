using System.Net;
using System.Text;
using Derivid.Core.Drawing;

namespace Derivid.SeedTables.Tests.Drawing;

/// <summary>
/// All drawings on pages to look at: DERIVID_SHEET=1 writes artifacts/drawings/*.html beside the solution, 40 drawings a page.
/// </summary>
public sealed class ContactSheetTests
{
    private const int PerPage = 40;

    private const string Style =
        """
        body { font: 11px sans-serif; margin: 4px; width: 1580px; color: #000; background: #fff }
        div { display: grid; grid-template-columns: repeat(5, 1fr); gap: 4px }
        figure { border: 1px solid #ccc; margin: 0; padding: 4px; text-align: center }
        svg { max-width: 100% }
        """;

    [Fact]
    public void EveryStructureThatCanBeToldIsOnAPage()
    {
        TableDrawing[] drawn = [.. TableDrawings.All.Where(drawing => drawing.Molecule is not null)];
        string[] pages = [.. drawn.Chunk(PerPage).Select(Page)];
        if (Environment.GetEnvironmentVariable("DERIVID_SHEET") == "1")
        {
            Write(pages);
        }

        Assert.Equal(drawn.Length, pages.Sum(page => page.Split("<svg ").Length - 1));
    }

    private static void Write(string[] pages)
    {
        var folder = Directory.CreateDirectory(Path.Combine(SeedFolder.Path, "..", "artifacts", "drawings"));
        for (var page = 0; page < pages.Length; page++)
        {
            File.WriteAllText(Path.Combine(folder.FullName, FormattableString.Invariant($"page-{page + 1:00}.html")), pages[page]);
        }
    }

    private static string Page(TableDrawing[] drawings)
    {
        var figures = new StringBuilder();
        foreach (var drawing in drawings)
        {
            figures.Append("<figure>").Append(StructureDrawing.Svg(drawing.Molecule!, drawing.Title))
                .Append("<figcaption>").Append(WebUtility.HtmlEncode(drawing.Title)).Append("</figcaption></figure>\n");
        }

        return $"""
            <!DOCTYPE html>
            <html lang="en">
            <head><meta charset="utf-8"><title>Drawings of the table</title><style>{Style}</style></head>
            <body><div>
            {figures}</div></body>
            </html>

            """;
    }
}
