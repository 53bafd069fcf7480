using System.Text.Json;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Core.Teaching.ClassView;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>A class seen as a whole.</summary>
public static class OverviewEndpoints
{
    /// <summary>Maps it.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapOverview(this RouteGroupBuilder courses) =>
        courses.MapGet("/{id}/overview", GetAsync)
            .RequireRole(Role.Grader)
            .TakesTurns()
            .WithName("overviewCourse")
            .WithSummary("See a class as a whole")
            .WithDescription(
                "How far readings lie from the literature by compound and by bench, which bench's thermometers or which batch may be "
                + "off, which items were hard and which told strong students from weak ones, and what may be worth a look. While it is marked anonymously nothing "
                + "that is reckoned by benches, and students by their marking codes.")
            .WithQuery<OverviewQuery>()
            .Produces<OverviewItem>()
            .ProducesProblems(ProblemTypes.NotFound);

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="classReports">The class.</param>
    /// <param name="gradings">The gradings.</param>
    /// <param name="tables">The versions of the table.</param>
    /// <param name="marking">By which names students are told.</param>
    private static async Task<IResult> GetAsync(
        string id,
        HttpContext context,
        CourseAccess access,
        ClassReports classReports,
        Gradings gradings,
        TableSnapshots tables,
        AnonymousMarking marking)
    {
        if (!RequestQuery.Read<OverviewQuery>(context.Request).Succeeded(out var query, out var problem)
            || !(await access.FindAsync(context, id)).Succeeded(out var view, out problem)
            || !(await tables.FindAsync(view.Course.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        Grading? grading = null;
        if ((query.Grading ?? view.Course.PublishedGradingId) is { } named
            && !(await GradingEndpoints.FindAsync(id, named, gradings, context.RequestAborted)).Succeeded(out grading, out problem))
        {
            return problem;
        }

        var names = await marking.OfAsync(view, context.RequestAborted);
        var reports = await classReports.ReadAsync(view.Course, grading, table, names, context.RequestAborted);
        var overview = ClassOverview.Of(reports, table.Snapshot);
        context.Response.Headers.CacheControl = "no-store";
        return Reply.Json(new OverviewItem(
            table.Table.Version,
            reports.Count,
            overview.ByCompound,
            overview.ByBench,
            overview.Suggestions,
            [.. overview.Items.Select(Named)],
            overview.Signals));
    }

    // A criterion is called here as it is everywhere else on the wire.
    private static ItemAnalysis Named(ItemAnalysis item) =>
        item.Kind == ItemAnalysisKind.Criterion ? item with { Key = JsonNamingPolicy.CamelCase.ConvertName(item.Key) } : item;
}
