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

    /// <summary>A calibration older than any that counts. Units: days.</summary>
    public const int LongestDays = 36_500;

    private readonly CalibrationPoint[] _points;

    /// <summary>Takes a calibration and a stem correction.</summary>
    /// <param name="points">Standards melted. Shape: any order, readings rising with accepted temperatures; may be empty.</param>
    /// <param name="stem">Exposed thread. Missing: null, an electronic or totally immersed thermometer.</param>
    /// <param name="daysSinceChecked">How long ago the standards were melted. Units: days. Missing: 0, lately.</param>
    /// <exception cref="ImplausibleThermometerException">
    /// Two standards read alike or in the wrong order, or one is off by more than <see cref="LargestCelsius"/>.
    /// </exception>
    public ThermometerCorrection(IEnumerable<CalibrationPoint> points, StemCorrection? stem = null, int daysSinceChecked = 0)
    {
        ArgumentNullException.ThrowIfNull(points);
        Stem = stem;
        DaysSinceChecked = daysSinceChecked;
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

    /// <summary>How long ago the standards were melted. Units: days.</summary>
    public int DaysSinceChecked { get; }

    /// <summary>Whether the standards were melted so long ago that they should be melted again: over a year. Common practice, no source.</summary>
    public bool IsOld => _points.Length > 0 && DaysSinceChecked > 365;

    /// <summary>How well standards vouch for a temperature.</summary>
    /// <param name="celsius">The temperature, corrected. Units: °C.</param>
    /// <returns>Missing: null, there are none.</returns>
    public ThermometerCheck? CheckAt(double celsius)
    {
        if (_points.Length == 0)
        {
            return null;
        }

        var distance = double.PositiveInfinity;
        foreach (var point in _points)
        {
            distance = Math.Min(distance, Math.Abs(point.AcceptedCelsius - celsius));
        }

        return new ThermometerCheck(distance, DaysSinceChecked);
    }

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

/// <summary>How well standards vouch for a temperature.</summary>
/// <param name="DistanceCelsius">How far away the nearest of them melts. Units: °C.</param>
/// <param name="Days">How long ago they were melted. Units: days.</param>
public readonly record struct ThermometerCheck(double DistanceCelsius, int Days);
