using Derivid.Core.Compounds;

namespace Derivid.Validation.Fitting;

/// <summary>How far the recalled handbooks' usual and alternative values of one derivative lie apart.</summary>
/// <remarks>
/// They are no independent sources, and an alternative is recalled only because it differs, so the size of the
/// disagreement means little; its ratio between kinds and temperatures is what is used.
/// </remarks>
public static class HandbookDisagreement
{
    private const string Usual = "handbooks-recalled";
    private const string Alternative = "handbooks-recalled-alternative";

    /// <summary>The pairs.</summary>
    /// <returns>Kind, usual value and absolute difference. Units: °C.</returns>
    public static IReadOnlyList<(string KindKey, double UsualCelsius, double DifferenceCelsius)> Pairs(ReferenceTable table) =>
        [.. table.Derivatives
            .GroupBy(record => (record.ParentKey, record.KindKey, record.Form, record.CarbonylsCondensed))
            .SelectMany(of => of
                .Where(record => record.SourceKey == Usual)
                .Take(1)
                .SelectMany(usual => of
                    .Where(record => record.SourceKey == Alternative)
                    .Select(other => (usual.KindKey, usual.HighCelsius, Math.Abs(other.HighCelsius - usual.HighCelsius)))))];

    /// <summary>Median disagreement of some pairs over that of the rest.</summary>
    public static double Ratio(
        IReadOnlyList<(string KindKey, double UsualCelsius, double DifferenceCelsius)> pairs,
        Func<(string KindKey, double UsualCelsius, double DifferenceCelsius), bool> isChosen) =>
        Median(pairs.Where(isChosen)) / Median(pairs.Where(pair => !isChosen(pair)));

    private static double Median(IEnumerable<(string KindKey, double UsualCelsius, double DifferenceCelsius)> pairs)
    {
        // Values are printed to a degree: spread each evenly over its degree, so that medians do not jump.
        var sorted = pairs.Select(pair => pair.DifferenceCelsius).Order().ToList();
        var middle = sorted[sorted.Count / 2];
        var below = sorted.Count(value => value < middle);
        var at = sorted.Count(value => value == middle);
        return middle - 0.5 + (((sorted.Count / 2.0) - below) / at);
    }
}
