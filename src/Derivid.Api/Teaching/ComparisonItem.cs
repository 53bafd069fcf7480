using Derivid.Core.Teaching.Grading;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>One report in two gradings.</summary>
/// <param name="Report">The report.</param>
/// <param name="Student">The student.</param>
/// <param name="TotalBefore">Points in the first.</param>
/// <param name="TotalAfter">Points in the second.</param>
/// <param name="TotalDifference">Second less first.</param>
/// <param name="Causes">What the two graded by, where it differs.</param>
/// <param name="Changes">Criteria that differ.</param>
public sealed record ComparisonItem(
    string Report,
    string Student,
    double TotalBefore,
    double TotalAfter,
    double TotalDifference,
    IReadOnlyList<string> Causes,
    IReadOnlyList<LineChangeItem> Changes)
{
    /// <summary>Compares.</summary>
    /// <param name="report">The report.</param>
    /// <param name="before">Its first grade.</param>
    /// <param name="after">Its second grade.</param>
    public static ComparisonItem Of(CourseReport report, CourseGrade before, CourseGrade after)
    {
        ArgumentNullException.ThrowIfNull(report);
        var comparison = GradeComparison.Between(ReportGrading.Kept(before), ReportGrading.Kept(after));
        return new ComparisonItem(
            report.Id,
            report.StudentKey,
            (double)comparison.Before.Total,
            (double)comparison.After.Total,
            (double)comparison.TotalDifference,
            comparison.Causes,
            [.. comparison.Changes.Select(LineChangeItem.Of)]);
    }
}
