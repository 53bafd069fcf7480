namespace Derivid.Store.Teaching;

/// <summary>An unknown handed out to a student.</summary>
/// <param name="CourseId">The course.</param>
/// <param name="HandOutNumber">The hand-out.</param>
/// <param name="StudentKey">The student.</param>
/// <param name="Number">First, second ... unknown of the student, from 1.</param>
/// <param name="Code">The code on the label.</param>
/// <param name="ParentKey">What is inside. Never leaves the service for a student.</param>
public sealed record Assignment(
    string CourseId, int HandOutNumber, string StudentKey, int Number, string Code, string ParentKey)
{
    /// <summary>Without the answer, so that a log line gives nothing away.</summary>
    /// <returns>Code and student.</returns>
    public override string ToString() => $"{Code} for {StudentKey}";
}
