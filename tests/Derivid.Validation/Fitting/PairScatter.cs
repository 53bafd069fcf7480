using Derivid.Validation.Literature;
using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Fitting;

/// <summary>Scatter of one listed value about another: a narrow core, a wide component, an even share.</summary>
/// <param name="CoreCelsius">Core standard deviation of the difference. Units: °C.</param>
/// <param name="WideShare">Share of the wide component.</param>
/// <param name="WideCelsius">Its standard deviation. Units: °C.</param>
/// <param name="GrossShare">Share of gross disagreement, even over <see cref="SpanCelsius"/>.</param>
public sealed record PairScatter(double CoreCelsius, double WideShare, double WideCelsius, double GrossShare)
{
    /// <summary>Span of gross disagreement. Units: °C.</summary>
    public const double SpanCelsius = 360;

    /// <summary>Listed values are printed to about this. Units: °C.</summary>
    private const double RoundingCelsius = 1;

    /// <summary>Mean log probability of the pairs' differences, each within half the rounding. Units: nats.</summary>
    public double LogScore(IReadOnlyList<ListedPair> pairs) =>
        pairs.Average(pair => Math.Log(pair.Others.Average(other => Probability(pair.Value - other))));

    /// <summary>Fits by maximum likelihood.</summary>
    public static PairScatter Fit(IReadOnlyList<ListedPair> pairs)
    {
        double[] at = [1.5, 0.13, 9, 0.04];
        CoordinateSearch.Minimise(
            at,
            [(0.2, 6), (0.01, 0.6), (2, 25), (0.005, 0.2)],
            x => -new PairScatter(x[0], x[1], x[2], x[3]).LogScore(pairs),
            sweeps: 10);
        return new PairScatter(at[0], at[1], at[2], at[3]);
    }

    private double Probability(double difference)
    {
        var (low, high) = (difference - (RoundingCelsius / 2), difference + (RoundingCelsius / 2));
        double Within(double sigma) => Normal.CDF(0, sigma, high) - Normal.CDF(0, sigma, low);
        return ((1 - WideShare - GrossShare) * Within(CoreCelsius))
            + (WideShare * Within(Math.Sqrt((CoreCelsius * CoreCelsius) + (WideCelsius * WideCelsius))))
            + (GrossShare * RoundingCelsius / SpanCelsius);
    }
}
