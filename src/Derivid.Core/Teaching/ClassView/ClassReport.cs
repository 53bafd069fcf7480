using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Teaching.ClassView;

/// <summary>One report of a class, with who handed it in and what it was about.</summary>
/// <param name="StudentKey">The student.</param>
/// <param name="Bench">The bench. Missing: null, no fixed place.</param>
/// <param name="Unknown">What was handed out.</param>
/// <param name="Report">What was handed in.</param>
/// <param name="Grade">Its grade. Missing: null, not graded yet.</param>
public sealed record ClassReport(string StudentKey, string? Bench, Unknown Unknown, Report Report, Grade? Grade = null);
