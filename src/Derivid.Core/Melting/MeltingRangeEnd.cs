using System.Globalization;

namespace Derivid.Core.Melting;

/// <summary>One end of a range as written, with its sign.</summary>
internal readonly struct MeltingRangeEnd(MeltingRangeToken number, MeltingRangeToken? sign)
{
    /// <summary>Absolute zero. Units: °C. Source: the definition of the Celsius temperature (SI brochure, 9th ed.).</summary>
    public const decimal AbsoluteZeroCelsius = -273.15m;

    private const decimal LongestFilledSpan = 20;

    /// <summary>The figure without its sign.</summary>
    public string Written => number.Text;

    /// <summary>Whether a sign was written.</summary>
    public bool IsSigned => sign is not null;

    /// <summary>Whether the sign was a minus.</summary>
    public bool IsNegative => sign?.Kind == MeltingRangeTokenKind.Dash;

    /// <summary>Whether white space stands before the figure.</summary>
    public bool SpaceBefore => number.SpaceBefore;

    /// <summary>Its value in the unit written.</summary>
    public decimal Value =>
        decimal.Parse(Written, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture) * (IsNegative ? -1 : 1);

    private int WholeDigits => Written.IndexOf('.', StringComparison.Ordinal) is >= 0 and var point ? point : Written.Length;

    /// <summary>Reads it as the abbreviated upper end of a range: the 8 of "237-8" is 238.</summary>
    /// <param name="low">The lower end.</param>
    /// <returns>
    /// The value. Missing: null when it has as many digits as the lower end, or would span over 20 degrees and so is
    /// likelier a reversed range.
    /// </returns>
    public decimal? FilledUpFrom(MeltingRangeEnd low)
    {
        var missing = low.WholeDigits - WholeDigits;
        if (missing <= 0 || WholeDigits == 0 || IsSigned || low.IsNegative)
        {
            return null;
        }

        var filled = decimal.Parse(
            low.Written[..missing] + Written, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture);
        return filled >= low.Value && filled - low.Value <= LongestFilledSpan ? filled : null;
    }

    /// <summary>Converts a figure.</summary>
    /// <param name="value">The figure in <paramref name="unit"/>.</param>
    /// <param name="unit">Its unit. Missing: null, °C.</param>
    /// <returns>The temperature. Units: °C.</returns>
    public static decimal ToCelsius(decimal value, MeltingRangeWord? unit) => unit switch
    {
        MeltingRangeWord.Kelvin => value + AbsoluteZeroCelsius,
        MeltingRangeWord.Fahrenheit => (value - 32) / 1.8m,
        _ => value,
    };

    /// <summary>Rounds once, to the nearest double; the language's own conversion may be a place off.</summary>
    /// <param name="celsius">The temperature. Units: °C.</param>
    public static double ToDouble(decimal celsius) =>
        double.Parse(celsius.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture) + 0.0;

    /// <summary>The unit's sign.</summary>
    /// <param name="unit">The unit. Missing: null, °C.</param>
    public static string UnitName(MeltingRangeWord? unit) => unit switch
    {
        MeltingRangeWord.Kelvin => "K",
        MeltingRangeWord.Fahrenheit => "°F",
        _ => "°C",
    };
}
