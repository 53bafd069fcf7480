using Derivid.Contracts;

namespace Derivid.Page.Teaching;

/// <summary>A roster as somebody pasted it; the service reads it, and says what is wrong with it.</summary>
internal sealed class RosterText
{
    private const char Quote = '"';

    private readonly char _separator;
    private readonly List<IReadOnlyList<string>> _rows;

    /// <summary>Parts it into cells.</summary>
    /// <param name="text">Shape: lines parted as the first has it, which may name the columns; else by tabs, commas or semicolons, whichever of them it has.</param>
    /// <param name="studentColumn">The column of the identifiers, which the first line then names. Missing: null, "student".</param>
    public RosterText(string text, string? studentColumn = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        var lines = text.Replace("\r\n", "\n", StringComparison.Ordinal).Replace('\r', '\n');
        var named = lines.TrimStart('\uFEFF', ' ', '\n');
        var first = named.Split('\n')[0];
        HasHeader = first.Split(',', ';', '\t').Any(cell => IsColumn(cell, studentColumn ?? RosterStudent.Columns[0]));
        _separator = HasHeader ? ",;\t".MaxBy(separator => first.Count(letter => letter == separator))
            : lines.Contains('\t', StringComparison.Ordinal) ? '\t'
            : lines.Contains(',', StringComparison.Ordinal) ? ','
            : ';';
        var rows = Parted(HasHeader ? named : lines, _separator).ToList();

        // As many columns as the longest line has.
        _rows = HasHeader ? rows : [[.. RosterStudent.Columns.Take(rows.Max(row => row.Count))], .. rows];
    }

    /// <summary>Whether its first line names the columns.</summary>
    public bool HasHeader { get; }

    /// <summary>The same as the service takes it: under the names of the columns, lines filled up with the empty cells left out at their end.</summary>
    public string Csv => string.Join('\n', _rows.Select(row =>
        string.Join(_separator, row) + new string(_separator, row.All(string.IsNullOrWhiteSpace) ? 0 : Math.Max(0, _rows[0].Count - row.Count))));

    private static bool IsColumn(string cell, string column) => Unquoted(cell).Equals(column, StringComparison.OrdinalIgnoreCase);

    private static string Unquoted(string cell) =>
        cell.Trim() is [Quote, .. var content, Quote] ? content.Replace("\"\"", "\"", StringComparison.Ordinal).Trim() : cell.Trim();

    // RFC 4180: in a cell that begins with a quotation mark, separators and line ends are content until it is closed.
    private static IEnumerable<IReadOnlyList<string>> Parted(string text, char separator)
    {
        var row = new List<string>();
        var (start, isQuoted) = (0, false);
        for (var at = 0; at < text.Length; at++)
        {
            if (text[at] == Quote && text[start] == Quote)
            {
                isQuoted = !isQuoted;
            }
            else if (!isQuoted && (text[at] == separator || text[at] == '\n'))
            {
                row.Add(text[start..at]);
                start = at + 1;
                if (text[at] == '\n')
                {
                    yield return row;
                    row = [];
                }
            }
        }

        row.Add(text[start..]);
        yield return row;
    }
}
