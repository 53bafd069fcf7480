using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Teaching.ClassView;

/// <summary>How hard one item was, and whether it told strong students from weak ones.</summary>
/// <param name="Kind">What sort of item it is.</param>
/// <param name="Key">The compound, or the criterion.</param>
/// <param name="Count">Reports behind it.</param>
/// <param name="ShareRight">Share that got it right: 1 easy, 0 hard.</param>
/// <param name="Discrimination">
/// Point-biserial correlation of getting it right with the share of points earned by the rest of the report, the item's own criterion
/// left out. Bounds: −1 to 1. Missing: null, all or none were right, or all earned alike.
/// </param>
public sealed record ItemAnalysis(ItemAnalysisKind Kind, string Key, int Count, double ShareRight, double? Discrimination)
{
    /// <summary>The items of a class.</summary>
    /// <param name="reports">Shape: any order; those not graded are left out.</param>
    /// <returns>Shape: compounds, then criteria; each hardest first, ties by key.</returns>
    public static IReadOnlyList<ItemAnalysis> Of(IEnumerable<ClassReport> reports)
    {
        ArgumentNullException.ThrowIfNull(reports);
        var graded = reports.Where(report => report.Grade is not null).ToList();
        var compounds = graded
            .GroupBy(report => report.Unknown.ParentKey, StringComparer.Ordinal)
            .Select(group => Of(ItemAnalysisKind.Compound, group.Key, [.. group.Select(report => (
                report.Report.ClaimedParentKey == group.Key,
                ShareOfRest(report.Grade!, CriterionKind.RightCompound)))]));
        var criteria = graded
            .SelectMany(report => report.Grade!.Lines
                .Where(line => line.Maximum > 0)
                .Select(line => (line, score: ShareOfRest(report.Grade, line.Criterion))))
            .GroupBy(item => item.line.Criterion)
            .Select(group => Of(ItemAnalysisKind.Criterion, group.Key.ToString(), [.. group.Select(item => (
                item.line.Points == item.line.Maximum, item.score))]));
        return [.. Hardest(compounds), .. Hardest(criteria)];
    }

    private static ItemAnalysis Of(ItemAnalysisKind kind, string key, List<(bool IsRight, double Score)> marks) =>
        new(kind, key, marks.Count, marks.Average(mark => mark.IsRight ? 1.0 : 0), PointBiserial.Of(marks));

    private static IEnumerable<ItemAnalysis> Hardest(IEnumerable<ItemAnalysis> items) =>
        items.OrderBy(item => item.ShareRight).ThenBy(item => item.Key, StringComparer.Ordinal);

    private static double ShareOfRest(Grade grade, CriterionKind own)
    {
        var rest = grade.Lines.Where(line => line.Criterion != own).ToList();
        var most = rest.Sum(line => line.Maximum);
        return most == 0 ? 0 : (double)(rest.Sum(line => line.Points) / most);
    }
}

/// <summary>What sort of thing is looked at as an item of an examination.</summary>
public enum ItemAnalysisKind
{
    /// <summary>A compound handed out; right if it was claimed.</summary>
    Compound,

    /// <summary>A criterion of the rubric; right if it earned all its points.</summary>
    Criterion,
}
