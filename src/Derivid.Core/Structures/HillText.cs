using System.Globalization;

namespace Derivid.Core.Structures;

/// <summary>Reads the text of a molecular formula.</summary>
internal static class HillText
{
    private const int MaximumLength = 200;

    /// <summary>Counts by symbol, or the sentence that says what is wrong.</summary>
    public static string? Read(string text, int maximumCount, out Dictionary<string, long> counts)
    {
        counts = new Dictionary<string, long>(StringComparer.Ordinal);
        if (text.Length is 0 or > MaximumLength)
        {
            return $"A molecular formula has 1 to {MaximumLength} characters, not {text.Length}.";
        }

        int at = 0;
        while (at < text.Length)
        {
            string? error = ReadElement(text, maximumCount, ref at, counts);
            if (error is not null)
            {
                return error;
            }
        }

        return null;
    }

    private static string? ReadElement(string text, int maximumCount, ref int at, Dictionary<string, long> counts)
    {
        int start = at;
        if (!char.IsAsciiLetterUpper(text[at]))
        {
            return $"\"{text[at]}\" at character {at + 1} of the molecular formula does not start an element symbol; "
                + "allowed are element symbols, each once, each followed by its count unless that is 1.";
        }

        at++;
        while (at < text.Length && char.IsAsciiLetterLower(text[at]))
        {
            at++;
        }

        string symbol = text[start..at];
        if (StandardAtomicWeights.Of(symbol) is null)
        {
            return $"\"{symbol}\" at character {start + 1} of the molecular formula is no element with a standard "
                + "atomic weight.";
        }

        int digits = at;
        while (at < text.Length && char.IsAsciiDigit(text[at]))
        {
            at++;
        }

        if (!TryCount(text[digits..at], maximumCount, out int count))
        {
            return $"\"{text[digits..at]}\" at character {digits + 1} of the molecular formula is no count; allowed "
                + $"are 2 to {maximumCount} without leading zeros, and no figure for 1.";
        }

        return counts.TryAdd(symbol, count)
            ? null
            : $"{symbol} comes again at character {start + 1} of the molecular formula; name each element once.";
    }

    private static bool TryCount(string digits, int maximumCount, out int count)
    {
        count = 1;
        return digits.Length == 0
            || (digits[0] != '0'
                && int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out count)
                && count >= 2
                && count <= maximumCount);
    }
}
