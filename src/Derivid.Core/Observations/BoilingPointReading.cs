using Derivid.Core.Melting;

namespace Derivid.Core.Observations;

/// <summary>The boiling range of the unknown.</summary>
public sealed record BoilingPointReading
{
    /// <summary>Standard pressure, at which the table lists boiling points. Units: kPa.</summary>
    public const double StandardPressureKilopascals = 101.325;

    /// <summary>The lowest pressure whose readings are corrected; the vapour pressures of few compounds are known below it. Units: kPa.</summary>
    public const double LowestKilopascals = 0.1;

    /// <summary>The highest pressure taken. Units: kPa.</summary>
    public const double HighestKilopascals = 110;

    /// <summary>Takes a boiling range at atmospheric or reduced pressure.</summary>
    /// <param name="range">The range as read; its clear point is the upper end.</param>
    /// <param name="pressureKilopascals">Pressure on the day. Units: kPa. Bounds: 0.1 to 110.</param>
    /// <exception cref="ArgumentOutOfRangeException">The pressure is NaN or out of bounds.</exception>
    public BoilingPointReading(MeltingRange range, double pressureKilopascals = StandardPressureKilopascals)
    {
        if (!(pressureKilopascals is >= LowestKilopascals and <= HighestKilopascals))
        {
            throw new ArgumentOutOfRangeException(
                nameof(pressureKilopascals), pressureKilopascals,
                FormattableString.Invariant(
                    $"Must lie from {LowestKilopascals} to {HighestKilopascals} kPa: beyond them no correction to standard pressure has been checked."));
        }

        Range = range;
        PressureKilopascals = pressureKilopascals;
    }

    /// <summary>The range as read.</summary>
    public MeltingRange Range { get; }

    /// <summary>Pressure on the day. Units: kPa.</summary>
    public double PressureKilopascals { get; }
}
