using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Teaching.ClassView;

/// <summary>Notices ranges that are a listed range of the compound claimed, both ends, to 0.1 °C.</summary>
/// <remarks>
/// The range as read is compared: a table lists corrected values, and a reading that needed a correction would not fall on one. Of
/// values printed to whole degrees this happens by chance, and the sentence says so.
/// </remarks>
public static class CopiedRange
{
    /// <summary>Half of 0.1 °C, and a little for the binary fractions.</summary>
    private const double SameCelsius = 0.05 + 1e-9;

    /// <summary>Looks through a class.</summary>
    /// <param name="reports">Shape: any order.</param>
    /// <param name="snapshot">The table.</param>
    /// <returns>Shape: by student, then derivative; may be empty.</returns>
    public static IReadOnlyList<Signal> In(IEnumerable<ClassReport> reports, TableSnapshot snapshot)
    {
        ArgumentNullException.ThrowIfNull(reports);
        ArgumentNullException.ThrowIfNull(snapshot);
        return [.. reports
            .OrderBy(report => report.StudentKey, StringComparer.Ordinal)
            .SelectMany(report => In(report.StudentKey, report.Report, snapshot))];
    }

    private static IEnumerable<Signal> In(string student, Report report, TableSnapshot snapshot)
    {
        if (report.ClaimedParentKey is not { } key || !snapshot.TryFindParent(key, out var claim))
        {
            yield break;
        }

        foreach (var reading in report.Observation.Derivatives.Where(reading => reading.Range is not null).Distinct())
        {
            var kind = snapshot.Kind(reading.KindKey);
            if (kind.Listed.Of(claim).FirstOrDefault(listed => IsSame(reading.Range!.Value, listed)) is { } same)
            {
                yield return new Signal(
                    SignalKind.CopiedRange,
                    [student],
                    $"The {kind.Kind.Name} range reported, {CelsiusText.Range(same.LowCelsius, same.HighCelsius)}{Stage(reading.Preparation)}, is to 0.1 °C the one {same.SourceKey} lists for the compound claimed, {snapshot.Parents[claim].Name}. {Odds(same)}");
            }
        }
    }

    private static bool IsSame(MeltingRange range, ListedTemperature listed) =>
        Math.Abs(range.OnsetCelsius - listed.LowCelsius) <= SameCelsius
        && Math.Abs(range.ClearPointCelsius - listed.HighCelsius) <= SameCelsius;

    private static string Odds(ListedTemperature listed) =>
        double.IsInteger(listed.LowCelsius) && double.IsInteger(listed.HighCelsius)
            ? "Both are whole degrees, so a good reading can fall on it by chance."
            : "A reading can fall on it by chance; the notebook shows.";

    private static string Stage(Preparation preparation) =>
        preparation switch
        {
            Preparation.Crude => " (crude)",
            Preparation.Recrystallised => " (recrystallised)",
            Preparation.Unstated => "",
        };
}
