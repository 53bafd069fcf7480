using System.Text;

namespace Derivid.Core.Compounds;

/// <summary>Reads a file of seed-tables/ that is built into this assembly: facts that no curator's table holds.</summary>
/// <remarks>By hand, because Core takes no package into the service.</remarks>
internal static class EmbeddedTable
{
    /// <summary>The rows under the header.</summary>
    /// <param name="fileName">Name of the file; RFC 4180, line feeds, no line break inside a cell.</param>
    /// <param name="header">The exact first line.</param>
    /// <returns>Shape: one list of cells a row, as many as the header has.</returns>
    /// <exception cref="InvalidOperationException">The file is not built in, or not laid out like this.</exception>
    public static IReadOnlyList<IReadOnlyList<string>> Rows(string fileName, string header)
    {
        using var stream = typeof(EmbeddedTable).Assembly.GetManifestResourceStream($"seed-tables/{fileName}")
            ?? throw new InvalidOperationException($"{fileName} is not built in.");
        using var text = new StreamReader(stream);
        var lines = text.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        if (lines[0] != header)
        {
            throw new InvalidOperationException($"{fileName} begins with \"{lines[0]}\", not with \"{header}\".");
        }

        var rows = lines.Skip(1).Select(Cells).ToList();
        var width = Cells(header).Count;
        return rows.TrueForAll(row => row.Count == width)
            ? rows
            : throw new InvalidOperationException($"{fileName} has a row that is not {width} cells wide.");
    }

    private static List<string> Cells(string line)
    {
        var (cells, cell, isQuoted) = (new List<string>(), new StringBuilder(), false);
        for (var i = 0; i < line.Length; i++)
        {
            if (line[i] == '"' && isQuoted && i + 1 < line.Length && line[i + 1] == '"')
            {
                cell.Append(line[i++]);
            }
            else if (line[i] == '"')
            {
                isQuoted = !isQuoted;
            }
            else if (line[i] == ',' && !isQuoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else
            {
                cell.Append(line[i]);
            }
        }

        cells.Add(cell.ToString());
        return cells;
    }
}
