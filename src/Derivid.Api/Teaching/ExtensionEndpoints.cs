using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Students of a course who have longer than the others.</summary>
public static class ExtensionEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapExtensions(this RouteGroupBuilder courses)
    {
        courses.MapGet("/{id}/extensions", GetAsync)
            .RequireRole(Role.Grader)
            .WithName("getExtensions")
            .WithSummary("See which students of a course have longer")
            .WithDescription("In order of their identifiers, each with their own due date. The ETag is the course's.")
            .Produces<ExtensionsBody>()
            .ProducesProblems(ProblemTypes.NotFound);
        courses.MapPut("/{id}/extensions", PutAsync)
            .RequireRole(Role.Instructor)
            .TakesRevision()
            .WithName("putExtensions")
            .WithSummary("Give students of a course longer")
            .WithDescription(
                "Puts these extensions in place of those before. Each is a due date of the student's own, after the course's, until which "
                + "their reports are taken even where the course has closed, and from which their lateness is counted, after the course's "
                + "graceMinutes. Of a group the latest of its members' holds for all of it, since they hand in one report. The student is told of theirs. An examination is open for all as long as anybody's reports are taken. A grading "
                + "goes by the extensions there are when it is started; publishing grades ends them all.")
            .WithBody<ExtensionsBody>()
            .Produces<ExtensionsBody>()
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.CourseStateForbids);
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The courses.</param>
    private static async Task<IResult> GetAsync(
        string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out var view, out var problem))
        {
            return problem;
        }

        Revisions.Tag(context, view.Course.Revision);
        return await AnsweredAsync(id, courses, context.RequestAborted);
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The courses.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> PutAsync(
        string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses, TimeProvider time)
    {
        if (!(await access.ReadAsync<ExtensionsBody>(context, id, RequestLimits.BatchBytes)).Succeeded(out var sent, out var problem))
        {
            return problem;
        }

        if (sent.View.Course.DueAtUtc is not { } due)
        {
            return new Problem(ProblemTypes.CourseStateForbids, "Reports of this course are never due, so nobody can have longer; give it its dueAt first.");
        }

        var errors = new FieldErrors();
        var roster = (await courses.RosterAsync(id, context.RequestAborted)).Select(student => student.StudentKey).ToHashSet(StringComparer.Ordinal);
        var extensions = ToStore(sent.Write.Body.Extensions, due, roster, errors);
        if (errors.ToProblem() is { } wrong)
        {
            return wrong;
        }

        var course = await courses.ReplaceExtensionsAsync(id, sent.Write.Revision, extensions, time.GetUtcNow().UtcDateTime, sent.Write.Origin, context.RequestAborted);
        Revisions.Tag(context, course!.Revision);
        return await AnsweredAsync(id, courses, context.RequestAborted);
    }

    private static async Task<IResult> AnsweredAsync(string id, Store.Teaching.Courses courses, CancellationToken cancellation) =>
        Reply.Json(new ExtensionsBody
        {
            Extensions = [.. (await courses.RosterAsync(id, cancellation)).Where(student => student.DueAtUtc is not null)
                .Select(student => new Extension { Student = student.StudentKey, DueAt = new DateTimeOffset(student.DueAtUtc!.Value, TimeSpan.Zero) })],
        });

    private static Dictionary<string, DateTime> ToStore(
        IReadOnlyList<Extension> extensions, DateTime due, HashSet<string> roster, FieldErrors errors)
    {
        var kept = new Dictionary<string, DateTime>(StringComparer.Ordinal);
        foreach (var (index, extension) in extensions.Index())
        {
            var (place, student) = (JsonPointer.Item("/extensions", index), extension.Student.Trim());
            if (!roster.Contains(student))
            {
                errors.Add(place + "/student", $"{Text.Quoted(student)} is not in the roster.");
            }
            else if (extension.DueAt.UtcDateTime <= due)
            {
                errors.Add(place + "/dueAt", FormattableString.Invariant($"Reports of the course are due {due:yyyy-MM-ddTHH:mm:ssZ}; an extension is later."));
            }
            else if (!kept.TryAdd(student, extension.DueAt.UtcDateTime))
            {
                errors.Add(place + "/student", $"{Text.Quoted(student)} is named before; name everybody once.");
            }
        }

        return kept;
    }
}
