using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store.Access;
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
                + "staff of a course and its student. A key has to be given out, and an owner's to be an instructor's at least.")
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
    /// <param name="keys">The keys given out.</param>
    private static async Task<IResult> PutAsync(
        string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses, ApiKeys keys)
    {
        if (!(await access.ReadAsync<StaffBody>(context, id)).Succeeded(out var sent, out var problem))
        {
            return problem;
        }

        if (!await access.IsOwnerAsync(context, id))
        {
            return new Problem(ProblemTypes.ScopeMissing, "The owners of the course and administrators say who is of its staff.");
        }

        var write = sent.Write;
        var errors = new FieldErrors();
        var staff = ToStore(id, write.Body.Staff, errors);
        await CheckKeysAsync(staff, keys, errors, context.RequestAborted);
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

    private static string Place(int index) => FormattableString.Invariant($"/staff/{index}/actor");

    // Keys are never deleted, and keep their role. Of whoever signs in at the institution the service knows nothing beforehand.
    private static async Task CheckKeysAsync(List<CourseStaff> staff, ApiKeys keys, FieldErrors errors, CancellationToken cancellation)
    {
        var named = staff.Select(member => ActorName.KeyIdOf(member.Actor)).OfType<string>().ToHashSet();
        var known = named.Count == 0 ? [] : await keys.FindAsync(named, cancellation);
        foreach (var (index, member) in staff.Index())
        {
            if (ActorName.KeyIdOf(member.Actor) is not { } id || Text.HasControlCharacter(id))
            {
                continue;
            }

            var least = member.IsOwner ? Role.Instructor : Role.Grader;
            if (!known.TryGetValue(id, out var key))
            {
                errors.Add(Place(index), $"{Text.Quoted(member.Actor)} names no key given out here; GET /api/v1/people and the view of the staff tell those there are.");
            }
            else if (key.Role < least)
            {
                errors.Add(
                    Place(index),
                    $"{Text.Quoted(member.Actor)} is a {WireJson.Word(key.Role)}'s key; {(member.IsOwner ? "an owner is" : "whoever is of the staff is")} {WireJson.Word(least)} at least.");
            }
        }
    }

    private static List<CourseStaff> ToStore(string courseId, IReadOnlyList<StaffMember> staff, FieldErrors errors)
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var kept = new List<CourseStaff>(staff.Count);
        foreach (var (index, member) in staff.Index())
        {
            var actor = member.Actor.Trim();
            var place = Place(index);
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
