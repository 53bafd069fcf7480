namespace Derivid.Store.Teaching;

/// <summary>A report beside what it is about.</summary>
/// <param name="Report">The report.</param>
/// <param name="ParentKey">The compound handed out.</param>
public sealed record ReportToGrade(CourseReport Report, string ParentKey);
