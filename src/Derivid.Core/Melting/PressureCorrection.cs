using Derivid.Core.Observations;

namespace Derivid.Core.Melting;

/// <summary>Brings a boiling point taken at any pressure from 0.1 to 110 kPa to standard pressure, 101.325 kPa.</summary>
/// <remarks>
/// <para>
/// Grain's equation (C. F. Grain in Lyman, Reehl and Rosenblatt, Handbook of Chemical Property Estimation Methods,
/// McGraw-Hill 1982, chapter 14), which gives a vapour pressure from the normal boiling point Tb alone:
/// ln P = K (8.75 + R ln Tb) / (ΔZ R) · [1 − (3 − 2θ)^m / θ − 2m (3 − 2θ)^(m − 1) ln θ], θ = T/Tb, P in atm, T in K. It is
/// solved for Tb. The first factor with ΔZ = 0.97 and R = 1.987 cal/(mol K), and the form of the bracket, were read in two
/// public programs that use them; m = 0.19 for liquids and K = 1.06 for aldehydes and ketones are recalled.
/// </para>
/// <para>
/// Measured on 79 aldehydes and ketones of the table (<c>tests/reference-values/boiling-points/vapour-pressures.csv</c>)
/// beside Lyman's Antoine method, the modified Grain and Mackay methods and the rules of Hass and Newton and of Crafts, it
/// has the least bias: at most 1.2 °C at any pressure. Crafts's rule, 0.00012 (760 − p) T, does as well above 90 kPa but is 3 °C
/// low at 60 kPa, so one equation serves from end to end and there is no seam.
/// </para>
/// </remarks>
public static class PressureCorrection
{
    private const double StandardKilopascals = BoilingPointReading.StandardPressureKilopascals;
    private const double GasConstant = 1.987;
    private const double Compressibility = 0.97;
    private const double Association = 1.06;
    private const double Exponent = 0.19;

    private const double ErrorPerLogarithm = 2.1;
    private const double ErrorLevelling = 0.13;

    /// <summary>Corrects one boiling temperature.</summary>
    /// <param name="readCelsius">The boiling temperature. Units: °C.</param>
    /// <param name="pressureKilopascals">The pressure. Units: kPa. Bounds: 0.1 to 110.</param>
    /// <returns>The boiling temperature at 101.325 kPa; rises with the reading, falls with the pressure. Units: °C.</returns>
    public static double ToStandard(double readCelsius, double pressureKilopascals)
    {
        var kelvin = Kelvin.Of(readCelsius);
        var logPressure = Math.Log(pressureKilopascals / StandardKilopascals);

        // At 110 kPa the normal boiling point is 1 % lower; at 0.1 kPa it is below twice the reading.
        var (low, high) = (0.95 * kelvin, 2 * kelvin);
        while (true)
        {
            var middle = (low + high) / 2;
            if (middle <= low || middle >= high)
            {
                return middle - Kelvin.AtZeroCelsius;
            }

            (low, high) = LogVapourPressure(kelvin, middle) > logPressure ? (middle, high) : (low, middle);
        }
    }

    /// <summary>Corrects both ends of a boiling range.</summary>
    /// <param name="range">The range as read.</param>
    /// <param name="pressureKilopascals">The pressure. Units: kPa. Bounds: 0.1 to 110.</param>
    /// <returns>The range at 101.325 kPa.</returns>
    public static MeltingRange ToStandard(MeltingRange range, double pressureKilopascals) =>
        new(
            Math.Clamp(
                ToStandard(range.OnsetCelsius, pressureKilopascals),
                MeltingRange.LowestCelsius,
                MeltingRange.HighestCelsius),
            Math.Clamp(
                ToStandard(range.ClearPointCelsius, pressureKilopascals),
                MeltingRange.LowestCelsius,
                MeltingRange.HighestCelsius),
            range.Decomposes);

    /// <summary>How far the correction itself may be out.</summary>
    /// <param name="pressureKilopascals">The pressure of the reading. Units: kPa. Bounds: 0.1 to 110.</param>
    /// <returns>
    /// One standard deviation of the corrected temperature: 2.1 d / (1 + 0.13 d) with d = |ln(P / 101.325 kPa)|, nothing at
    /// standard pressure, 1 °C at 60 kPa, 4 at 10, 6 at 1 and 8 at 0.1. Units: °C.
    /// </returns>
    /// <remarks>
    /// A curve through the root mean squares of what <see cref="ToStandard(double, double)"/> makes of published vapour
    /// pressures, less the normal boiling point: 77 aldehydes and ketones, of which 48 are known down to 0.2 kPa. The two
    /// carboxylic acids among the 79 are not in it: their hydrogen bonds are beyond an equation that knows no structure, and
    /// at 1.3 kPa 4-oxopentanoic acid comes out 36 °C high. Two thirds of the compounds lie within 0.75 of it.
    /// </remarks>
    public static double ErrorCelsius(double pressureKilopascals)
    {
        var distance = Math.Abs(Math.Log(pressureKilopascals / StandardKilopascals));
        return ErrorPerLogarithm * distance / (1 + (ErrorLevelling * distance));
    }

    /// <summary>Natural logarithm of the vapour pressure in atmospheres at a temperature, from the normal boiling point.</summary>
    private static double LogVapourPressure(double kelvin, double normalKelvin)
    {
        var ratio = kelvin / normalKelvin;
        var rest = 3 - (2 * ratio);
        return Association * (8.75 + (GasConstant * Math.Log(normalKelvin))) / (Compressibility * GasConstant)
            * (1 - (Math.Pow(rest, Exponent) / ratio)
                - (2 * Exponent * Math.Pow(rest, Exponent - 1) * Math.Log(ratio)));
    }
}
