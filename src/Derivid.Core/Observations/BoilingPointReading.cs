using Derivid.Core.Melting;

namespace Derivid.Core.Observations;

/// <summary>The boiling range of the unknown.</summary>
public sealed record BoilingPointReading
{
    /// <summary>Standard pressure, at which the table lists boiling points. Units: kPa.</summary>
    public const double StandardPressureKilopascals = 101.325;

    /// <summary>Takes a boiling range at a pressure near one atmosphere.</summary>
    /// <param name="range">The range as read; its clear point is the upper end.</param>
    /// <param name="pressureKilopascals">Pressure on the day. Units: kPa. Bounds: 60 to 110.</param>
    /// <exception cref="ArgumentOutOfRangeException">
    /// The pressure is NaN or out of bounds: the correction holds near one atmosphere only.
    /// </exception>
    public BoilingPointReading(MeltingRange range, double pressureKilopascals = StandardPressureKilopascals)
    {
        if (!(pressureKilopascals is >= 60 and <= 110))
        {
            throw new ArgumentOutOfRangeException(
                nameof(pressureKilopascals), pressureKilopascals,
                "Must lie from 60 to 110 kPa; a boiling point under reduced pressure is not compared.");
        }

        Range = range;
        PressureKilopascals = pressureKilopascals;
    }

    /// <summary>The range as read.</summary>
    public MeltingRange Range { get; }

    /// <summary>Pressure on the day. Units: kPa.</summary>
    public double PressureKilopascals { get; }
}
