using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store.Databases;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Who sees what of a course, in one place.</summary>
/// <remarks>
/// Graders, instructors and administrators see all of every course. A student sees the courses whose roster names them
/// as a caller, and of these their own assignments, reports and published grades. To everyone else, and to a student of
/// another course, a course is as if it were not there.
/// </remarks>
/// <param name="courses">The courses.</param>
/// <param name="settings">Who may read and identify.</param>
public sealed class CourseAccess(Store.Teaching.Courses courses, AccessSettings settings)
{
    /// <summary>Finds a course for a caller.</summary>
    /// <param name="context">A request let in by a policy that asks for a role.</param>
    /// <param name="id">The course.</param>
    public async Task<Outcome<CourseView>> FindAsync(HttpContext context, string id)
    {
        ArgumentNullException.ThrowIfNull(context);
        var caller = Caller.Of(context)!;
        var course = ResourceIds.IsWellFormed(id) ? await courses.FindAsync(id, context.RequestAborted) : null;
        if (course is null)
        {
            return Missing(id);
        }

        if (caller.Role > Role.Student)
        {
            return new CourseView(course, null);
        }

        return await courses.StudentOfAsync(id, caller.Actor, context.RequestAborted) is { } student
            ? new CourseView(course, student)
            : Missing(id);
    }

    /// <summary>A course as those see it who are no students of it.</summary>
    /// <param name="course">The course.</param>
    public CourseItem ItemOf(Course course)
    {
        ArgumentNullException.ThrowIfNull(course);
        return CourseItem.Of(course) with
        {
            Warnings = course.IsExamination && !settings.RequireKeyToRead ? [Examinations.OpenToAnyone] : null,
        };
    }

    private static Problem Missing(string id) => new(ProblemTypes.NotFound, $"No course {Text.Quoted(id)} of yours is here.");
}

/// <summary>A course and who looks at it.</summary>
/// <param name="Course">The course.</param>
/// <param name="Student">The student looking. Missing: null, a grader, instructor or administrator is.</param>
public sealed record CourseView(Course Course, CourseStudent? Student)
{
    /// <summary>Whether identities may be shown.</summary>
    public bool SeesIdentities => Student is null;
}
