using System.Globalization;
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

    /// <summary>A cell that may be empty. Missing: null.</summary>
    /// <param name="cell">The cell.</param>
    public static string? OrNull(string cell) => cell.Length > 0 ? cell : null;

    /// <summary>A figure. Missing: null, the cell is empty.</summary>
    /// <param name="cell">The cell; a decimal number with a point.</param>
    /// <exception cref="FormatException">It is something else.</exception>
    public static double? Number(string cell) =>
        cell.Length > 0 ? double.Parse(cell, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture) : null;

    /// <summary>A member of an enumeration, as every table writes them: in lower case with hyphens. Missing: null, the cell is empty.</summary>
    /// <typeparam name="T">The enumeration.</typeparam>
    /// <param name="cell">The cell.</param>
    /// <exception cref="ArgumentException">It is no member.</exception>
    public static T? Member<T>(string cell)
        where T : struct, Enum =>
        cell.Length > 0 ? Enum.Parse<T>(cell.Replace("-", "", StringComparison.Ordinal), ignoreCase: true) : null;

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
