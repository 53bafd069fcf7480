using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store.Databases;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Reports, from the first draft on.</summary>
public static class ReportEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapReports(this RouteGroupBuilder courses)
    {
        var reports = courses.MapGroup("/{id}/reports").RequireRole(Role.Student);
        reports.MapPost("", MakeAsync)
            .WithIdempotencyKey()
            .WithName("makeReport")
            .WithSummary("Hand in a report, or begin a draft")
            .WithDescription(
                "On an unknown of yours; graders may do it for a student, unless the course is marked anonymously and grades aren't published. Each report is an attempt, and the last one handed in "
                + "counts, or the best where the course says so; one that says nothing is no attempt and is refused. What is handed in is never changed.")
            .WithBody<ReportRequest>()
            .Produces<ReportItem>(StatusCodes.Status201Created)
            .ProducesProblems(WritingProblems);
        reports.MapGet("", ListAsync)
            .WithName("listReports")
            .WithSummary("List reports")
            .WithDescription(
                "Those handed in on the hand-out in force, in order of their ids; a student gets their own, drafts too. In a course for "
                + "practice each that is handed in tells what the unknown was. In one marked anonymously staff aren't told whose they are until "
                + "grades are published: a marking code a student, other ids, no hours, no thermometers.")
            .WithQuery<PageQuery>()
            .Produces<RowPage<ReportItem>>()
            .ProducesProblems(ProblemTypes.NotFound);
        reports.MapGet("/{reportId}", GetAsync)
            .WithName("getReport")
            .WithSummary("Get a report")
            .WithDescription(
                "With its ETag, which a change of a draft has to name. In a course for practice one that is handed in tells what the unknown was. "
                + "While it is marked anonymously staff get those handed in, by the ids that the list tells, and no ETag.")
            .Produces<ReportItem>()
            .ProducesProblems(ProblemTypes.NotFound);
        reports.MapPut("/{reportId}", ChangeAsync)
            .TakesRevision()
            .WithName("changeReport")
            .WithSummary("Change a draft, or hand it in")
            .WithDescription("Puts the whole report in place of the draft; without isDraft it is handed in.")
            .WithBody<ReportRequest>()
            .Produces<ReportItem>()
            .ProducesProblems(WritingProblems);
        reports.MapGet("/{reportId}/ranking", RankAsync)
            .NotInExaminations()
            .TakesTurns()
            .WithName("rankReport")
            .WithSummary("See what the engine makes of a report")
            .WithDescription(
                "The ranking of its own observation against the shelf list; it knows nothing of what was handed out. A student sees "
                + "it where the course allows, and no ranking while they sit an examination.")
            .Produces<IdentificationReply>()
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.Withheld);
    }

    private static ProblemType[] WritingProblems =>
        [
            ProblemTypes.NotFound, ProblemTypes.Withheld, ProblemTypes.CourseStateForbids, ProblemTypes.ContradictoryReadings,
            ProblemTypes.MeltingRangeReversed, ProblemTypes.ThermometerImplausible,
        ];

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="intake">Takes reports in.</param>
    /// <param name="reports">The reports.</param>
    /// <param name="ids">Makes its id.</param>
    private static async Task<IResult> MakeAsync(
        string id, HttpContext context, CourseAccess access, ReportIntake intake, Reports reports, ResourceIds ids)
    {
        // The body first, however slowly it comes: what the course allows is judged when the report is here.
        if (!(await WriteRequest.ReadAsync<ReportRequest>(context)).Succeeded(out var write, out var problem)
            || !(await access.FindAsync(context, id)).Succeeded(out var view, out problem))
        {
            return problem;
        }

        if (AnonymousMarking.Writing(view) is { } uncovers)
        {
            return uncovers;
        }

        if (await reports.MadeByAsync(write.Key, context.RequestAborted) is { } before)
        {
            return Made(context, before, isNew: false);
        }

        if (!(await intake.ReadAsync(view, write.Body, Arrival.Of(context).AtUtc, context.RequestAborted)).Succeeded(out var read, out problem))
        {
            return problem;
        }

        var created = await reports.AddAsync(
            read.ToReport(ids.New()), view.Course.MostAttempts, write.Key, write.Origin, context.RequestAborted);
        return Made(context, created.Value, created.IsNew);
    }

    private static IResult Made(HttpContext context, CourseReport report, bool isNew)
    {
        WriteRequest.Made(context, $"/api/v1/courses/{report.CourseId}/reports/{report.Id}", isNew);
        Revisions.Tag(context, report.Revision);
        return Reply.Json(ReportItem.Of(report));
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="reports">The reports.</param>
    /// <param name="handOuts">The unknowns handed out.</param>
    /// <param name="marking">By which names reports are told.</param>
    private static async Task<IResult> ListAsync(
        string id, HttpContext context, CourseAccess access, Reports reports, HandOuts handOuts, AnonymousMarking marking)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out var view, out var problem))
        {
            return problem;
        }

        var told = await ToldAsync(view, view.Course.HandOutNumber, handOuts, context.RequestAborted);
        var names = await marking.OfAsync(view, context.RequestAborted);
        return await Pager.ListAsync<PageQuery, CourseReport, ReportItem>(
            context,
            (_, beyond, most) => names.PageAsync(
                (after, count) => reports.ListAsync(
                    id, view.Course.HandOutNumber, view.Student?.StudentKey, after, count, context.RequestAborted),
                report => report.Id,
                beyond,
                most),
            report => names.Report(report.Id),
            ResourceIds.IsWellFormed,
            report => names.Told(Told(report, told)));
    }

    /// <param name="id">The course.</param>
    /// <param name="reportId">The report.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="reports">The reports.</param>
    /// <param name="handOuts">The unknowns handed out.</param>
    /// <param name="marking">By which names reports are told.</param>
    private static async Task<IResult> GetAsync(
        string id, string reportId, HttpContext context, CourseAccess access, Reports reports, HandOuts handOuts, AnonymousMarking marking)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out var view, out var problem))
        {
            return problem;
        }

        var names = await marking.OfAsync(view, context.RequestAborted);
        if (!(await ReadAsync(view, reportId, names, reports, context.RequestAborted)).Succeeded(out var report, out problem))
        {
            return problem;
        }

        // How often it was written is in the audit log too, where it has its id.
        if (!names.IsBlind)
        {
            Revisions.Tag(context, report.Revision);
        }

        return Reply.Json(names.Told(Told(report, await ToldAsync(view, report.HandOutNumber, handOuts, context.RequestAborted))));
    }

    /// <param name="id">The course.</param>
    /// <param name="reportId">The report.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="intake">Takes reports in.</param>
    /// <param name="reports">The reports.</param>
    private static async Task<IResult> ChangeAsync(
        string id, string reportId, HttpContext context, CourseAccess access, ReportIntake intake, Reports reports)
    {
        if (!(await WriteRequest.ReadAsync<ReportRequest>(context)).Succeeded(out var write, out var problem)
            || !(await access.FindAsync(context, id)).Succeeded(out var view, out problem)
            || !(AnonymousMarking.Writing(view) is { } uncovers ? uncovers : await FindAsync(view, reportId, reports, context.RequestAborted)).Succeeded(out var report, out problem)
            || !(await intake.ReadAsync(view, write.Body, Arrival.Of(context).AtUtc, context.RequestAborted)).Succeeded(out var read, out problem))
        {
            return problem;
        }

        if (read.IsAbout(report) is { } wrong)
        {
            return wrong;
        }

        var changed = await reports.ChangeAsync(
            id, reportId, write.Revision, read.BodyJson, read.WrittenAtUtc, read.HandedInAtUtc is not null, write.Origin, context.RequestAborted);
        Revisions.Tag(context, changed!.Revision);
        return Reply.Json(ReportItem.Of(changed));
    }

    /// <param name="id">The course.</param>
    /// <param name="reportId">The report.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="reports">The reports.</param>
    /// <param name="handOuts">The unknowns handed out.</param>
    /// <param name="tables">The versions of the table.</param>
    /// <param name="marking">By which names reports are told.</param>
    private static async Task<IResult> RankAsync(
        string id,
        string reportId,
        HttpContext context,
        CourseAccess access,
        Reports reports,
        HandOuts handOuts,
        TableSnapshots tables,
        AnonymousMarking marking)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out var view, out var problem)
            || !(await ReadAsync(view, reportId, await marking.OfAsync(view, context.RequestAborted), reports, context.RequestAborted))
                .Succeeded(out var report, out problem)
            || !(await tables.FindAsync(view.Course.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        if (view.Student is not null && !view.Course.ShowsRanking)
        {
            return new Problem(ProblemTypes.Withheld, "This course does not show rankings to students.");
        }

        var handOut = (await handOuts.FindAsync(id, report.HandOutNumber, context.RequestAborted))!;
        context.Response.Headers.CacheControl = "no-store";
        return ReportBody.Kept(report).RankingIn(view.Course, handOut.ShelfKeys, table).Succeeded(out var answer, out problem)
            ? Reply.Bytes(answer.Body, MediaTypes.Json)
            : problem;
    }

    // What was handed out in a course for practice, of a student's own unknowns only; in any other nothing is fetched at all.
    private static async Task<IReadOnlyDictionary<(string, int), string>> ToldAsync(
        CourseView view, int handOutNumber, HandOuts handOuts, CancellationToken cancellationToken) =>
        !view.Course.IsPractice
            ? new Dictionary<(string, int), string>()
            : (await handOuts.AssignmentsAsync(view.Course.Id, handOutNumber, view.Student?.StudentKey, cancellationToken))
                .ToDictionary(row => (row.StudentKey, row.Number), row => row.ParentKey);

    // A draft tells nothing: it can still be changed.
    private static ReportItem Told(CourseReport report, IReadOnlyDictionary<(string, int), string> told) =>
        report.HandedInAtUtc is not null && told.TryGetValue((report.StudentKey, report.Number), out var parent)
            ? ReportItem.Of(report) with { HandedOutParent = parent }
            : ReportItem.Of(report);

    // A report as it is read. One marked anonymously answers to what marking calls it, and to its id not at all, which the audit log has
    // too; a draft of one is its student's business.
    private static async Task<Outcome<CourseReport>> ReadAsync(
        CourseView view, string reportId, MarkedNames names, Reports reports, CancellationToken cancellationToken) =>
        !(await FindAsync(view, names.ReportCalled(reportId), reports, cancellationToken)).Succeeded(out var report, out _)
        || (names.IsBlind && report.HandedInAtUtc is null)
            ? Missing(reportId)
            : report;

    // A report of somebody else is to a student as if it were not there.
    private static async Task<Outcome<CourseReport>> FindAsync(
        CourseView view, string reportId, Reports reports, CancellationToken cancellationToken)
    {
        var report = ResourceIds.IsWellFormed(reportId)
            ? await reports.FindAsync(view.Course.Id, reportId, cancellationToken)
            : null;
        var isShown = view.Student is { } student
            ? report?.StudentKey == student.StudentKey
            : report is not null;
        return isShown && report is not null
            ? report
            : Missing(reportId);
    }

    private static Problem Missing(string reportId) => new(ProblemTypes.NotFound, $"No report {Text.Quoted(reportId)} of yours is in this course.");
}
