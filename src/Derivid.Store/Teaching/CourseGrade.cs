namespace Derivid.Store.Teaching;

/// <summary>The grade of one report on one basis. Never changed: another basis is another grade.</summary>
/// <param name="ReportId">The report.</param>
/// <param name="Basis">What it rests on; see <see cref="Grading.Basis"/>.</param>
/// <param name="GradeJson">Every criterion with points and sentence, as JSON.</param>
/// <param name="Total">Points in all.</param>
/// <param name="Maximum">Most points.</param>
/// <param name="GradedAtUtc">When. Units: UTC.</param>
public sealed record CourseGrade(
    string ReportId, string Basis, string GradeJson, double Total, double Maximum, DateTime GradedAtUtc);
