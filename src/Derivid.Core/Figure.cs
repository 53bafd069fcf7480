using System.Globalization;

namespace Derivid.Core;

/// <summary>Figures as people read them, in sentences, on the page and at a terminal: no more digits than they are worth.</summary>
public static class Figure
{
    private const char Minus = '−';

    /// <summary>A figure with so many decimals at most, a true minus sign, and no sign where it comes to nothing.</summary>
    /// <param name="value">The figure.</param>
    /// <param name="decimals">Most decimals.</param>
    public static string Text(double value, int decimals)
    {
        var text = value.ToString("0." + new string('#', decimals), CultureInfo.InvariantCulture);
        return text == "-0" ? "0" : text.Replace('-', Minus);
    }

    /// <summary>The same with a plus before what is above nothing.</summary>
    /// <inheritdoc cref="Text"/>
    public static string WithSign(double value, int decimals) =>
        Text(value, decimals) is var text && text != "0" && text[0] != Minus ? "+" + text : text;

    /// <summary>A span without its unit, such as "187–190" or "−57.1 to −56.2"; one figure where both ends read the same.</summary>
    /// <param name="low">Lower end.</param>
    /// <param name="high">Upper end.</param>
    /// <param name="decimals">Most decimals.</param>
    public static string Span(double low, double high, int decimals)
    {
        // A minus behind a dash would read as another dash.
        var (first, last) = (Text(low, decimals), Text(high, decimals));
        return first == last ? first : first[0] == Minus ? $"{first} to {last}" : $"{first}–{last}";
    }

    /// <summary>A temperature, to a tenth at most, without its unit.</summary>
    /// <param name="celsius">Units: °C.</param>
    public static string Degrees(double celsius) => Text(celsius, decimals: 1);

    /// <summary>A range of temperatures, such as "126 °C", "187–190 °C" or "237–238 °C dec.".</summary>
    /// <param name="low">Lower end. Units: °C.</param>
    /// <param name="high">Upper end. Units: °C.</param>
    /// <param name="decomposes">Whether it melts with decomposition.</param>
    public static string Range(double low, double high, bool decomposes = false) =>
        $"{Span(low, high, decimals: 1)} °C{(decomposes ? " dec." : "")}";

    /// <summary>Points, such as "3.5 of 4"; of a deduction, of which there is no most, only what was taken.</summary>
    /// <param name="points">The points.</param>
    /// <param name="most">The most there are. 0: there is no most.</param>
    public static string Points(double points, double most) => Text(points, 2) + (most > 0 ? $" of {Text(most, 2)}" : "");

    /// <summary>A probability in per cent, never a certainty.</summary>
    /// <param name="probability">Bounds: 0 to 1.</param>
    public static string Percent(double probability) => probability switch
    {
        < 0.001 => "under 0.1 %",
        > 0.999 => "over 99.9 %",
        < 0.0995 or > 0.995 => Text(100 * probability, 1) + " %",
        _ => Text(100 * probability, 0) + " %",
    };

    /// <summary>A number of things, with the right form of their word.</summary>
    /// <param name="count">How many.</param>
    /// <param name="one">The word for one.</param>
    /// <param name="many">The word for any other number. Missing: the same with an s.</param>
    public static string Count(int count, string one, string? many = null) =>
        $"{count.ToString("N0", CultureInfo.InvariantCulture)} {(count == 1 ? one : many ?? one + "s")}";
}
