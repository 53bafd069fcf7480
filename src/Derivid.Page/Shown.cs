using System.Globalization;

namespace Derivid.Page;

/// <summary>Figures and dates as a reader sees them: no more digits than they are worth.</summary>
public static class Shown
{
    /// <summary>A temperature: whole degrees, or a tenth where there is one.</summary>
    /// <param name="celsius">Units: °C.</param>
    public static string Degrees(double celsius) => Number(celsius, 1);

    /// <summary>A range, or one figure where both ends are the same.</summary>
    /// <param name="low">Lower end. Units: °C.</param>
    /// <param name="high">Upper end. Units: °C.</param>
    /// <param name="decomposes">Whether it melts with decomposition.</param>
    public static string Range(double low, double high, bool decomposes = false)
    {
        var (first, last) = (Degrees(low), Degrees(high));
        return $"{(first == last ? first : low < 0 ? $"{first} to {last}" : $"{first}–{last}")} °C{(decomposes ? " dec." : "")}";
    }

    /// <summary>A probability in per cent, never a certainty.</summary>
    /// <param name="probability">Bounds: 0 to 1.</param>
    public static string Percent(double probability) => probability switch
    {
        < 0.001 => "under 0.1 %",
        < 0.0995 => Number(100 * probability, 1) + " %",
        > 0.999 => "over 99.9 %",
        > 0.995 => Number(100 * probability, 1) + " %",
        _ => Number(100 * probability, 0) + " %",
    };

    /// <summary>A number with at most so many decimals, and a true minus.</summary>
    /// <param name="value">The number.</param>
    /// <param name="decimals">Most decimals.</param>
    public static string Number(double value, int decimals)
    {
        var text = Math.Round(value, decimals, MidpointRounding.AwayFromZero).ToString("0." + new string('#', decimals), CultureInfo.InvariantCulture);
        return text == "-0" ? "0" : text.Replace('-', '−');
    }

    /// <summary>A day.</summary>
    /// <param name="instant">Units: UTC.</param>
    public static string Date(DateTime instant) => instant.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>A moment, to the minute.</summary>
    /// <param name="instant">Units: UTC.</param>
    public static string Moment(DateTime instant) => instant.ToString("d MMMM yyyy, HH:mm", CultureInfo.InvariantCulture) + " UTC";

    /// <summary>A number of things, with the right form of their word.</summary>
    /// <param name="count">How many.</param>
    /// <param name="one">The word for one.</param>
    /// <param name="many">The word for any other number. Missing: the same with an s.</param>
    public static string Count(int count, string one, string? many = null) =>
        $"{count.ToString("N0", CultureInfo.InvariantCulture)} {(count == 1 ? one : many ?? one + "s")}";

    /// <summary>A text with its first letter a capital.</summary>
    /// <param name="text">The text; not empty.</param>
    public static string Capital(string text)
    {
        ArgumentException.ThrowIfNullOrEmpty(text);
        return char.ToUpperInvariant(text[0]) + text[1..];
    }

    /// <summary>A name of the service's in words: "parent-constants" and "lowCelsius" become "parent constants" and "low celsius".</summary>
    /// <param name="name">A list, a member of a record or of an enumeration.</param>
    public static string Spaced(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return string.Concat(name.Select(c => c == '-' ? " " : char.IsUpper(c) ? " " + char.ToLowerInvariant(c) : c.ToString())).Trim();
    }
}
