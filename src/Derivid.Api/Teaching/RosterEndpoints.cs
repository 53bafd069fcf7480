using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Teaching;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>The students of a course.</summary>
public static class RosterEndpoints
{
    private const int MostNamed = 12;

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
                + "by semicolons), actor and group; other columns, such as a learning system exports, are passed over. Or as a ZIP archive "
                + "(application/zip) of 1EdTech OneRoster 1.2: users.csv and enrollments.csv, manifest.csv where the system writes one, "
                + "classes.csv to tell several classes by title; their students are taken by sourcedId, and those who stay keep bench, "
                + "place, neighbours and group, which that standard has not. Students of one group share their unknowns and hand in one report on each; "
                + "who shares one that is handed out stays as it was then, until unknowns are handed out anew. Names and e-mail addresses are never kept. The answer's remarks say what was not read. Who is given no actor stays who they were. Students who are not in it any more are no "
                + "longer enrolled; their reports stay. A roster from which students with an actor or unknowns fall out, or in which "
                + "they become somebody else, is refused and the answer says who, until it is sent with dropsStudents=true; their keys "
                + "are then revoked where the course gave them, unless they belong to another course with them. Keys of staff are refused; so is that a student becomes somebody else once unknowns of a course marked anonymously are handed out, until grades are published. At most 4 MB.")
            .WithQuery<RosterQuery>()
            .WithBody<RosterBody>(MediaTypes.Csv, MediaTypes.Zip)
            .Produces<RosterTaken>()
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.CourseStateForbids, ProblemTypes.Withheld, ProblemTypes.RosterDropsStudents, ProblemTypes.Busy);
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
    /// <param name="handOuts">The unknowns handed out.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> PutAsync(
        string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses, HandOuts handOuts, TimeProvider time)
    {
        if (!RequestQuery.Read<RosterQuery>(context.Request).Succeeded(out var query, out var problem))
        {
            return problem;
        }

        // As CourseAccess.ReadAsync does: the body first.
        var read = await ReadAsync(context, query);
        if (!(await access.FindAsync(context, id)).Succeeded(out var view, out problem)
            || !read.Succeeded(out var sent, out problem)
            || (problem = CourseAccess.Stale(context, view, sent.Write)) is not null
            || !(await StudentsAsync(id, sent, courses, context.RequestAborted)).Succeeded(out var students, out problem))
        {
            return problem;
        }

        var course = await courses.ReplaceRosterAsync(
            id, sent.Write.Revision, students, query.DropsStudents == true, time.GetUtcNow().UtcDateTime, sent.Write.Origin, context.RequestAborted);
        Revisions.Tag(context, course!.Revision);
        var roster = await courses.RosterAsync(id, context.RequestAborted);
        var unknowns = await handOuts.AssignmentsAsync(id, view.Course.HandOutNumber, null, context.RequestAborted);
        List<string> remarks = [.. sent.Remarks, .. OnGroups(roster, unknowns)];
        return Reply.Json(new RosterTaken { Students = Rosters.ToWire(roster).Students, Remarks = remarks.Count > 0 ? remarks : null });
    }

    // A column that happens to be called group makes groups, and must not do so unnoticed.
    private static IEnumerable<string> OnGroups(IReadOnlyList<Store.Teaching.CourseStudent> roster, IReadOnlyList<Assignment> unknowns)
    {
        var groups = roster.Where(student => student.GroupName is not null).GroupBy(student => student.GroupName, StringComparer.Ordinal).ToList();
        if (groups.Count > 0)
        {
            yield return $"{Figure.Count(groups.Count, "group")} of {Figure.Count(groups.Sum(group => group.Count()), "student")}: who is in one shares its unknowns, and a report that one of them hands in is that of all.";
        }

        var before = unknowns.GroupBy(row => row.StudentKey, StringComparer.Ordinal).ToDictionary(rows => rows.Key, rows => rows.First().GroupName, StringComparer.Ordinal);
        var moved = roster.Where(student => before.TryGetValue(student.StudentKey, out var group) && group != student.GroupName)
            .Select(student => student.StudentKey).ToList();
        if (moved.Count > 0)
        {
            yield return $"Unknowns are handed out, and who shares them stays as it was then. In other groups from the next hand-out on: {string.Join(", ", moved.Take(MostNamed))}{(moved.Count > MostNamed ? $" and {moved.Count - MostNamed} more" : "")}.";
        }
    }

    // A roster that can be kept of one that was sent, by whoever sees the course.
    private static async Task<Outcome<Store.Teaching.CourseStudent[]>> StudentsAsync(
        string id, Sent sent, Store.Teaching.Courses courses, CancellationToken cancellation)
    {
        var students = sent.Students;
        if (sent.KeepsPlaces)
        {
            var before = (await courses.RosterAsync(id, cancellation)).ToDictionary(student => student.StudentKey, StringComparer.Ordinal);
            var keys = students.Select(student => student.Student).ToHashSet(StringComparer.Ordinal);
            students = [.. students.Select(student => before.TryGetValue(student.Student, out var known)
                ? new RosterStudent { Student = student.Student, Bench = known.Bench, Place = known.Place, Neighbours = [.. known.Neighbours.Where(keys.Contains)], Group = known.GroupName }
                : student)];
        }

        var errors = new FieldErrors();
        var kept = Rosters.ToStore(id, students, sent.Place, errors);
        return errors.ToProblem() is { } wrong ? wrong : kept;
    }

    private static async Task<Outcome<Sent>> ReadAsync(HttpContext context, RosterQuery query)
    {
        if (!MediaTypes.Of(context.Request, "body", MediaTypes.Json, MediaTypes.Csv, MediaTypes.Zip).Succeeded(out var type, out var problem))
        {
            return problem;
        }

        if (query.Class is not null && type != MediaTypes.Zip)
        {
            return FieldErrors.One("?class", "It chooses among the classes of a OneRoster archive; leave it out.");
        }

        if (query.StudentColumn is not null && type == MediaTypes.Json)
        {
            return FieldErrors.One("?studentColumn", "It names a column of a file; leave it out.");
        }

        return type == MediaTypes.Zip ? await ReadZipAsync(context, query)
            : type == MediaTypes.Csv ? await ReadCsvAsync(context, query)
            : (await WriteRequest.ReadAsync<RosterBody>(context, RequestLimits.BatchBytes)).Succeeded(out var write, out problem)
                ? new Sent(write, write.Body.Students, "/students")
            : problem;
    }

    private static async Task<Outcome<Sent>> ReadCsvAsync(HttpContext context, RosterQuery query)
    {
        if (!WriteRequest.Read(context).Succeeded(out var write, out var problem)
            || !(await FileBody.ReadAsync(context.Request, isJson: false, RequestLimits.BatchBytes)).Succeeded(out var file, out problem))
        {
            return problem;
        }

        using var held = file;
        using var text = file.TextFromStart();
        var (errors, remarks) = (new FieldErrors(), new List<string>());
        var read = RosterCsv.Read(text, query.StudentColumn, remarks, errors);
        if (errors.Count == 0 && read.Count == 0)
        {
            errors.Add("", "Holds no student.");
        }

        return errors.ToProblem() is { } wrong ? wrong : new Sent(write, read, "") { Remarks = remarks };
    }

    private static async Task<Outcome<Sent>> ReadZipAsync(HttpContext context, RosterQuery query)
    {
        if (!WriteRequest.Read(context).Succeeded(out var write, out var problem)
            || !(await FileBody.ReadArchiveAsync(context.Request, RequestLimits.BatchBytes)).Succeeded(out var file, out problem))
        {
            return problem;
        }

        using var held = file;
        return (await OneRosterClass.ReadAsync(file.FromStart(), query, context.RequestAborted)).Succeeded(out var read, out problem)
            ? new Sent(write, [.. read.Students.Select(key => new RosterStudent { Student = key })], "") { KeepsPlaces = true, Remarks = read.Remarks }
            : problem;
    }

    // As it was sent; its place in the body is for faults.
    private sealed record Sent(WriteRequest Write, IReadOnlyList<RosterStudent> Students, string Place)
    {
        // OneRoster knows no benches.
        public bool KeepsPlaces { get; init; }

        public IReadOnlyList<string> Remarks { get; init; } = [];
    }
}
