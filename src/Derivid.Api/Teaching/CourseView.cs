using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>A course and who looks at it.</summary>
/// <param name="Course">The course.</param>
/// <param name="Student">The student looking. Missing: null, a grader, instructor or administrator is.</param>
public sealed record CourseView(Course Course, CourseStudent? Student)
{
    /// <summary>Whether answers may be shown.</summary>
    public bool SeesIdentities => Student is null;
}
