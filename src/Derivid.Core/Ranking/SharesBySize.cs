namespace Derivid.Core.Ranking;

/// <summary>Which size divides the few large shares of a whole from the many small ones, in one pass and without sorting them.</summary>
/// <remarks>Shares are counted by size, eight sizes to a doubling; all below 2⁻⁶⁴ are of one size.</remarks>
internal sealed class SharesBySize
{
    // A double's exponent and the first three bits of its fraction: what is left of it after this shift.
    private const int Shift = 52 - 3;
    private const int Sizes = 65 * 8;
    private static readonly long Least = BitConverter.DoubleToInt64Bits(Math.ScaleB(1, -64)) >> Shift;

    private readonly int[] _counts = new int[Sizes];
    private readonly double[] _sums = new double[Sizes];

    /// <summary>Counts them.</summary>
    /// <param name="shares">Bounds: 0 to 1.</param>
    public SharesBySize(ReadOnlySpan<double> shares)
    {
        foreach (var share in shares)
        {
            var size = Math.Max(0, (BitConverter.DoubleToInt64Bits(share) >> Shift) - Least);
            _counts[size]++;
            _sums[size] += share;
        }
    }

    /// <summary>A share that so many are as large as, and hardly more.</summary>
    /// <param name="count">How many. Bounds: 1 up.</param>
    /// <returns>0, there are not so many that are not tiny.</returns>
    public double LeastOf(int count) => LeastOnce((found, _) => found >= count);

    /// <summary>A share such that all as large hold so much together, and hardly more.</summary>
    /// <param name="sum">How much. Bounds: above 0.</param>
    /// <returns>0, the tiny ones are needed too.</returns>
    public double LeastHolding(double sum) => LeastOnce((_, held) => held >= sum);

    private double LeastOnce(Func<int, double, bool> areEnough)
    {
        var (count, sum) = (0, 0.0);
        for (var size = Sizes - 1; size > 0; size--)
        {
            count += _counts[size];
            sum += _sums[size];
            if (areEnough(count, sum))
            {
                return BitConverter.Int64BitsToDouble((size + Least) << Shift);
            }
        }

        return 0;
    }
}
