using System.Runtime.CompilerServices;

namespace Derivid.Core.Ranking.Distributions;

/// <summary>Density of an error that is anything from nothing to some way low, with soft ends: wet crystals, a bulb out of the vapour.</summary>
/// <remarks>Level from −<paramref name="length"/> to 0, beyond both ends as a normal falls. Units: °C throughout.</remarks>
/// <param name="sigma">Standard deviation at the upper end. Units: °C. Bounds: above 0.</param>
/// <param name="length">Length of the level part. Units: °C. Bounds: above 0.</param>
public readonly struct LowPlateau(double sigma, double length)
{
    /// <summary>Fall at the lower end, as a share of the length. Chosen.</summary>
    private const double LowerEndShare = 0.25;

    private const double RootHalfPi = 1.2533141373155002512;

    private readonly double _sigma = sigma;
    private readonly double _length = length;
    private readonly double _lower = Math.Max(sigma, LowerEndShare * length);
    private readonly double _height = 1 / (length + (RootHalfPi * (sigma + Math.Max(sigma, LowerEndShare * length))));

    /// <summary>The density.</summary>
    /// <param name="deviation">Reading less listed value. Units: °C.</param>
    /// <returns>Units: 1/°C. May underflow to zero far out.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public double At(double deviation)
    {
        var beyond = deviation > 0 ? deviation / _sigma : Math.Min(0, deviation + _length) / _lower;
        return _height * Math.Exp(-0.5 * beyond * beyond);
    }
}
