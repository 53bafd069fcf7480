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
    /// By student, then kind.
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
