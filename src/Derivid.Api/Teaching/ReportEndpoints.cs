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
                "On an unknown of yours; what one of a group hands in is the report of all of it. Graders may do it for a student, unless the course is marked anonymously and grades aren't published. Each report is an attempt, and the last one handed in "
                + "counts, or the best where the course says so; one that says nothing is no attempt and is refused. What is handed in is never changed.")
            .WithBody<ReportRequest>()
            .Produces<ReportItem>(StatusCodes.Status201Created)
            .ProducesProblems(WritingProblems);
        reports.MapGet("", ListAsync)
            .WithName("listReports")
            .WithSummary("List reports")
            .WithDescription(
                "Those handed in on the hand-out in force, in order of their ids; a student gets their own and their group's, drafts too. In a course for "
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
    /// <param name="handOuts">The unknowns handed out.</param>
    /// <param name="ids">Makes its id.</param>
    private static async Task<IResult> MakeAsync(
        string id, HttpContext context, CourseAccess access, ReportIntake intake, Reports reports, HandOuts handOuts, ResourceIds ids)
    {
        if (!(await access.ReadAsync<ReportRequest>(context, id)).Succeeded(out var sent, out var problem))
        {
            return problem;
        }

        var (view, write) = sent;
        if (await reports.MadeByAsync(write.Key, context.RequestAborted) is { } before)
        {
            return await MadeAsync(context, view, before, handOuts, isNew: false);
        }

        if ((AnonymousMarking.Writing(view) ?? CourseAccess.Archived(view.Course)) is { } refused)
        {
            return refused;
        }

        if (!(await intake.ReadAsync(view, write.Body, Arrival.Of(context).AtUtc, context.RequestAborted)).Succeeded(out var read, out problem))
        {
            return problem;
        }

        var created = await reports.AddAsync(
            read.ToReport(ids.New()), view.Course.MostAttempts, write.Key, write.Origin, context.RequestAborted);
        return await MadeAsync(context, view, created.Value, handOuts, created.IsNew);
    }

    private static async Task<IResult> MadeAsync(HttpContext context, CourseView view, CourseReport report, HandOuts handOuts, bool isNew)
    {
        WriteRequest.Made(context, $"/api/v1/courses/{report.CourseId}/reports/{report.Id}", isNew);
        Revisions.Tag(context, report.Revision);
        return await WrittenAsync(context, view, report, handOuts);
    }

    // What was handed out is not told here, whoever may read it: what takes reports in never looks at it.
    private static async Task<IResult> WrittenAsync(HttpContext context, CourseView view, CourseReport report, HandOuts handOuts) =>
        Reply.Json(ReportItem.Of(
            report, await handOuts.SharedAsync(report.CourseId, report.HandOutNumber, report.StudentKey, context.RequestAborted), view.Student?.StudentKey));

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

        var unknowns = (view.HolderKey is { } holder
                ? await handOuts.SharedAsync(id, view.Course.HandOutNumber, holder, context.RequestAborted)
                : await handOuts.AssignmentsAsync(id, view.Course.HandOutNumber, null, context.RequestAborted))
            .ToLookup(row => row.HolderKey, StringComparer.Ordinal);
        var names = await marking.OfAsync(view, context.RequestAborted);
        return await Pager.ListAsync<PageQuery, CourseReport, ReportItem>(
            context,
            (_, beyond, most) => names.PageAsync(
                (after, count) => reports.ListAsync(
                    id, view.Course.HandOutNumber, view.HolderKey, after, count, context.RequestAborted),
                async () => (await reports.CountedAsync(id, view.Course.HandOutNumber, countsBest: true, context.RequestAborted)).Select(report => report.Id),
                some => reports.FindAsync(id, some, context.RequestAborted),
                report => report.Id,
                beyond,
                most),
            report => names.Report(report.Id),
            ResourceIds.IsWellFormed,
            report => names.Told(Told(view, report, [.. unknowns[report.StudentKey]])));
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
        if (!(await ReadAsync(view, reportId, names, reports, handOuts, context.RequestAborted)).Succeeded(out var report, out problem))
        {
            return problem;
        }

        // How often it was written is in the audit log too, where it has its id.
        if (!names.IsBlind)
        {
            Revisions.Tag(context, report.Revision);
        }

        var shared = await handOuts.SharedAsync(id, report.HandOutNumber, report.StudentKey, context.RequestAborted);
        return Reply.Json(names.Told(Told(view, report, shared)));
    }

    /// <param name="id">The course.</param>
    /// <param name="reportId">The report.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="intake">Takes reports in.</param>
    /// <param name="reports">The reports.</param>
    /// <param name="handOuts">The unknowns handed out.</param>
    private static async Task<IResult> ChangeAsync(
        string id, string reportId, HttpContext context, CourseAccess access, ReportIntake intake, Reports reports, HandOuts handOuts)
    {
        // The revision is the draft's, so the course is asked for without one.
        if (!(await WriteRequest.ReadAsync<ReportRequest>(context)).Succeeded(out var write, out var problem)
            || !(await access.FindAsync(context, id)).Succeeded(out var view, out problem)
            || !(AnonymousMarking.Writing(view) is { } uncovers ? uncovers : await FindAsync(view, reportId, reports, handOuts, context.RequestAborted)).Succeeded(out var report, out problem)
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
        return await WrittenAsync(context, view, changed, handOuts);
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
            || !(await ReadAsync(view, reportId, await marking.OfAsync(view, context.RequestAborted), reports, handOuts, context.RequestAborted))
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

    // In a course for practice with what was handed out; a draft tells nothing, since it can still be changed.
    private static ReportItem Told(CourseView view, CourseReport report, IReadOnlyList<Assignment> shared)
    {
        var item = ReportItem.Of(report, shared, view.Student?.StudentKey);
        return view.Course.IsPractice && report.HandedInAtUtc is not null
            ? item with { HandedOutParent = shared.First(row => row.Number == report.Number).ParentKey }
            : item;
    }

    // A report as it is read. One marked anonymously answers to what marking calls it, and to its id not at all, which the audit log has
    // too; a draft of one is its student's business.
    private static async Task<Outcome<CourseReport>> ReadAsync(
        CourseView view, string reportId, MarkedNames names, Reports reports, HandOuts handOuts, CancellationToken cancellationToken) =>
        !(await FindAsync(view, names.ReportCalled(reportId), reports, handOuts, cancellationToken)).Succeeded(out var report, out _)
        || (names.IsBlind && report.HandedInAtUtc is null)
            ? Missing(reportId)
            : report;

    // A report of somebody else is to a student as if it were not there. Who shared its unknown was settled by its own hand-out: a group may
    // have been another one since.
    private static async Task<Outcome<CourseReport>> FindAsync(
        CourseView view, string reportId, Reports reports, HandOuts handOuts, CancellationToken cancellationToken) =>
        ResourceIds.IsWellFormed(reportId)
        && await reports.FindAsync(view.Course.Id, reportId, cancellationToken) is { } report
        && (view.Student is not { } student
            || await handOuts.HolderOfAsync(view.Course.Id, report.HandOutNumber, student.StudentKey, cancellationToken) == report.StudentKey)
            ? report
            : Missing(reportId);

    private static Problem Missing(string reportId) => new(ProblemTypes.NotFound, $"No report {Text.Quoted(reportId)} of yours is in this course.");
}
