namespace Derivid.Core.Learning;

/// <summary>Natural logarithm of the gamma function.</summary>
/// <remarks>Stirling's series from 10 up, by recurrence below. Source: Abramowitz &amp; Stegun (1964), 6.1.41 and 6.1.15.</remarks>
internal static class LogGamma
{
    private const double SeriesFrom = 10;

    // ½·ln 2π.
    private const double HalfLogTwoPi = 0.91893853320467274178;

    /// <summary>The logarithm.</summary>
    /// <param name="x">Bounds: above 0.</param>
    public static double At(double x)
    {
        var product = 1.0;
        for (; x < SeriesFrom; x++)
        {
            product *= x;
        }

        var (inverse, square) = (1 / x, 1 / (x * x));
        var series = inverse * ((1 / 12.0) - (square * ((1 / 360.0) - (square * ((1 / 1260.0) - (square / 1680.0))))));
        return ((x - 0.5) * Math.Log(x)) - x + HalfLogTwoPi + series - Math.Log(product);
    }

    /// <summary>Logarithm of a·(a + 1)···(a + n − 1), for any n from 0.</summary>
    /// <param name="from">The first factor. Bounds: above 0.</param>
    /// <param name="count">How many; between whole numbers as the gamma function has it.</param>
    public static double Rising(double from, double count) => count == 0 ? 0 : At(from + count) - At(from);

    /// <summary>Log probability of counts under a Dirichlet-multinomial distribution, without the number of their orders.</summary>
    /// <param name="shares">What is expected. Shape: above 0, summing to 1.</param>
    /// <param name="worth">How many counts the expectation is worth.</param>
    /// <param name="counts">Shape: as the shares.</param>
    public static double OfCounts(IReadOnlyList<double> shares, double worth, IReadOnlyList<double> counts) =>
        shares.Zip(counts, (share, count) => Rising(share * worth, count)).Sum() - Rising(worth, counts.Sum());
}
