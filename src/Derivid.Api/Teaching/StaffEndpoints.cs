using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>The staff of a course.</summary>
public static class StaffEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapStaff(this RouteGroupBuilder courses)
    {
        courses.MapGet("/{id}/staff", GetAsync)
            .RequireRole(Role.Grader)
            .WithName("getStaff")
            .WithSummary("Get the staff of a course")
            .WithDescription("Who sees and grades it, besides administrators; in order of who they are. The ETag is the course's.")
            .Produces<StaffBody>()
            .ProducesProblems(ProblemTypes.NotFound);
        courses.MapPut("/{id}/staff", PutAsync)
            .RequireRole(Role.Instructor)
            .TakesRevision()
            .WithName("putStaff")
            .WithSummary("Put a staff in place of the one before")
            .WithDescription(
                "For owners of the course and administrators. What each may do there is what their role allows; nobody is of the "
                + "staff of a course and its student.")
            .WithBody<StaffBody>()
            .Produces<StaffBody>()
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
        return Answered(await courses.StaffAsync(id, context.RequestAborted));
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The courses.</param>
    private static async Task<IResult> PutAsync(
        string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out _, out var problem))
        {
            return problem;
        }

        if (!await access.IsOwnerAsync(context, id))
        {
            return new Problem(ProblemTypes.ScopeMissing, "The owners of the course and administrators say who is of its staff.");
        }

        if (!(await WriteRequest.ReadAsync<StaffBody>(context)).Succeeded(out var write, out problem))
        {
            return problem;
        }

        var errors = new FieldErrors();
        var staff = ToStore(id, write.Body.Staff, errors);
        if (errors.ToProblem() is { } wrong)
        {
            return wrong;
        }

        var course = await courses.ReplaceStaffAsync(id, write.Revision, staff, write.Origin, context.RequestAborted);
        Revisions.Tag(context, course!.Revision);
        return Answered(staff);
    }

    private static IResult Answered(IEnumerable<CourseStaff> staff) => Reply.Json(new StaffBody
    {
        Staff = [.. staff.OrderBy(member => member.Actor, StringComparer.Ordinal)
            .Select(member => new StaffMember { Actor = member.Actor, IsOwner = member.IsOwner })],
    });

    private static List<CourseStaff> ToStore(string courseId, IReadOnlyList<StaffMember> staff, FieldErrors errors)
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var kept = new List<CourseStaff>(staff.Count);
        foreach (var (index, member) in staff.Index())
        {
            var actor = member.Actor.Trim();
            var place = FormattableString.Invariant($"/staff/{index}/actor");
            if (!ActorName.IsOne(actor) || Text.HasControlCharacter(actor))
            {
                errors.Add(place, Rosters.NoCaller(actor));
            }
            else if (!seen.Add(actor))
            {
                errors.Add(place, $"{Text.Quoted(actor)} is named before; name everybody once.");
            }

            kept.Add(new CourseStaff { CourseId = courseId, Actor = actor, IsOwner = member.IsOwner ?? false, IsServing = true });
        }

        if (!kept.Exists(member => member.IsOwner))
        {
            errors.Add("/staff", "Names no owner; at least one says who else is of the staff.");
        }

        return kept;
    }
}
