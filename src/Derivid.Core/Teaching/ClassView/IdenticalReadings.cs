using System.Globalization;

namespace Derivid.Core.Teaching.ClassView;

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
