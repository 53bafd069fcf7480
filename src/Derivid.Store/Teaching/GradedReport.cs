namespace Derivid.Store.Teaching;

/// <summary>One report of a grading with its grade, if it has one.</summary>
/// <param name="Report">The report.</param>
/// <param name="Assignment">What it is about.</param>
/// <param name="Grade">Its grade. Missing: null, not done yet, or it could not be graded.</param>
/// <param name="Problem">Why it could not be graded. Missing: null.</param>
public sealed record GradedReport(CourseReport Report, Assignment Assignment, CourseGrade? Grade, string? Problem);
