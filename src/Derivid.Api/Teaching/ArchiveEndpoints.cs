using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Putting a course away, and deleting it.</summary>
public static class ArchiveEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapArchive(this RouteGroupBuilder courses)
    {
        courses.MapPut("/{id}/archive", PutAsync)
            .RequireRole(Role.Instructor)
            .TakesRevision()
            .WithMetadata(new AlsoArchived())
            .WithName("archiveCourse")
            .WithSummary("Archive a course, or take it out of the archive")
            .WithDescription(
                "For owners of the course and administrators, once it takes no reports. An archived course is read as before and stands in no "
                + "list but that of archived ones; nothing of it changes until it is taken out.")
            .WithBody<ArchiveRequest>()
            .Produces<CourseItem>()
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.CourseStateForbids);
        courses.MapDelete("/{id}", DeleteAsync)
            .RequireRole(Role.Instructor)
            .TakesRevision()
            .WithMetadata(new AlsoArchived())
            .WithName("deleteCourse")
            .WithSummary("Delete a course for good")
            .WithDescription(
                "For owners of the course and administrators, once it is archived. Unknowns, reports, grades, places and what was changed by hand are "
                + "gone, keys that the course gave are revoked, unless another course knows them. The answer says what is kept: the audit log, the "
                + "course's own description, and whom its roster and its staff ever named.")
            .Produces<CourseDeleted>()
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.CourseStateForbids);
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The courses.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> PutAsync(
        string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses, TimeProvider time)
    {
        if (!(await access.ReadAsync<ArchiveRequest>(context, id)).Succeeded(out var sent, out var problem))
        {
            return problem;
        }

        if (await RefusedAsync(id, context, access) is { } refused)
        {
            return refused;
        }

        var (now, write) = (time.GetUtcNow().UtcDateTime, sent.Write);
        var course = (await courses.ArchiveAsync(id, write.Revision, write.Body.IsArchived ? now : null, now, write.Origin, context.RequestAborted))!;
        Revisions.Tag(context, course.Revision);
        return Reply.Json(await access.ItemOfAsync(course, context.RequestAborted));
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The courses.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> DeleteAsync(
        string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses, TimeProvider time)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out _, out var problem) || !WriteRequest.Read(context).Succeeded(out var write, out problem))
        {
            return problem;
        }

        if (await RefusedAsync(id, context, access) is { } refused)
        {
            return refused;
        }

        var deleted = (await courses.DeleteAsync(id, write.Revision, time.GetUtcNow().UtcDateTime, write.Origin, context.RequestAborted))!;
        context.Response.Headers.CacheControl = "no-store";
        return Reply.Json(new CourseDeleted(deleted.Reports, deleted.Gradings, deleted.Keys, CourseDeleted.Remains));
    }

    private static async Task<Problem?> RefusedAsync(string id, HttpContext context, CourseAccess access) =>
        await access.IsOwnerAsync(context, id) ? null : new Problem(ProblemTypes.ScopeMissing, "The owners of the course and administrators archive and delete it.");
}

/// <summary>States that an endpoint writes to a course although it is archived.</summary>
public sealed record AlsoArchived;
