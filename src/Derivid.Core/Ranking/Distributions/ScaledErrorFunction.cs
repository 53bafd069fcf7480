using System.Runtime.CompilerServices;

namespace Derivid.Core.Ranking.Distributions;

/// <summary>The scaled complementary error function, erfcx(x) = exp(x²)·erfc(x).</summary>
/// <remarks>
/// It stays finite where erfc underflows, which is what keeps an exponentially modified normal usable hundreds of
/// degrees from its centre. Source: definition as in NIST Digital Library of Mathematical Functions, 7.2; computed from
/// a Chebyshev series of (1 + 2x)·erfcx(x) in t = (x − 3.75)/(x + 3.75), whose coefficients are generated to 40 digits by
/// tests/reference-values/special-functions/generate.py. Tests support a relative error below 1e-14.
/// </remarks>
public static class ScaledErrorFunction
{
    private const double Centre = 3.75;

    private static ReadOnlySpan<double> Coefficients =>
    [
        1.17757893456740175410, -0.0045900545806464773309, -0.084249133366517915584, 0.059209939998191890498,
        -0.026658668435305752277, 0.0090749976707052650939, -0.0024131635404176081909, 0.00049077583652580863229,
        -0.000069169733025012063671, 4.1390279860730101675e-6, 7.7403830661984906686e-7, -2.1886401049234395661e-7,
        1.0764999465670910377e-8, 4.5219598112182868979e-9, -7.7544002088313511065e-10, -6.3180883408866844944e-11,
        2.8687950109306698981e-11, 1.945586854577734723e-13, -9.6546967484334389059e-13, 3.2525481481487398415e-14,
        3.3478119482868053878e-14, -1.8645628804193131015e-15, -1.2507950530688647085e-15, 7.418235256624043463e-17,
    ];

    /// <summary>erfcx at x.</summary>
    /// <param name="x">Bounds: any number; below about −26.6 the result overflows to infinity.</param>
    /// <returns>exp(x²)·erfc(x); NaN for NaN.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static double At(double x)
    {
        if (x < 0)
        {
            return 2 * Math.Exp(x * x) - At(-x);
        }

        if (double.IsPositiveInfinity(x))
        {
            return 0;
        }

        var t = (x - Centre) / (x + Centre);
        var coefficients = Coefficients;
        double b1 = 0, b2 = 0;
        for (var j = coefficients.Length - 1; j > 0; j--)
        {
            (b1, b2) = (2 * t * b1 - b2 + coefficients[j], b1);
        }

        return (t * b1 - b2 + coefficients[0]) / (1 + 2 * x);
    }
}
