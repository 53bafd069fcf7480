namespace Derivid.Core.Teaching.ClassView;

/// <summary>The distribution of the deviations of one compound or one bench.</summary>
/// <param name="Key">Compound or bench.</param>
/// <param name="Count">Number of deviations.</param>
/// <param name="MedianCelsius">Units: °C, a difference.</param>
/// <param name="MedianAbsoluteDeviationCelsius">Not scaled. Units: °C, a difference.</param>
/// <param name="LowestCelsius">Units: °C, a difference.</param>
/// <param name="LowerQuartileCelsius">Units: °C, a difference.</param>
/// <param name="UpperQuartileCelsius">Units: °C, a difference.</param>
/// <param name="HighestCelsius">Units: °C, a difference.</param>
/// <param name="MedianSpanCelsius">Median width of the ranges. Units: °C, a difference.</param>
public sealed record DeviationSummary(
    string Key,
    int Count,
    double MedianCelsius,
    double MedianAbsoluteDeviationCelsius,
    double LowestCelsius,
    double LowerQuartileCelsius,
    double UpperQuartileCelsius,
    double HighestCelsius,
    double MedianSpanCelsius)
{
    /// <summary>Sums up deviations by a key.</summary>
    /// <param name="deviations">Shape: any order.</param>
    /// <param name="key">The key. Missing: null, left out.</param>
    /// <returns>Shape: by key.</returns>
    public static IReadOnlyList<DeviationSummary> By(IEnumerable<Deviation> deviations, Func<Deviation, string?> key) =>
        [.. deviations
            .Where(deviation => key(deviation) is not null)
            .GroupBy(deviation => key(deviation)!, StringComparer.Ordinal)
            .OrderBy(group => group.Key, StringComparer.Ordinal)
            .Select(group => Of(group.Key, [.. group]))];

    private static DeviationSummary Of(string key, List<Deviation> deviations)
    {
        double[] values = [.. deviations.Select(deviation => deviation.Celsius)];
        return new DeviationSummary(
            key,
            values.Length,
            Robust.Median(values),
            Robust.MedianAbsoluteDeviation(values),
            values.Min(),
            Robust.Quantile(values, 0.25),
            Robust.Quantile(values, 0.75),
            values.Max(),
            Robust.Median(deviations.Select(deviation => deviation.SpanCelsius)));
    }
}
