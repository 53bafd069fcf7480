using System.Runtime.CompilerServices;

namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>
/// Density of a normal error less an exponential depression: the exponentially modified normal with its tail to the low
/// side, moved so that its mode lies at zero.
/// </summary>
/// <remarks>
/// Before the move the density at x, with z = (x/σ + σ/τ)/√2, is exp(−x²/2σ²)·erfcx(z)/(2τ), or, where z is negative and
/// erfcx would overflow, exp(σ²/2τ² + x/τ)·erfc(z)/(2τ). The move makes the likeliest reading of a compound its listed
/// value: a listed melting point is itself the clear point of a purified sample, so an ordinary depression is already in
/// it, and a reading nearer to the listed value never counts less. Units: °C throughout. Thread safety: immutable.
/// </remarks>
public readonly struct DepressedNormal
{
    private const double SqrtHalf = 0.70710678118654752440;
    private const double SqrtTwoOverPi = 0.79788456080286535588;
    private const double SqrtPi = 1.7724538509055160273;

    private readonly double _sigma;
    private readonly double _tau;
    private readonly double _mode;

    /// <summary>Takes the two scales.</summary>
    /// <param name="sigma">Standard deviation of the error. Units: °C. Bounds: above 0.</param>
    /// <param name="tau">Mean depression. Units: °C. Bounds: above 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">A scale is not above zero.</exception>
    public DepressedNormal(double sigma, double tau)
    {
        if (!(sigma > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(sigma), sigma, "Must be above 0.");
        }

        if (!(tau > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(tau), tau, "Must be above 0.");
        }

        _sigma = sigma;
        _tau = tau;
        _mode = sigma * ((ModeArgument(tau / sigma) / SqrtHalf) - (sigma / tau));
    }

    /// <summary>Where the mode lay before the move. Units: °C. Bounds: below 0.</summary>
    public double UnmovedMode => _mode;

    /// <summary>The density.</summary>
    /// <param name="deviation">Reading less listed value. Units: °C.</param>
    /// <returns>Units: 1/°C. May underflow to zero far out; the callers' mixtures have a floor.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public double At(double deviation)
    {
        var x = deviation + _mode;
        var u = x / _sigma;
        var z = (u + (_sigma / _tau)) * SqrtHalf;
        if (z >= 0)
        {
            return Math.Exp(-0.5 * u * u) * ScaledErrorFunction.At(z) / (2 * _tau);
        }

        var erfc = 2 - (Math.Exp(-z * z) * ScaledErrorFunction.At(-z));
        var ratio = _sigma / _tau;
        return Math.Exp((0.5 * ratio * ratio) + (x / _tau)) * erfc / (2 * _tau);
    }

    /// <summary>Solves erfcx(z) = ratio·√(2/π), the condition for the mode, by Newton's method on the logarithm.</summary>
    private static double ModeArgument(double ratio)
    {
        var target = ratio * SqrtTwoOverPi;
        var logTarget = Math.Log(target);
        var z = target switch
        {
            > 2 => -Math.Sqrt(Math.Log(target / 2)),
            < 0.5 => 1 / (target * SqrtPi),
            _ => 0,
        };

        // ln erfcx is convex and falling, so Newton from here settles in a handful of steps.
        for (var i = 0; i < 60; i++)
        {
            var value = ScaledErrorFunction.At(z);
            var slope = (2 * z) - (2 / (SqrtPi * value));
            var step = (Math.Log(value) - logTarget) / slope;
            z -= step;
            if (Math.Abs(step) <= 1e-13 * (1 + Math.Abs(z)))
            {
                break;
            }
        }

        return z;
    }
}
