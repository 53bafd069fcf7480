namespace Derivid.Client.Teaching;

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
    IReadOnlyList<LineChangeItem> Changes);
