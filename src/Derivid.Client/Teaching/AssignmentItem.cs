namespace Derivid.Client.Teaching;

/// <summary>An unknown handed out to a student.</summary>
/// <param name="Code">The code on its label.</param>
/// <param name="Student">The student.</param>
/// <param name="Number">First, second ... unknown of the student, from 1.</param>
/// <param name="Parent">What is inside. Missing: not asked for.</param>
public sealed record AssignmentItem(string Code, string Student, int Number, string? Parent);
