using System.Globalization;
using CsvHelper;
using Derivid.Api.Http;
using Derivid.Store.Seeding;

namespace Derivid.Api.Teaching;

/// <summary>Tables as CSV text (RFC 4180), nothing in them to be run as a formula.</summary>
public static class CsvText
{
    /// <summary>Writes a table.</summary>
    /// <param name="header">Names of the columns.</param>
    /// <param name="rows">Rows, one cell a column; null for an empty one.</param>
    /// <param name="holdsIds">Whether a program reads it that takes ids to the letter, so that the rows are written as they are.</param>
    public static string Write(IReadOnlyList<string> header, IEnumerable<IReadOnlyList<string?>> rows, bool holdsIds = false)
    {
        ArgumentNullException.ThrowIfNull(rows);
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        using (var writer = new CsvWriter(text, CultureInfo.InvariantCulture, leaveOpen: true))
        {
            WriteRow(writer, header);
            foreach (var row in rows)
            {
                WriteRow(writer, holdsIds ? row : row.Select(cell => (string?)SpreadsheetHabits.Neutralised(cell ?? "")));
            }
        }

        return text.ToString();
    }

    /// <summary>Answers with a table.</summary>
    /// <param name="context">The request.</param>
    /// <param name="csv">The table.</param>
    /// <param name="fileName">What a browser saves it as.</param>
    public static IResult Answer(HttpContext context, string csv, string fileName)
    {
        ArgumentNullException.ThrowIfNull(context);
        context.Response.Headers.ContentDisposition = $"attachment; filename=\"{fileName}\"";
        context.Response.Headers.CacheControl = "no-store";
        return Results.Text(csv, "text/csv; charset=utf-8");
    }

    /// <summary>Whether a sender would rather have CSV than JSON.</summary>
    /// <param name="request">The request.</param>
    public static bool IsWantedBy(HttpRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        return request.GetTypedHeaders().Accept
            .Any(type => type.MediaType.Equals(MediaTypes.Csv, StringComparison.OrdinalIgnoreCase) && type.Quality is null or > 0);
    }

    private static void WriteRow(CsvWriter writer, IEnumerable<string?> cells)
    {
        foreach (var cell in cells)
        {
            writer.WriteField(cell ?? "");
        }

        writer.NextRecord();
    }
}
