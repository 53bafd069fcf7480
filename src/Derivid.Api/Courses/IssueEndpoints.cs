using System.Globalization;
using Derivid.Api.Access;
using Derivid.Api.Documentation;
using Derivid.Api.Json;
using Derivid.Api.Problems;
using Derivid.Api.Table;
using Derivid.Api.Writing;
using Derivid.Core.Teaching.Issuing;
using Derivid.Store.Access;
using Derivid.Store.Teaching;

namespace Derivid.Api.Courses;

/// <summary>Checking a shelf and issuing unknowns from it.</summary>
public static class IssueEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapIssues(this RouteGroupBuilder courses)
    {
        courses.MapGet("/{id}/shelf-check", CheckAsync)
            .RequireRole(Role.Grader)
            .WithName("checkShelf")
            .WithSummary("Check what can be told apart on the shelf")
            .WithDescription(
                "For every compound, what the engine makes of ideal readings with the course's derivatives and tests, which "
                + "others stay possible, and what would settle it.")
            .WithQuery<ShelfQuery>()
            .Produces<ShelfCheck>()
            .ProducesProblems(ProblemTypes.NotFound);
        courses.MapPost("/{id}/issues", IssueAsync)
            .RequireRole(Role.Instructor)
            .TakesRequestKey()
            .WithName("issueUnknowns")
            .WithSummary("Issue unknowns to the students of a course")
            .WithDescription(
                "No neighbours share a compound; only compounds the laboratory can identify are used, each as often as the "
                + "others, difficulty spread fairly. The same seed, roster, shelf, rules and table version give the same issue. "
                + "A new issue takes the place of the one before until the first report is handed in.")
            .WithQuery<NoQuery>()
            .Accepts<IssueRequest>("application/json")
            .Produces<IssueItem>(StatusCodes.Status201Created)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.CourseStateForbids, ProblemTypes.IssuingImpossible, ProblemTypes.StaleRevision)
            .ProducesProblems(CourseEndpoints.BodyProblems);
        courses.MapGet("/{id}/issues/{number}", GetAsync)
            .RequireRole(Role.Instructor)
            .WithName("getIssue")
            .WithSummary("Get an issue of unknowns")
            .WithDescription("With its seed, its rules and what came of them.")
            .WithQuery<NoQuery>()
            .Produces<IssueItem>()
            .ProducesProblems(ProblemTypes.NotFound);
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="tables">The versions of the table.</param>
    private static async Task<IResult> CheckAsync(
        string id, HttpContext context, CourseAccess access, TableSnapshots tables)
    {
        if (!RequestQuery.Read<ShelfQuery>(context.Request).Succeeded(out var query, out var problem)
            || !(await access.FindAsync(context, id)).Succeeded(out var view, out problem)
            || !(await tables.FindAsync(view.Course.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        var check = new IdentifiabilityCheck(
            Issuing.LaboratoryOf(view.Course), query.LeastPosterior ?? new IssuingRules().LeastPosterior, table.Snapshot);
        return TableAnswer.Json(new ShelfCheck(table.Table.Version, [.. check.Run().Select(ShelfItem.Of)]));
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The courses.</param>
    /// <param name="issues">The unknowns issued.</param>
    /// <param name="tables">The versions of the table.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> IssueAsync(
        string id,
        HttpContext context,
        CourseAccess access,
        Store.Teaching.Courses courses,
        Issues issues,
        TableSnapshots tables,
        TimeProvider time)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out var view, out var problem)
            || !(await WriteRequest.ReadAsync<IssueRequest>(context)).Succeeded(out var write, out problem)
            || !(await tables.FindAsync(view.Course.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        var students = await courses.RosterAsync(id, context.RequestAborted);
        if (!Issuing.Of(view.Course, students, write.Body, table, time.GetUtcNow().UtcDateTime)
            .Succeeded(out var issued, out problem))
        {
            return problem;
        }

        var created = await issues.AddAsync(
            view.Course, issued.Issue, issued.Assignments, write.Mark, write.Origin, context.RequestAborted);
        WriteRequest.Answered(
            context,
            created.IsNew,
            string.Create(CultureInfo.InvariantCulture, $"/api/v1/courses/{id}/issues/{created.Value.Number}"));
        return TableAnswer.Json(IssueItem.Of(created.Value));
    }

    /// <param name="id">The course.</param>
    /// <param name="number">Number of the issue, from 1.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="issues">The unknowns issued.</param>
    private static async Task<IResult> GetAsync(
        string id, string number, HttpContext context, CourseAccess access, Issues issues)
    {
        if (!RequestQuery.Read<NoQuery>(context.Request).Succeeded(out _, out var problem)
            || !(await access.FindAsync(context, id)).Succeeded(out _, out problem))
        {
            return problem;
        }

        context.Response.Headers.CacheControl = "no-store";
        return int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out var wanted)
            && await issues.FindAsync(id, wanted, context.RequestAborted) is { } issue
                ? TableAnswer.Json(IssueItem.Of(issue))
                : new Problem(ProblemTypes.NotFound, $"The course has no issue {Text.Quoted(number)}.");
    }
}
