namespace Derivid.Core.Ranking;

/// <summary>How finely a temperature was read, as thermometer and range tell it.</summary>
/// <remarks>A sharp range on a calibrated thermometer is read to half a degree; a wide one has no clear point to speak of.</remarks>
public sealed record CareSettings
{
    /// <summary>Standard deviation of a thermometer that nobody checked. Units: °C.</summary>
    public required double UncheckedCelsius { get; init; }

    /// <summary>The same after a calibration with standards. Units: °C.</summary>
    public required double CalibratedCelsius { get; init; }

    /// <summary>Growth of the reader's error with the width read. Units: °C per °C.</summary>
    public required double PerSpanCelsius { get; init; }

    /// <summary>Width taken where one figure was given. Units: °C.</summary>
    public required double UnstatedSpanCelsius { get; init; }

    /// <summary>Standard deviation of a reading.</summary>
    /// <param name="readerCelsius">The reader's error on a sharp range. Units: °C.</param>
    /// <param name="isCalibrated">Whether the thermometer was checked against standards.</param>
    /// <param name="spanCelsius">Width read. Units: °C. Missing: null, one figure was given.</param>
    /// <returns>Units: °C.</returns>
    public double ReadingCelsius(double readerCelsius, bool isCalibrated, double? spanCelsius)
    {
        var thermometer = isCalibrated ? CalibratedCelsius : UncheckedCelsius;
        var reader = readerCelsius + (PerSpanCelsius * (spanCelsius ?? UnstatedSpanCelsius));
        return Math.Sqrt((thermometer * thermometer) + (reader * reader));
    }
}
