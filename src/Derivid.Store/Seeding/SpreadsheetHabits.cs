using System.Globalization;
using Derivid.Core;
using Derivid.Core.Curation;

namespace Derivid.Store.Seeding;

/// <summary>What spreadsheet programs do to cells, and how it is undone.</summary>
/// <remarks>
/// A cell that begins with =, +, -, @, a tab or a carriage return is run as a formula by some of them. On the way out
/// such a text gets an apostrophe in front, and so does one that begins with an apostrophe; on the way in one is taken
/// off again, so that a file written here reads back to the letter. Negative numbers are left alone, being no formulas.
/// </remarks>
public static class SpreadsheetHabits
{
    private const string Formula = "=+-@\t\r'";
    private const string Delimiters = ",;\t";

    /// <summary>What parts the cells of a file: a comma, a semicolon or a tab, whichever its header has most of.</summary>
    /// <param name="header">The first line.</param>
    public static char DelimiterOf(string header) => Delimiters.MaxBy(letter => header.Count(each => each == letter));

    /// <summary>Takes the danger out of a cell about to be written.</summary>
    /// <param name="cell">The cell.</param>
    public static string Neutralised(string cell)
    {
        ArgumentNullException.ThrowIfNull(cell);
        return cell.Length > 0 && Formula.Contains(cell[0], StringComparison.Ordinal) && !IsNegative(cell) ? "'" + cell : cell;
    }

    /// <summary>Undoes <see cref="Neutralised"/> and drops spaces at either end, the no-break space too.</summary>
    /// <param name="cell">The cell as read.</param>
    public static string Cleaned(string cell)
    {
        ArgumentNullException.ThrowIfNull(cell);
        var trimmed = cell.Trim();
        return trimmed.Length > 1 && trimmed[0] == '\'' && Formula.Contains(trimmed[1], StringComparison.Ordinal)
            ? trimmed[1..]
            : trimmed;
    }

    /// <summary>A cell as the columns of its content are written here.</summary>
    /// <param name="content">What the column holds.</param>
    /// <param name="cell">The cell, cleaned.</param>
    internal static string Undone(CellContent content, string cell) => content switch
    {
        CellContent.Number => Figure.Plain(cell),
        CellContent.Word => Word(cell),
        CellContent.Texts => OfEach(cell, part => part),
        CellContent.Numbers => OfEach(cell, Figure.Plain),
        _ => cell,
    };

    private static string OfEach(string cell, Func<string, string> written) =>
        string.Join(';', cell.Split(';', StringSplitOptions.TrimEntries).Select(written));

    // A word in small letters; "dec.", the bench's mark of decomposition, and a program's TRUE are "yes".
    private static string Word(string text)
    {
        var word = text.ToLowerInvariant();
        return word switch
        {
            "dec" or "dec." or "d." or "d" or "true" or "y" => "yes",
            "false" or "n" => "no",
            _ => word,
        };
    }

    private static bool IsNegative(string cell) => cell[0] == '-' && double.TryParse(
        cell, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out _);
}
