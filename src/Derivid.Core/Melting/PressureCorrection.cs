namespace Derivid.Core.Melting;

/// <summary>Brings a boiling point taken near one atmosphere to standard pressure.</summary>
/// <remarks>
/// Crafts's rule: Δt = 0.00012·(760 − p)·(273 + t), p in mmHg and t in °C; the factor is the customary one for liquids
/// that do not associate (recalled; about 0.00010 for water and alcohols). Within 60 to 110 kPa the two factors differ
/// by under 2 °C.
/// </remarks>
public static class PressureCorrection
{
    private const double PerMillimetre = 0.00012;
    private const double MillimetresPerKilopascal = 7.50062;
    private const double StandardMillimetres = 760;

    /// <summary>Corrects one boiling temperature.</summary>
    /// <param name="readCelsius">The boiling temperature. Units: °C.</param>
    /// <param name="pressureKilopascals">The pressure. Units: kPa.</param>
    /// <returns>The boiling temperature at 101.325 kPa. Units: °C.</returns>
    public static double ToStandard(double readCelsius, double pressureKilopascals) =>
        readCelsius + (PerMillimetre
            * (StandardMillimetres - (pressureKilopascals * MillimetresPerKilopascal))
            * (273.15 + readCelsius));

    /// <summary>Corrects both ends of a boiling range.</summary>
    /// <param name="range">The range as read.</param>
    /// <param name="pressureKilopascals">The pressure. Units: kPa.</param>
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
}
