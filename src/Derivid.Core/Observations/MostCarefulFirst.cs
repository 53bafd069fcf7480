namespace Derivid.Core.Observations;

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
