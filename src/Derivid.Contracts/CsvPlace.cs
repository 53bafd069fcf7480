using System.Globalization;

namespace Derivid.Contracts;

/// <summary>A place in a CSV file, as <see cref="ProblemBody.Errors"/> names it: "line 12", or "line 12, bench".</summary>
/// <param name="Line">From 1, the header's line.</param>
/// <param name="Column">The column's name in the header. Missing: null, the whole line.</param>
public sealed record CsvPlace(int Line, string? Column = null)
{
    private const string Word = "line ";

    /// <summary>Reads a place.</summary>
    /// <param name="place">As it is written.</param>
    /// <returns>Missing: null, it is no place of a CSV file.</returns>
    public static CsvPlace? Parse(string place)
    {
        ArgumentNullException.ThrowIfNull(place);
        if (!place.StartsWith(Word, StringComparison.Ordinal))
        {
            return null;
        }

        var parts = place[Word.Length..].Split(", ", 2);
        return int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var line)
            ? new CsvPlace(line, parts.Length > 1 ? parts[1] : null)
            : null;
    }

    /// <inheritdoc/>
    public override string ToString() =>
        string.Create(CultureInfo.InvariantCulture, $"{Word}{Line}{(Column is null ? "" : ", " + Column)}");
}
