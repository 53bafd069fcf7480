using System.Globalization;

namespace Derivid.Store.Seeding;

/// <summary>What spreadsheet programs do to cells, and how it is undone.</summary>
/// <remarks>
/// A cell that begins with =, +, -, @, a tab or a carriage return is run as a formula by some of them. On the way out
/// such a text gets an apostrophe in front, and so does one that begins with an apostrophe; on the way in one is taken
/// off again, so that a file written here reads back to the letter. Plain numbers are left alone.
/// </remarks>
public static class SpreadsheetHabits
{
    private const string Formula = "=+-@\t\r'";
    private const string Dashes = "\u2010\u2011\u2012\u2013\u2014\u2212";

    /// <summary>Takes the danger out of a cell about to be written.</summary>
    /// <param name="cell">The cell.</param>
    public static string Neutralised(string cell)
    {
        ArgumentNullException.ThrowIfNull(cell);
        return cell.Length > 0 && Formula.Contains(cell[0], StringComparison.Ordinal) && !IsNumber(cell) ? "'" + cell : cell;
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

    /// <summary>A number with a decimal comma or a typographic minus, written plainly.</summary>
    /// <param name="text">The number. One comma and no point: a decimal comma, never thousands.</param>
    internal static string Number(string text)
    {
        var plain = text.Length > 0 && Dashes.Contains(text[0], StringComparison.Ordinal) ? "-" + text[1..].TrimStart() : text;
        return plain.Contains('.', StringComparison.Ordinal) || plain.IndexOf(',', StringComparison.Ordinal) != plain.LastIndexOf(',')
            ? plain
            : plain.Replace(',', '.');
    }

    /// <summary>A word in small letters; "dec.", the bench's mark of decomposition, and a program's TRUE are "yes".</summary>
    /// <param name="text">The word.</param>
    internal static string Word(string text)
    {
        var word = text.ToLowerInvariant();
        return word switch
        {
            "dec" or "dec." or "d." or "d" or "true" or "y" => "yes",
            "false" or "n" => "no",
            _ => word,
        };
    }

    private static bool IsNumber(string cell) => double.TryParse(
        cell, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out _);
}
