using Derivid.Core.Melting;

namespace Derivid.Core.Ranking;

/// <summary>How finely a temperature was read, as thermometer and range tell it.</summary>
/// <remarks>A sharp range on a calibrated thermometer is read to half a degree; a wide one has no clear point to speak of.</remarks>
public sealed record CareSettings
{
    private const double DaysOfYear = 365.25;

    /// <summary>Standard deviation of a thermometer that nobody checked. Units: °C.</summary>
    public required double UncheckedCelsius { get; init; }

    /// <summary>The same lately checked, at the temperature of a standard. Units: °C.</summary>
    public required double CalibratedCelsius { get; init; }

    /// <summary>Growth of a calibrated thermometer's error with the distance from its nearest standard. Units: °C per °C.</summary>
    public required double AwayCelsius { get; init; }

    /// <summary>Growth of it with the time since the standards were melted. Units: °C per year.</summary>
    public required double YearlyCelsius { get; init; }

    /// <summary>Growth of the reader's error with the width read. Units: °C per °C.</summary>
    public required double PerSpanCelsius { get; init; }

    /// <summary>Width taken where one figure was given. Units: °C.</summary>
    public required double UnstatedSpanCelsius { get; init; }

    /// <summary>Standard deviation of what a thermometer shows, corrected.</summary>
    /// <param name="check">How well standards vouch for it. Missing: null, it has none.</param>
    /// <returns>Units: °C. Bounds: at most <see cref="UncheckedCelsius"/>, since to have looked once is no harm.</returns>
    public double ThermometerCelsius(ThermometerCheck? check)
    {
        if (check is not { } known)
        {
            return UncheckedCelsius;
        }

        var (away, aged) = (AwayCelsius * known.DistanceCelsius, YearlyCelsius * known.Days / DaysOfYear);
        return Math.Min(UncheckedCelsius, Math.Sqrt((CalibratedCelsius * CalibratedCelsius) + (away * away) + (aged * aged)));
    }

    /// <summary>Standard deviation of a reading.</summary>
    /// <param name="readerCelsius">The reader's error on a sharp range. Units: °C.</param>
    /// <param name="check">How well standards vouch for the thermometer there. Missing: null, it has none.</param>
    /// <param name="spanCelsius">Width read. Units: °C. Missing: null, one figure was given.</param>
    /// <returns>Units: °C.</returns>
    public double ReadingCelsius(double readerCelsius, ThermometerCheck? check, double? spanCelsius)
    {
        var thermometer = ThermometerCelsius(check);
        var reader = ReaderCelsius(readerCelsius, spanCelsius);
        return Math.Sqrt((thermometer * thermometer) + (reader * reader));
    }

    /// <summary>Standard deviation of a reading beside another on the same thermometer, whose error both share.</summary>
    /// <param name="readerCelsius">The reader's error on a sharp range. Units: °C.</param>
    /// <param name="spanCelsius">Width read. Units: °C. Missing: null, one figure was given.</param>
    /// <returns>Units: °C.</returns>
    public double ReaderCelsius(double readerCelsius, double? spanCelsius) =>
        readerCelsius + (PerSpanCelsius * (spanCelsius ?? UnstatedSpanCelsius));
}
