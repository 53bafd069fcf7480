using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store.Access;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Keys for the students of a course, from those who teach it.</summary>
public static class StudentKeyEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapStudentKeys(this RouteGroupBuilder courses) =>
        courses.MapPost("/{id}/keys", GiveAsync)
            .RequireRole(Role.Instructor)
            .TakesRevision()
            .WithName("giveStudentKeys")
            .WithSummary("Give students of a course keys")
            .WithDescription(
                "One for everybody of the roster without an actor, or for the students named; the roster says from then on whose each "
                + "is. The keys are in this answer and nowhere else. Who is named and had a key gets another in its place, and the "
                + "one before is revoked, if it was made here: so a lost key is replaced. Keys made here "
                + "are students' keys, and show their holders their own.")
            .WithBody<StudentKeysRequest>()
            .Produces<StudentKeysMade>()
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.CourseStateForbids);

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The courses.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> GiveAsync(
        string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses, TimeProvider time)
    {
        if (!(await access.ReadAsync<StudentKeysRequest>(context, id, RequestLimits.BatchBytes)).Succeeded(out var sent, out var problem))
        {
            return problem;
        }

        var (view, write) = sent;
        if (!Chosen(await courses.RosterAsync(id, context.RequestAborted), write.Body.Students).Succeeded(out var students, out problem))
        {
            return problem;
        }

        var now = time.GetUtcNow().UtcDateTime;
        var expires = now.AddDays(write.Body.ValidDays ?? KeyRequest.DefaultValidDays);
        var texts = students.Select(_ => KeyText.New()).ToList();
        var course = await courses.GiveKeysAsync(
            id,
            write.Revision,
            [.. students.Zip(texts, (student, text) => new GivenKey(
                student.StudentKey,
                new ApiKey
                {
                    Id = text.Id,
                    SecretHash = text.SecretHash(),
                    Name = $"{student.StudentKey}, {view.Course.Name}",
                    Role = Role.Student,
                    CreatedAtUtc = now,
                    CreatedBy = write.Origin.Actor,
                    ExpiresAtUtc = expires,
                },
                ActorName.OfKey(text.Id)))],
            now,
            write.Origin,
            context.RequestAborted);
        Revisions.Tag(context, course!.Revision);
        context.Response.Headers.CacheControl = "no-store";
        return Reply.Json(new StudentKeysMade([.. students.Zip(texts, (student, text) => new StudentKey(student.StudentKey, text.Reveal(), expires))]));
    }

    private static Outcome<List<CourseStudent>> Chosen(IReadOnlyList<CourseStudent> roster, IReadOnlyList<string>? named)
    {
        if (named is null)
        {
            var without = roster.Where(student => student.Actor is null).ToList();
            return without.Count > 0
                ? without
                : FieldErrors.One("/students", roster.Count == 0
                    ? "The roster is empty; put one first."
                    : "Everybody of the roster has an actor. Name those who are to get another key.");
        }

        var errors = new FieldErrors();
        var chosen = new List<CourseStudent>();
        foreach (var (index, student) in named.Index())
        {
            if (roster.FirstOrDefault(each => each.StudentKey == student) is not { } found)
            {
                errors.Add(FormattableString.Invariant($"/students/{index}"), $"{Text.Quoted(student)} is not in the roster.");
            }
            else if (chosen.Contains(found))
            {
                errors.Add(FormattableString.Invariant($"/students/{index}"), $"{Text.Quoted(student)} is named before; name everybody once.");
            }
            else
            {
                chosen.Add(found);
            }
        }

        return errors.ToProblem() is { } wrong ? wrong : chosen;
    }
}
