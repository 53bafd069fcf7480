using System.Globalization;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Teaching;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>The unknowns handed out.</summary>
public static class AssignmentEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapAssignments(this RouteGroupBuilder courses)
    {
        courses.MapGet("/{id}/assignments", ListAsync)
            .RequireRole(Role.Student)
            .WithName("listAssignments")
            .WithSummary("List the unknowns handed out")
            .WithDescription(
                "Of the hand-out in force, by student; a student gets their own. What is inside is told to graders and further "
                + "up, when they ask with identities=true. With Accept: text/csv the whole list as a CSV file.")
            .WithQuery<AssignmentQuery>()
            .Produces<RowPage<AssignmentItem>>(StatusCodes.Status200OK, MediaTypes.Json, MediaTypes.Csv)
            .ProducesProblems(ProblemTypes.NotFound);
        courses.MapGet("/{id}/labels", LabelsAsync)
            .RequireRole(Role.Grader)
            .WithName("printLabels")
            .WithSummary("Get a sheet of labels to print")
            .WithDescription(
                "One label an unknown: its code, student or group, place and course, and a caution made of the whole shelf, the same on each. It says "
                + "nothing of what is inside.")
            .Produces<string>(StatusCodes.Status200OK, "text/html")
            .ProducesProblems(ProblemTypes.NotFound);
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="handOuts">The unknowns handed out.</param>
    private static async Task<IResult> ListAsync(string id, HttpContext context, CourseAccess access, HandOuts handOuts)
    {
        if (!RequestQuery.Read<AssignmentQuery>(context.Request).Succeeded(out var query, out var problem)
            || !(await access.FindAsync(context, id)).Succeeded(out var view, out problem))
        {
            return problem;
        }

        if (query.Identities == true && !view.SeesIdentities)
        {
            return new Problem(ProblemTypes.ScopeMissing, "Identities are for graders and instructors.");
        }

        var rows = await handOuts.AssignmentsAsync(
            id, view.Course.HandOutNumber, view.Student?.StudentKey, context.RequestAborted);
        if (CsvText.IsWantedBy(context.Request))
        {
            return CsvText.Answer(context, Csv(rows, query.Identities == true), "assignments.csv");
        }

        return await Pager.ListAsync<AssignmentQuery, Assignment, AssignmentItem>(
            context,
            (_, beyond, most) => Task.FromResult(After(rows, beyond).Take(most).ToList()),
            SortKey,
            _ => true,
            row => new AssignmentItem(row.Code, row.StudentKey, row.Number, query.Identities == true ? row.ParentKey : null) { Group = row.GroupName });
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="handOuts">The unknowns handed out.</param>
    /// <param name="courses">The courses.</param>
    /// <param name="tables">The versions of the table.</param>
    private static async Task<IResult> LabelsAsync(
        string id, HttpContext context, CourseAccess access, HandOuts handOuts, Store.Teaching.Courses courses, TableSnapshots tables)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out var view, out var problem))
        {
            return problem;
        }

        // Of what was handed out: a compound may be off the course's shelf by now, and is in its vials all the same.
        var handOut = await handOuts.FindAsync(id, view.Course.HandOutNumber, context.RequestAborted);
        if (!(await tables.FindAsync(handOut?.TableVersion ?? view.Course.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        var rows = await handOuts.AssignmentsAsync(id, view.Course.HandOutNumber, null, context.RequestAborted);
        var students = await courses.RosterAsync(id, context.RequestAborted);
        context.Response.Headers.CacheControl = "no-store";
        context.Response.Headers.ContentSecurityPolicy = "default-src 'none'; style-src 'unsafe-inline'";
        var caution = Caution.OfUnknown((handOut?.ShelfKeys ?? view.Course.ShelfKeys).Select(key => table.ParentByKey[key].Hazards));
        return Results.Text(LabelSheet.Write(view.Course, rows, students, caution), "text/html; charset=utf-8");
    }

    private static IEnumerable<Assignment> After(IReadOnlyList<Assignment> rows, string? beyond) =>
        beyond is null ? rows : rows.Where(row => string.CompareOrdinal(SortKey(row), beyond) > 0);

    private static string SortKey(Assignment row) =>
        string.Create(CultureInfo.InvariantCulture, $"{row.StudentKey}\n{row.Number}");

    private static string Csv(IReadOnlyList<Assignment> rows, bool withIdentities)
    {
        string[] header = ["code", "student", "number"];
        return CsvText.Write(
            withIdentities ? [.. header, "parent", "group"] : [.. header, "group"],
            rows.Select(row => (IReadOnlyList<string?>)[
                row.Code,
                row.StudentKey,
                row.Number.ToString(CultureInfo.InvariantCulture),
                .. withIdentities ? new[] { row.ParentKey } : [],
                row.GroupName]));
    }
}
