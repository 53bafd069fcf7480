using Derivid.Core.Ranking;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Teaching.ClassView;

/// <summary>How far one derivative's clear point lay from the literature of the compound handed out.</summary>
/// <param name="StudentKey">The student.</param>
/// <param name="Bench">The bench. Missing: null, no fixed place.</param>
/// <param name="ParentKey">The compound handed out.</param>
/// <param name="KindKey">The derivative kind.</param>
/// <param name="Celsius">
/// Corrected clear point less the nearest end of the nearest range listed; 0 inside it. Units: °C, a difference.
/// </param>
/// <param name="SpanCelsius">Width of the range as read. Units: °C, a difference.</param>
public sealed record Deviation(
    string StudentKey, string? Bench, string ParentKey, string KindKey, double Celsius, double SpanCelsius)
{
    /// <summary>The deviations of a class.</summary>
    /// <param name="reports">Shape: any order.</param>
    /// <param name="snapshot">The table to compare with.</param>
    /// <returns>
    /// Shape: one a report and derivative melted, for the range that counts; those with nothing listed are left out.
    /// By student, compound and kind.
    /// </returns>
    /// <exception cref="ArgumentException">A key is not in the table.</exception>
    public static IReadOnlyList<Deviation> Of(IEnumerable<ClassReport> reports, TableSnapshot snapshot)
    {
        ArgumentNullException.ThrowIfNull(reports);
        ArgumentNullException.ThrowIfNull(snapshot);
        return [.. reports
            .SelectMany(report => Of(report, snapshot))
            .OrderBy(deviation => deviation.StudentKey, StringComparer.Ordinal)
            .ThenBy(deviation => deviation.ParentKey, StringComparer.Ordinal)
            .ThenBy(deviation => deviation.KindKey, StringComparer.Ordinal)];
    }

    private static IEnumerable<Deviation> Of(ClassReport report, TableSnapshot snapshot)
    {
        if (!snapshot.TryFindParent(report.Unknown.ParentKey, out var handedOut))
        {
            throw new ArgumentException($"The table has no parent '{report.Unknown.ParentKey}'.", nameof(report));
        }

        foreach (var reading in BestReading.Of(report.Report.Observation, snapshot))
        {
            if (reading.NearestListed(handedOut) is { } nearest)
            {
                yield return new Deviation(
                    report.StudentKey,
                    report.Bench,
                    report.Unknown.ParentKey,
                    reading.Kind.Kind.Key,
                    ListedTemperatures.DeviationFrom(nearest, reading.Corrected.ClearPointCelsius),
                    reading.AsRead.SpanCelsius);
            }
        }
    }
}

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
    /// <param name="order">The order of the keys.</param>
    /// <returns>Shape: by key.</returns>
    public static IReadOnlyList<DeviationSummary> By(IEnumerable<Deviation> deviations, Func<Deviation, string?> key, IComparer<string?> order) =>
        [.. deviations
            .Where(deviation => key(deviation) is not null)
            .GroupBy(deviation => key(deviation)!, StringComparer.Ordinal)
            .OrderBy(group => group.Key, order)
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
