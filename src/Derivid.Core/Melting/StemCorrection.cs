namespace Derivid.Core.Melting;

/// <summary>The emergent-stem correction of a liquid-in-glass thermometer read at partial immersion.</summary>
/// <remarks>
/// Adds k·n·(t − s) to a reading t, with n the length of exposed thread in degrees and s the mean temperature of that
/// thread. Not needed for electronic thermometers.
/// </remarks>
public sealed record StemCorrection
{
    /// <summary>
    /// Apparent expansion of mercury in glass. Units: 1/°C. Source: the customary 0.00016 (0.000154 to 0.00016 are in
    /// use).
    /// </summary>
    public const double MercuryPerCelsius = 0.00016;

    /// <summary>Takes the exposed thread.</summary>
    /// <param name="exposedCelsius">Length of exposed thread. Units: °C of scale. Bounds: 0 to 400.</param>
    /// <param name="stemCelsius">Mean temperature of the exposed thread. Units: °C. Bounds: −20 to 200.</param>
    /// <exception cref="ArgumentOutOfRangeException">A figure is NaN or out of bounds.</exception>
    public StemCorrection(double exposedCelsius, double stemCelsius)
    {
        if (!(exposedCelsius is >= 0 and <= 400))
        {
            throw new ArgumentOutOfRangeException(
                nameof(exposedCelsius), exposedCelsius, "Must lie from 0 to 400 degrees of scale.");
        }

        if (!(stemCelsius is >= -20 and <= 200))
        {
            throw new ArgumentOutOfRangeException(nameof(stemCelsius), stemCelsius, "Must lie from -20 to 200 °C.");
        }

        ExposedCelsius = exposedCelsius;
        StemCelsius = stemCelsius;
    }

    /// <summary>Length of exposed thread. Units: °C of scale.</summary>
    public double ExposedCelsius { get; }

    /// <summary>Mean temperature of the exposed thread. Units: °C.</summary>
    public double StemCelsius { get; }

    /// <summary>Adds the correction to a reading.</summary>
    /// <param name="readCelsius">The reading. Units: °C.</param>
    /// <returns>The corrected temperature. Units: °C.</returns>
    public double Apply(double readCelsius) =>
        readCelsius + MercuryPerCelsius * ExposedCelsius * (readCelsius - StemCelsius);
}
