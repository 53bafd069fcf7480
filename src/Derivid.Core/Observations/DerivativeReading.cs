using Derivid.Core.Melting;

namespace Derivid.Core.Observations;

/// <summary>What was seen of one derivative.</summary>
/// <param name="KindKey">The derivative kind.</param>
/// <param name="Range">The melting range as read, before any correction. Missing: null, not melted.</param>
/// <param name="Preparation">What was done to the crystals.</param>
/// <param name="ColourKey">Its colour, a key of the colour vocabulary. Missing: null, not noted.</param>
/// <param name="Precipitate">
/// What came; without crystals there is no range and no colour to read. Missing: null, crystals where a range was read,
/// else not said.
/// </param>
/// <param name="Time">How soon the crystals came after mixing. Missing: null, not noted.</param>
public sealed record DerivativeReading(
    string KindKey,
    MeltingRange? Range,
    Preparation Preparation = Preparation.Unstated,
    string? ColourKey = null,
    Precipitate? Precipitate = null,
    PrecipitateTime? Time = null)
{
    /// <summary>What came, as far as the reading tells; what is timed came. Missing: null, nobody said.</summary>
    public Precipitate? Came => Range is not null || Time is not null ? Observations.Precipitate.Crystals : Precipitate;
}

/// <summary>What was done to the crystals before they were melted.</summary>
public enum Preparation
{
    /// <summary>Nobody said.</summary>
    Unstated,

    /// <summary>Filtered and dried, not recrystallised.</summary>
    Crude,

    /// <summary>Recrystallised at least once and dried.</summary>
    Recrystallised,
}

/// <summary>What came when the unknown was mixed with a derivative's reagent.</summary>
public enum Precipitate
{
    /// <summary>Crystals, melted or not.</summary>
    Crystals,

    /// <summary>An oil that would not solidify.</summary>
    Oil,

    /// <summary>Nothing came out of solution in the time usual for the reagent.</summary>
    None,
}

/// <summary>How soon the crystals of a derivative came after the unknown was mixed with the reagent.</summary>
public enum PrecipitateTime
{
    /// <summary>At once, or within the first minute.</summary>
    Seconds,

    /// <summary>Within the first hour.</summary>
    Minutes,

    /// <summary>Later.</summary>
    Hours,
}

/// <summary>Which of several readings of one kind counts: the one that comes first in this order.</summary>
/// <remarks>
/// The purer the sample the better its reading, then the sharper the range; the lower clear point settles what is left. A
/// reading without a range comes last.
/// </remarks>
public sealed class MostCarefulFirst : IComparer<DerivativeReading>
{
    private MostCarefulFirst()
    {
    }

    /// <summary>The order.</summary>
    public static MostCarefulFirst Order { get; } = new();

    /// <inheritdoc />
    public int Compare(DerivativeReading? x, DerivativeReading? y)
    {
        ArgumentNullException.ThrowIfNull(x);
        ArgumentNullException.ThrowIfNull(y);
        return RankOf(x).CompareTo(RankOf(y));
    }

    private static (bool, int, double, double) RankOf(DerivativeReading reading) => (
        reading.Range is null,
        reading.Preparation switch
        {
            Preparation.Recrystallised => 0,
            Preparation.Unstated => 1,
            _ => 2,
        },
        reading.Range?.SpanCelsius ?? 0,
        reading.Range?.ClearPointCelsius ?? 0);
}
