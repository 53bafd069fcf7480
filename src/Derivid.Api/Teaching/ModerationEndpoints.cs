using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Core.Teaching.Grading;
using Derivid.Store.Databases;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>What persons change about grades.</summary>
public static class ModerationEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapModerations(this RouteGroupBuilder courses)
    {
        courses.MapPost("/{id}/reports/{reportId}/moderations", MakeAsync)
            .RequireRole(Role.Grader)
            .WithIdempotencyKey()
            .WithName("moderateReport")
            .WithSummary("Change a line of a report's grade by hand")
            .WithDescription(
                "Points in place of those worked out, with a reason that the student reads once grades are published; points of a "
                + "criterion marked by hand; or, without a criterion, a comment on the whole report. Of a group's report it is for all of them, or for one of them "
                + "alone, for whom it then stands whatever the group is given. The last one of a criterion "
                + "holds, takesBack takes the ones before back, and all are kept. They hold in the grading looked at and "
                + "in those started later; where grading again works out other points than a person saw, the line says so (isOutdated).")
            .WithBody<ModerationRequest>()
            .Produces<ModerationItem>(StatusCodes.Status201Created)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.CourseStateForbids, ProblemTypes.Withheld, ProblemTypes.StaleRevision);
        courses.MapGet("/{id}/moderations", ListAsync)
            .RequireRole(Role.Grader)
            .WithName("listModerations")
            .WithSummary("List what was changed by hand")
            .WithDescription("Everything, also what no longer holds, oldest first.")
            .WithQuery<ModerationQuery>()
            .Produces<RowPage<ModerationItem>>()
            .ProducesProblems(ProblemTypes.NotFound);
    }

    /// <param name="id">The course.</param>
    /// <param name="reportId">The report.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="gradings">The gradings.</param>
    /// <param name="moderations">What was changed by hand.</param>
    /// <param name="reports">The reports.</param>
    /// <param name="handOuts">The unknowns handed out.</param>
    /// <param name="ids">Makes its id.</param>
    /// <param name="time">The clock.</param>
    /// <param name="marking">By which names reports are told.</param>
    private static async Task<IResult> MakeAsync(
        string id,
        string reportId,
        HttpContext context,
        CourseAccess access,
        Gradings gradings,
        Moderations moderations,
        Reports reports,
        HandOuts handOuts,
        ResourceIds ids,
        TimeProvider time,
        AnonymousMarking marking)
    {
        if (!(await access.ReadAsync<ModerationRequest>(context, id)).Succeeded(out var read, out var problem))
        {
            return problem;
        }

        var (view, write) = read;
        var names = await marking.OfAsync(view, context.RequestAborted);
        if (await moderations.MadeByAsync(write.Key, context.RequestAborted) is { } before)
        {
            return Made(context, before, names, isNew: false);
        }

        if (CourseAccess.Archived(view.Course) is { } archived)
        {
            return archived;
        }

        reportId = names.ReportCalled(reportId);
        if (names.IsBlind && write.Body.Student is not null)
        {
            return new Problem(ProblemTypes.Withheld, "The course is marked anonymously: until its grades are published what is changed is for all whose report it is, since nobody is told who they are.");
        }

        if (!(await GradedAsync(view.Course, reportId, write.Body.Grading, gradings, context.RequestAborted)).Succeeded(out var graded, out problem)
            || !LineOf(ReportGrading.Kept(graded.Grade), write.Body).Succeeded(out var line, out problem))
        {
            return problem;
        }

        var sent = write.Body;
        if (sent.Student is { } member && !await IsSharedWithAsync(id, reportId, member, reports, handOuts, context.RequestAborted))
        {
            return FieldErrors.One("/student", $"{Text.Quoted(member)} is none of those whose report it is.");
        }

        if (sent.TakesBack == true && !await HoldsAsync(sent, reportId, graded, moderations, context.RequestAborted))
        {
            return FieldErrors.One("/takesBack", "Nothing is given here that could be taken back.");
        }

        var moderation = new StoredModeration(
            ids.New(),
            id,
            reportId,
            graded.GradingId,
            sent.Criterion,
            sent.Points,
            sent.Criterion is null && sent.TakesBack == true ? null : sent.Reason,
            (double?)line.Line?.Points,
            write.Origin.Actor,
            time.GetUtcNow().UtcDateTime)
        {
            StudentKey = sent.Student,
        };
        var created = await moderations.AddAsync(moderation, sent.LastSeen, write.Key, write.Origin, context.RequestAborted);
        return Made(context, created.Value, names, created.IsNew);
    }

    private static async Task<bool> IsSharedWithAsync(
        string id, string reportId, string student, Reports reports, HandOuts handOuts, CancellationToken cancellation) =>
        await reports.FindAsync(id, reportId, cancellation) is { } report
        && await handOuts.HolderOfAsync(id, report.HandOutNumber, student, cancellation) == report.StudentKey;

    // Whether something was given for a criterion, or said about the report, to just those it is to be taken back from.
    private static async Task<bool> HoldsAsync(
        ModerationRequest sent, string reportId, GradeSeen graded, Moderations moderations, CancellationToken cancellation)
    {
        var history = (await moderations.HoldingAsync(graded.GradingId, reportId, cancellation)).Where(row => row.StudentKey == sent.Student);
        var moderated = ModeratedGrade.Of(ReportGrading.Kept(graded.Grade), history.Select(row => row.ToModeration()));
        return sent.Criterion is { } criterion
            ? moderated.Lines.Any(line => line.Line.Criterion == criterion && line.Moderation is not null)
            : moderated.Comment is not null;
    }

    private static IResult Made(HttpContext context, StoredModeration moderation, MarkedNames names, bool isNew)
    {
        WriteRequest.Made(context, $"/api/v1/courses/{moderation.CourseId}/moderations?report={names.Report(moderation.ReportId)}", isNew);
        return Reply.Json(names.Told(ModerationItem.Of(moderation)));
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="moderations">What was changed by hand.</param>
    /// <param name="marking">By which names reports are told.</param>
    private static async Task<IResult> ListAsync(
        string id, HttpContext context, CourseAccess access, Moderations moderations, AnonymousMarking marking)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out var view, out var problem))
        {
            return problem;
        }

        var names = await marking.OfAsync(view, context.RequestAborted);
        return await Pager.ListAsync<ModerationQuery, StoredModeration, ModerationItem>(
            context,
            (query, beyond, most) => moderations.ListAsync(
                id, query.Report is { } called ? names.ReportCalled(called) : null, beyond, most, context.RequestAborted),
            row => row.Id,
            ResourceIds.IsWellFormed,
            row => names.Told(ModerationItem.Of(row)));
    }

    // The grade that is looked at: of the grading named, else of the one published, else of the newest.
    private static async Task<Outcome<GradeSeen>> GradedAsync(
        Course course, string reportId, string? gradingId, Gradings gradings, CancellationToken cancellation)
    {
        if ((gradingId ?? course.PublishedGradingId ?? await gradings.NewestAsync(course.Id, cancellation)) is not { } chosen)
        {
            return new Problem(ProblemTypes.CourseStateForbids, "No report of this course is graded yet; grade first.");
        }

        if (!(await GradingEndpoints.FindAsync(course.Id, chosen, gradings, cancellation)).Succeeded(out var grading, out var problem))
        {
            return problem;
        }

        return !ResourceIds.IsWellFormed(reportId) || await gradings.GradeAsync(grading, reportId, cancellation) is not { } grade
            ? new Problem(ProblemTypes.NotFound, $"No grade of a report {Text.Quoted(reportId)} is in grading {chosen}.")
            : new GradeSeen(chosen, grade);
    }

    // A line of the grade, or none for a comment.
    private static Outcome<ModeratedPlace> LineOf(Grade grade, ModerationRequest sent)
    {
        var errors = new FieldErrors();
        var takesBack = sent.TakesBack == true;
        if (takesBack && sent.Points is not null)
        {
            errors.Add("/points", "Are given and taken back at once; leave out one of the two.");
        }

        if (!takesBack && string.IsNullOrWhiteSpace(sent.Reason))
        {
            errors.Add("/reason", "Missing; the student is told why.");
        }

        if (sent.Criterion is not { } criterion)
        {
            if (sent.Points is not null)
            {
                errors.Add("/points", "Belong to a criterion; say which, or leave them out.");
            }

            return errors.ToProblem() is { } wrong ? wrong : new ModeratedPlace(null);
        }

        if (grade.Lines.FirstOrDefault(line => line.Criterion == criterion) is not { } found)
        {
            return FieldErrors.One(
                "/criterion",
                $"{Text.Quoted(WireJson.Word(criterion))} is not marked here; allowed: "
                + $"{string.Join(", ", grade.Lines.Select(line => WireJson.Word(line.Criterion)))}.");
        }

        var (least, most) = new ModeratedLine(found, null).Allowed;
        if (sent.Points is { } points && ((decimal)points < least || (decimal)points > most))
        {
            errors.Add("/points", FormattableString.Invariant($"{points} is not allowed here; from {least} to {most} are."));
        }

        if (sent.Points is null && !takesBack)
        {
            errors.Add("/points", "Missing; to let those worked out stand again, say takesBack.");
        }

        return errors.ToProblem() is { } problem ? problem : new ModeratedPlace(found);
    }

    private sealed record ModeratedPlace(GradeLine? Line);

    private sealed record GradeSeen(string GradingId, CourseGrade Grade);
}
