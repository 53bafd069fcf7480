using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>The students of a course.</summary>
public static class RosterEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapRosters(this RouteGroupBuilder courses)
    {
        courses.MapGet("/{id}/roster", GetAsync)
            .RequireRole(Role.Grader)
            .WithName("getRoster")
            .WithSummary("Get the roster of a course")
            .WithDescription("In order of the identifiers; with Accept: text/csv as a CSV file. The ETag is the course's.")
            .Produces<RosterBody>(StatusCodes.Status200OK, MediaTypes.Json, MediaTypes.Csv)
            .ProducesProblems(ProblemTypes.NotFound);
        courses.MapPut("/{id}/roster", PutAsync)
            .RequireRole(Role.Instructor)
            .TakesRevision()
            .WithName("putRoster")
            .WithSummary("Put a roster in place of the one before")
            .WithDescription(
                "As JSON, or as a CSV file (Content-Type: text/csv) with the columns student, bench, place, neighbours (parted "
                + "by semicolons) and actor. Who is given no actor stays who they were. Students who are not in it any more are no "
                + "longer enrolled; their reports stay. A roster from which students with an actor or unknowns fall out, or in which "
                + "they become somebody else, is refused and the answer says who, until it is sent with dropsStudents=true; their keys "
                + "are then revoked, unless they belong to another course with them. At most 4 MB.")
            .WithQuery<RosterQuery>()
            .WithBody<RosterBody>(MediaTypes.Csv)
            .Produces<RosterBody>()
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.RosterDropsStudents, ProblemTypes.Busy);
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

        var roster = Rosters.ToWire(await courses.RosterAsync(id, context.RequestAborted));
        Revisions.Tag(context, view.Course.Revision);
        return CsvText.IsWantedBy(context.Request)
            ? CsvText.Answer(context, RosterCsv.Write(roster.Students), "roster.csv")
            : Reply.Json(roster);
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The courses.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> PutAsync(
        string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses, TimeProvider time)
    {
        if (!RequestQuery.Read<RosterQuery>(context.Request).Succeeded(out var query, out var problem)
            || !(await access.FindAsync(context, id)).Succeeded(out _, out problem)
            || !(await ReadAsync(id, context)).Succeeded(out var sent, out problem))
        {
            return problem;
        }

        var course = await courses.ReplaceRosterAsync(
            id, sent.Write.Revision, sent.Students, query.DropsStudents == true, time.GetUtcNow().UtcDateTime, sent.Write.Origin, context.RequestAborted);
        Revisions.Tag(context, course!.Revision);
        return Reply.Json(Rosters.ToWire(await courses.RosterAsync(id, context.RequestAborted)));
    }

    private static async Task<Outcome<Sent>> ReadAsync(string id, HttpContext context) =>
        !MediaTypes.Of(context.Request, "body", MediaTypes.Json, MediaTypes.Csv).Succeeded(out var type, out var problem) ? problem
        : type == MediaTypes.Csv ? await ReadCsvAsync(id, context)
        : await ReadJsonAsync(id, context);

    private static async Task<Outcome<Sent>> ReadJsonAsync(string id, HttpContext context)
    {
        if (!(await WriteRequest.ReadAsync<RosterBody>(context, RequestLimits.BatchBytes)).Succeeded(out var write, out var problem))
        {
            return problem;
        }

        var errors = new FieldErrors();
        var students = Rosters.ToStore(id, write.Body.Students, "/students", errors);
        return errors.ToProblem() is { } wrong ? wrong : new Sent(write, students);
    }

    private static async Task<Outcome<Sent>> ReadCsvAsync(string id, HttpContext context)
    {
        if (!WriteRequest.Read(context).Succeeded(out var write, out var problem))
        {
            return problem;
        }

        if (!(await FileBody.ReadAsync(context.Request, isJson: false, RequestLimits.BatchBytes)).Succeeded(out var file, out problem))
        {
            return problem;
        }

        using var held = file;
        using var text = file.TextFromStart();
        var errors = new FieldErrors();
        var read = RosterCsv.Read(text, errors);
        if (errors.Count == 0 && read.Count == 0)
        {
            errors.Add("", "Holds no student.");
        }

        var students = errors.Count == 0 ? Rosters.ToStore(id, read, "", errors) : [];
        return errors.ToProblem() is { } wrong ? wrong : new Sent(write, students);
    }

    private sealed record Sent(WriteRequest Write, IReadOnlyList<Store.Teaching.CourseStudent> Students);
}
