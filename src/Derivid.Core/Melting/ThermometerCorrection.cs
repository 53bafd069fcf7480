using Derivid.Core.Compounds;

namespace Derivid.Core.Melting;

/// <summary>Turns what a thermometer showed into what it should have shown.</summary>
/// <remarks>
/// The stem correction comes first, on readings and on the calibration points alike; then the calibration, whose
/// correction is linear between neighbouring standards and constant outside them. Thread safety: immutable.
/// </remarks>
public sealed class ThermometerCorrection
{
    /// <summary>Largest correction a calibration may ask for. Units: °C. A larger one means a broken thermometer.</summary>
    public const double LargestCelsius = 20;

    /// <summary>How far outside its standards a calibration is trusted. Units: °C. Chosen.</summary>
    private const double ReachCelsius = 40;

    private readonly CalibrationPoint[] _points;

    /// <summary>Takes a calibration and a stem correction.</summary>
    /// <param name="points">Standards melted. Shape: any order, readings rising with accepted temperatures; may be empty.</param>
    /// <param name="stem">Exposed thread. Missing: null, an electronic or totally immersed thermometer.</param>
    /// <exception cref="ImplausibleThermometerException">
    /// Two standards read alike or in the wrong order, or one is off by more than <see cref="LargestCelsius"/>.
    /// </exception>
    public ThermometerCorrection(IEnumerable<CalibrationPoint> points, StemCorrection? stem = null)
    {
        ArgumentNullException.ThrowIfNull(points);
        Stem = stem;
        _points = [.. points
            .Select(p => p with { ReadCelsius = stem?.Apply(p.ReadCelsius) ?? p.ReadCelsius })
            .OrderBy(p => p.AcceptedCelsius)];

        foreach (var point in _points)
        {
            if (!(Math.Abs(point.AcceptedCelsius - point.ReadCelsius) <= LargestCelsius))
            {
                throw new ImplausibleThermometerException(FormattableString.Invariant(
                    $"A standard of {point.AcceptedCelsius} °C read as {point.ReadCelsius:0.##} °C is off by more than {LargestCelsius} °C; check the reading."));
            }
        }

        for (var i = 1; i < _points.Length; i++)
        {
            if (_points[i].ReadCelsius <= _points[i - 1].ReadCelsius)
            {
                throw new ImplausibleThermometerException("Standards must read higher the higher they melt.");
            }
        }
    }

    /// <summary>No correction.</summary>
    public static ThermometerCorrection None { get; } = new([]);

    /// <summary>The exposed thread. Missing: null.</summary>
    public StemCorrection? Stem { get; }

    /// <summary>Standards behind the calibration, coolest first. Readings carry the stem correction already.</summary>
    public IReadOnlyList<CalibrationPoint> Points => _points;

    /// <summary>Whether a reading would be changed at all.</summary>
    public bool IsNone => Stem is null && _points.Length == 0;

    /// <summary>Whether standards vouch for a temperature: it lies among them, or not far outside.</summary>
    /// <param name="celsius">The temperature. Units: °C.</param>
    public bool IsCheckedAt(double celsius) => _points.Length > 0
        && celsius >= _points[0].AcceptedCelsius - ReachCelsius
        && celsius <= _points[^1].AcceptedCelsius + ReachCelsius;

    /// <summary>Corrects one reading.</summary>
    /// <param name="readCelsius">The reading. Units: °C.</param>
    /// <returns>The corrected temperature. Units: °C.</returns>
    public double Apply(double readCelsius)
    {
        var value = Stem?.Apply(readCelsius) ?? readCelsius;
        return value + CalibrationAt(value);
    }

    /// <summary>Corrects both ends of a range.</summary>
    /// <param name="range">The range as read.</param>
    /// <returns>The corrected range, its ends kept in order and in bounds.</returns>
    public MeltingRange Apply(MeltingRange range)
    {
        if (IsNone)
        {
            return range;
        }

        var clearPoint = Math.Clamp(
            Apply(range.ClearPointCelsius), MeltingRange.LowestCelsius, MeltingRange.HighestCelsius);
        var onset = Math.Clamp(Apply(range.OnsetCelsius), MeltingRange.LowestCelsius, clearPoint);
        return new MeltingRange(onset, clearPoint, range.Decomposes);
    }

    private double CalibrationAt(double readCelsius)
    {
        if (_points.Length == 0)
        {
            return 0;
        }

        if (readCelsius <= _points[0].ReadCelsius)
        {
            return _points[0].AcceptedCelsius - _points[0].ReadCelsius;
        }

        for (var i = 1; i < _points.Length; i++)
        {
            var (below, above) = (_points[i - 1], _points[i]);
            if (readCelsius <= above.ReadCelsius)
            {
                var share = (readCelsius - below.ReadCelsius) / (above.ReadCelsius - below.ReadCelsius);
                return double.Lerp(
                    below.AcceptedCelsius - below.ReadCelsius, above.AcceptedCelsius - above.ReadCelsius, share);
            }
        }

        return _points[^1].AcceptedCelsius - _points[^1].ReadCelsius;
    }
}

/// <summary>No thermometer reads like this; the message is for whoever read it.</summary>
/// <param name="message">What can't be, and what to look at.</param>
public sealed class ImplausibleThermometerException(string message) : Exception(message);

/// <summary>One standard melted with the thermometer in question.</summary>
/// <param name="ReadCelsius">What the thermometer showed at the clear point. Units: °C.</param>
/// <param name="AcceptedCelsius">The standard's accepted clear point. Units: °C.</param>
public readonly record struct CalibrationPoint(double ReadCelsius, double AcceptedCelsius);

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

    /// <summary>The longest thread taken. Units: °C of scale.</summary>
    public const double LongestExposedCelsius = 400;

    /// <summary>The lowest mean temperature of a thread taken. Units: °C.</summary>
    public const double LowestStemCelsius = -20;

    /// <summary>The highest. Units: °C.</summary>
    public const double HighestStemCelsius = 200;

    /// <summary>Takes the exposed thread.</summary>
    /// <param name="exposedCelsius">Length of exposed thread. Units: °C of scale. Bounds: 0 to 400.</param>
    /// <param name="stemCelsius">Mean temperature of the exposed thread. Units: °C. Bounds: −20 to 200.</param>
    /// <exception cref="ArgumentOutOfRangeException">A figure is NaN or out of bounds.</exception>
    public StemCorrection(double exposedCelsius, double stemCelsius)
    {
        if (!(exposedCelsius is >= 0 and <= LongestExposedCelsius))
        {
            throw new ArgumentOutOfRangeException(
                nameof(exposedCelsius), exposedCelsius,
                FormattableString.Invariant($"Must lie from 0 to {LongestExposedCelsius} degrees of scale."));
        }

        if (!(stemCelsius is >= LowestStemCelsius and <= HighestStemCelsius))
        {
            throw new ArgumentOutOfRangeException(
                nameof(stemCelsius), stemCelsius,
                FormattableString.Invariant($"Must lie from {LowestStemCelsius} to {HighestStemCelsius} °C."));
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

/// <summary>A substance whose melting point calibrates a thermometer.</summary>
/// <param name="Key">Stable key; unique in a table.</param>
/// <param name="Name">The name shown.</param>
/// <param name="CasNumber">CAS Registry Number.</param>
/// <param name="ClearPointCelsius">Accepted temperature at which the last crystal goes. Units: °C.</param>
/// <param name="SourceKey">The source that gives the temperature.</param>
/// <param name="Verification">How far the value was followed back.</param>
/// <param name="Note">A curator's remark. Missing: null.</param>
public sealed record MeltingPointStandard(
    string Key,
    string Name,
    string CasNumber,
    double ClearPointCelsius,
    string SourceKey,
    Verification Verification,
    string? Note);
