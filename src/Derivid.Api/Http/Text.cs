using System.Buffers;
using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Derivid.Api.Http;

/// <summary>How a sender's own words are shown back.</summary>
public static partial class Text
{
    private const int LongestShown = 60;

    private static readonly SearchValues<char> Separators = SearchValues.Create("\u2028\u2029");

    /// <summary>Cuts long text, never through a surrogate pair, and hides the secret of a key sent in a wrong place.</summary>
    /// <param name="text">The text.</param>
    /// <param name="longest">Characters kept.</param>
    public static string Shortened(string text, int longest = LongestShown)
    {
        ArgumentNullException.ThrowIfNull(text);
        text = Secret().Replace(text, "…");
        if (text.Length <= longest)
        {
            return text;
        }

        var end = char.IsHighSurrogate(text[longest - 1]) ? longest - 1 : longest;
        return text[..end] + "…";
    }

    /// <summary>Shows text in quotation marks, shortened, anything unprintable left out.</summary>
    /// <param name="text">The text.</param>
    public static string Quoted(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var shown = new StringBuilder("\"");
        foreach (var rune in Shortened(text).EnumerateRunes())
        {
            if (IsShown(rune))
            {
                shown.Append(rune);
            }
        }

        return shown.Append('"').ToString();
    }

    /// <summary>Whether text holds a character that has no place in a single line.</summary>
    /// <param name="text">The text.</param>
    public static bool HasControlCharacter(string text) =>
        text.AsSpan().ContainsAnyInRange('\0', '\u001f') || text.AsSpan().ContainsAny(Separators)
        || text.AsSpan().ContainsAnyInRange('\u007f', '\u009f');

    private static bool IsShown(Rune rune) => Rune.GetUnicodeCategory(rune) is not (
        UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.PrivateUse or UnicodeCategory.Surrogate
        or UnicodeCategory.OtherNotAssigned or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator);

    // An underscore may come escaped, as addresses are.
    [GeneratedRegex("(?<=dvd(?:_|%5F)[0-9a-f]{16}(?:_|%5F))[0-9a-f]+", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Secret();
}
