using System.Globalization;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Teaching.ClassView;

/// <summary>Something an instructor may want to look at. It says what is the case and what else explains it, no more.</summary>
/// <param name="Kind">What was noticed.</param>
/// <param name="StudentKeys">What the students are called where the class is looked at. Shape: in ordinal order.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record Signal(SignalKind Kind, IReadOnlyList<string> StudentKeys, string Sentence);

/// <summary>What was noticed.</summary>
public enum SignalKind
{
    /// <summary>A range reported is a listed range of the compound claimed, to 0.1 °C.</summary>
    CopiedRange,

    /// <summary>Several students report the same temperatures throughout.</summary>
    IdenticalReadings,
}

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
                    $"The {kind.Kind.Name} range reported, {Figure.Range(same.LowCelsius, same.HighCelsius)}{Stage(reading.Preparation)}, is to 0.1 °C the one {same.SourceKey} lists for the compound claimed, {snapshot.Parents[claim].Name}. {Odds(same)}");
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

/// <summary>Notices students who report the same temperatures throughout.</summary>
/// <remarks>
/// Two reports are alike if their melting ranges are the same, derivative by derivative and preparation by preparation,
/// to 0.1 °C. They are named if they have at least <see cref="LeastFigures"/> temperatures each, or
/// <see cref="LeastFineFigures"/> of which one is not a whole degree: fewer coincide by chance too often. Chosen.
/// </remarks>
public static class IdenticalReadings
{
    /// <summary>Fewest temperatures in common.</summary>
    public const int LeastFigures = 4;

    /// <summary>Fewest temperatures in common where one is finer than a whole degree.</summary>
    public const int LeastFineFigures = 2;

    /// <summary>Looks through a class.</summary>
    /// <param name="reports">Shape: any order.</param>
    /// <returns>Shape: by the first student named; may be empty.</returns>
    public static IReadOnlyList<Signal> In(IEnumerable<ClassReport> reports)
    {
        ArgumentNullException.ThrowIfNull(reports);
        return [.. reports
            .GroupBy(Temperatures, StringComparer.Ordinal)
            .Where(group => group.Select(report => report.StudentKey).Distinct(StringComparer.Ordinal).Count() > 1)
            .Where(group => IsTelling(group.First()))
            .Select(Signal)
            .OrderBy(signal => signal.StudentKeys[0], StringComparer.Ordinal)];
    }

    private static Signal Signal(IGrouping<string, ClassReport> group)
    {
        List<string> students =
            [.. group.Select(report => report.StudentKey).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        var unknowns = group.Select(report => report.Unknown.ParentKey).Distinct(StringComparer.Ordinal).Count();
        var handedOut = unknowns == 1
            ? "They were handed out the same compound, and may have shared a reading."
            : $"They were handed out {unknowns} different compounds.";
        return new Signal(
            SignalKind.IdenticalReadings,
            students,
            $"{string.Join(", ", students)} report the same {Figures(group.First()).Count} temperatures throughout. {handedOut} Working together by permission explains it too.");
    }

    private static bool IsTelling(ClassReport report)
    {
        var figures = Figures(report);
        return figures.Count >= LeastFigures
            || (figures.Count >= LeastFineFigures && figures.Exists(figure => !double.IsInteger(figure)));
    }

    private static List<double> Figures(ClassReport report) =>
        [.. report.Report.Observation.Derivatives
            .Where(reading => reading.Range is not null)
            .SelectMany(reading => new[] { reading.Range!.Value.OnsetCelsius, reading.Range.Value.ClearPointCelsius })];

    private static string Temperatures(ClassReport report) =>
        string.Join(';', report.Report.Observation.Derivatives
            .Where(reading => reading.Range is not null)
            .Select(reading => string.Create(
                CultureInfo.InvariantCulture,
                $"{reading.KindKey}/{reading.Preparation}/{reading.Range!.Value.OnsetCelsius:0.0}/{reading.Range.Value.ClearPointCelsius:0.0}"))
            .Order(StringComparer.Ordinal));
}
