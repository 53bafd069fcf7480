namespace Derivid.Core.Melting;

/// <summary>The emergent-stem correction of a liquid-in-glass thermometer read at partial immersion.</summary>
/// <remarks>
/// Adds k·n·(t − s) to a reading t, with n the length of exposed thread in degrees and s the mean temperature of that
/// thread. Not needed for electronic thermometers.
/// </remarks>
public sealed record StemCorrection
{
    /// <summary>The longest thread taken. Units: °C of scale.</summary>
    public const double LongestExposedCelsius = 400;

    /// <summary>The lowest mean temperature of a thread taken. Units: °C.</summary>
    public const double LowestStemCelsius = -20;

    /// <summary>The highest. Units: °C.</summary>
    public const double HighestStemCelsius = 200;

    /// <summary>Takes the exposed thread.</summary>
    /// <param name="exposedCelsius">Length of exposed thread. Units: °C of scale. Bounds: 0 to 400.</param>
    /// <param name="stemCelsius">Mean temperature of the exposed thread. Units: °C. Bounds: −20 to 200.</param>
    /// <param name="liquid">What the thread is of.</param>
    /// <exception cref="ArgumentOutOfRangeException">A figure is NaN or out of bounds, or the liquid is none.</exception>
    public StemCorrection(double exposedCelsius, double stemCelsius, ThreadLiquid liquid = ThreadLiquid.Mercury)
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
        Liquid = liquid;
        PerCelsius = ExpansionOf(liquid);
    }

    /// <summary>Length of exposed thread. Units: °C of scale.</summary>
    public double ExposedCelsius { get; }

    /// <summary>Mean temperature of the exposed thread. Units: °C.</summary>
    public double StemCelsius { get; }

    /// <summary>What the thread is of.</summary>
    public ThreadLiquid Liquid { get; }

    /// <summary>Its apparent expansion in glass. Units: 1/°C.</summary>
    public double PerCelsius { get; }

    /// <summary>Adds the correction to a reading.</summary>
    /// <param name="readCelsius">The reading. Units: °C.</param>
    /// <returns>The corrected temperature. Units: °C.</returns>
    public double Apply(double readCelsius) =>
        readCelsius + PerCelsius * ExposedCelsius * (readCelsius - StemCelsius);

    /// <summary>Apparent expansion of a thread in glass.</summary>
    /// <remarks>
    /// Mercury: the average over glasses (wissen.science-and-fun.de, page 470; 0.000154 is the older value, Cohen, Practical Organic
    /// Chemistry). Alcohol (ethanol, toluene, pentane) 1/1000 and gallium 1/10000: DIN 12770, supplement 1, as quoted by
    /// de-academic.com, dewiki 426027. Petroleum 1/1100: hobbybrennen.ch, calculator of the stem correction; it is nearest to what
    /// thermometers without mercury are filled with (a judgement).
    /// </remarks>
    /// <param name="liquid">What it is of.</param>
    /// <returns>Units: 1/°C.</returns>
    /// <exception cref="ArgumentOutOfRangeException">It is none of them.</exception>
    public static double ExpansionOf(ThreadLiquid liquid) => liquid switch
    {
        ThreadLiquid.Mercury => 0.00016,
        ThreadLiquid.Alcohol => 0.001,
        ThreadLiquid.Petroleum => 1 / 1100.0,
        ThreadLiquid.Gallium => 0.0001,
        _ => throw new ArgumentOutOfRangeException(nameof(liquid), liquid, "Is no liquid of a thermometer."),
    };
}

/// <summary>What a liquid-in-glass thermometer is filled with.</summary>
public enum ThreadLiquid
{
    /// <summary>Mercury.</summary>
    Mercury,

    /// <summary>Ethanol, toluene or pentane.</summary>
    Alcohol,

    /// <summary>Petroleum, as in red or blue threads without mercury.</summary>
    Petroleum,

    /// <summary>An alloy of gallium, silvery and without mercury.</summary>
    Gallium,
}
