using System.Globalization;

namespace Derivid.Core;

/// <summary>Figures as people read and type them: in sentences, on the page, at a terminal and in files.</summary>
public static class Figure
{
    private const char Minus = '−';
    private static readonly string[] Formats = ["0.", "0.#", "0.##", "0.###", "0.####", "0.#####", "0.######"];
    private const string Dashes = "\u2010\u2011\u2012\u2013\u2014\u2212";

    /// <summary>A number as people type it and spreadsheets hold it, written plainly: with a point and a hyphen for a minus.</summary>
    /// <remarks>One comma and no point: a decimal comma, never thousands.</remarks>
    /// <param name="text">As typed, without spaces at either end.</param>
    /// <returns>The text as it is, where it is nothing of that kind.</returns>
    public static string Plain(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var plain = text.Length > 0 && Dashes.Contains(text[0], StringComparison.Ordinal) ? "-" + text[1..].TrimStart() : text;
        return plain.Contains('.', StringComparison.Ordinal) || plain.IndexOf(',', StringComparison.Ordinal) != plain.LastIndexOf(',')
            ? plain
            : plain.Replace(',', '.');
    }

    /// <summary>Reads a number as people type it, with a decimal comma or a true minus too.</summary>
    /// <param name="text">As typed.</param>
    /// <returns>Missing: null, it is none.</returns>
    public static double? Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return double.TryParse(Plain(text.Trim()), NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            && double.IsFinite(number) ? number : null;
    }

    /// <summary>A figure with so many decimals at most, a true minus sign, and no sign where it comes to nothing.</summary>
    /// <param name="value">The figure.</param>
    /// <param name="decimals">Most decimals. Bounds: 0 to 6.</param>
    public static string Text(double value, int decimals)
    {
        var text = value.ToString(Formats[decimals], CultureInfo.InvariantCulture);
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

    /// <summary>A figure of a balance or a measuring cylinder: three digits that count, thousandths at most.</summary>
    /// <param name="amount">The amount.</param>
    public static string Measured(double amount) => Text(amount, MeasuredDecimals(amount));

    /// <summary>The same of a span; one figure where both ends read the same.</summary>
    /// <param name="low">Lower end.</param>
    /// <param name="high">Upper end.</param>
    public static string Measured(double low, double high) => Span(low, high, MeasuredDecimals(high));

    /// <summary>A mass as one weighs it, in g from 1 g on.</summary>
    /// <param name="milligrams">Units: mg.</param>
    public static string Mass(double milligrams) => milligrams < 1000 ? $"{Measured(milligrams)} mg" : $"{Measured(milligrams / 1000)} g";

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

    private static int MeasuredDecimals(double amount) => Math.Abs(amount) switch
    {
        >= 100 => 0,
        >= 10 => 1,
        >= 1 => 2,
        _ => 3,
    };
}
