using System.Runtime.CompilerServices;

namespace Derivid.Core.Ranking.Distributions;

/// <summary>The normal density about zero.</summary>
public static class NormalDensity
{
    private const double RootTwoPi = 2.5066282746310005024;

    /// <summary>The density.</summary>
    /// <param name="deviation">Distance from the centre.</param>
    /// <param name="sigma">Standard deviation, in the same unit. Bounds: above 0.</param>
    /// <returns>Units: one over that unit. May underflow to zero far out.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static double At(double deviation, double sigma)
    {
        var u = deviation / sigma;
        return Math.Exp(-0.5 * u * u) / (sigma * RootTwoPi);
    }

    /// <summary>The share of the distribution below a deviation.</summary>
    /// <param name="deviation">Distance from the centre.</param>
    /// <param name="sigma">Standard deviation, in the same unit. Bounds: above 0.</param>
    /// <returns>Bounds: 0 to 1.</returns>
    public static double Below(double deviation, double sigma)
    {
        var u = Math.Abs(deviation) / (sigma * Math.Sqrt(2));
        var beyond = 0.5 * Math.Exp(-u * u) * ScaledErrorFunction.At(u);
        return deviation < 0 ? beyond : 1 - beyond;
    }
}
