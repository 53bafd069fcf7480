namespace Derivid.Core.Teaching.ClassView;

/// <summary>Middle and spread that a few wild readings do not move.</summary>
public static class Robust
{
    /// <summary>Factor that turns a median absolute deviation into a standard deviation for normal errors: 1/Φ⁻¹(3/4).</summary>
    /// <remarks>Source: Hampel, F. R. The influence curve and its role in robust estimation. J. Am. Stat. Assoc. 1974, 69, 383.</remarks>
    public const double NormalFactor = 1.482602218505602;

    /// <summary>The middle value, or the mean of the two middle ones.</summary>
    /// <param name="values">Shape: one or more, any order.</param>
    /// <exception cref="ArgumentException">There is none.</exception>
    public static double Median(IEnumerable<double> values) => Quantile(values, 0.5);

    /// <summary>The median of the absolute differences from the median; not scaled.</summary>
    /// <param name="values">Shape: one or more, any order.</param>
    /// <exception cref="ArgumentException">There is none.</exception>
    public static double MedianAbsoluteDeviation(IReadOnlyList<double> values)
    {
        var median = Median(values);
        return Median(values.Select(value => Math.Abs(value - median)));
    }

    /// <summary>A quantile, linear between the ordered values (definition 7 of Hyndman and Fan, Am. Stat. 1996, 50, 361).</summary>
    /// <param name="values">Shape: one or more, any order.</param>
    /// <param name="share">Bounds: 0 to 1.</param>
    /// <exception cref="ArgumentException">There is no value.</exception>
    public static double Quantile(IEnumerable<double> values, double share)
    {
        double[] ordered = [.. values.Order()];
        if (ordered.Length == 0)
        {
            throw new ArgumentException("A quantile needs at least one value.", nameof(values));
        }

        var place = (ordered.Length - 1) * share;
        var below = (int)place;
        return below + 1 < ordered.Length
            ? double.Lerp(ordered[below], ordered[below + 1], place - below)
            : ordered[below];
    }
}
