using System.Text.Json;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store.Databases;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Grading reports, all at once or some.</summary>
public static class GradingEndpoints
{
    // Often enough that progress is seen to move, seldom enough to cost nothing.
    private static readonly TimeSpan Interval = TimeSpan.FromMilliseconds(100);

    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapGradings(this RouteGroupBuilder courses)
    {
        courses.MapPost("/{id}/grades", StartAsync)
            .RequireRole(Role.Grader)
            .WithIdempotencyKey()
            .WithName("gradeReports")
            .WithSummary("Grade one, many or all reports of a course")
            .WithDescription(
                "Starts a grading, which survives a restart of the service, and answers at once. With Accept: "
                + "application/x-ndjson the answer stays open and brings a line of progress whenever some reports are done, the "
                + "last one when all are. A report graded before by the same rubric, table version, model version, marking rules, due dates and "
                + "offer of derivatives and spot tests keeps its grade. With the key of an earlier request the answer is the grading that one started, "
                + "and says so in isEarlier: what was handed in since is not in it. While a course is marked anonymously, a rubric takes the points for lateness that the course's does.")
            .WithBody<GradingRequest>()
            .Produces<GradingStatus>(StatusCodes.Status202Accepted, MediaTypes.Json, MediaTypes.JsonLines)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.CourseStateForbids, ProblemTypes.Withheld, ProblemTypes.StaleRevision);
        courses.MapGet("/{id}/gradings", ListAsync)
            .RequireRole(Role.Grader)
            .WithName("listGradings")
            .WithSummary("List the gradings of a course")
            .WithDescription("Finished and under way, each with its rubric and versions. In order of their ids.")
            .WithQuery<PageQuery>()
            .Produces<RowPage<GradingStatus>>()
            .ProducesProblems(ProblemTypes.NotFound);
        courses.MapGet("/{id}/gradings/{gradingId}", GetAsync)
            .RequireRole(Role.Grader)
            .WithName("getGrading")
            .WithSummary("See how far a grading is")
            .WithDescription("With Accept: application/x-ndjson the answer stays open and brings lines of progress until it is finished.")
            .Produces<GradingStatus>(StatusCodes.Status200OK, MediaTypes.Json, MediaTypes.JsonLines)
            .ProducesProblems(ProblemTypes.NotFound);
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="start">Starts it.</param>
    /// <param name="gradings">The gradings.</param>
    /// <param name="marking">By which names reports are told.</param>
    private static async Task<IResult> StartAsync(
        string id, HttpContext context, CourseAccess access, GradingStart start, Gradings gradings, AnonymousMarking marking)
    {
        if (!(await access.ReadAsync<GradingRequest>(context, id, RequestLimits.BatchBytes)).Succeeded(out var sent, out var problem)
            || !(await start.RunAsync(sent.View.Course, sent.Write, await marking.OfAsync(sent.View, context.RequestAborted), context.RequestAborted)).Succeeded(out var started, out problem))
        {
            return problem;
        }

        context.Response.Headers.Location = $"/api/v1/courses/{id}/gradings/{started.Value.Id}";
        return await AnswerAsync(context, started.Value, gradings, StatusCodes.Status202Accepted, isEarlier: !started.IsNew);
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="gradings">The gradings.</param>
    private static async Task<IResult> ListAsync(string id, HttpContext context, CourseAccess access, Gradings gradings)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out _, out var problem))
        {
            return problem;
        }

        return await Pager.ListAsync<PageQuery, GradingDone, GradingStatus>(
            context,
            (_, beyond, most) => gradings.ListAsync(id, beyond, most, context.RequestAborted),
            row => row.Grading.Id,
            ResourceIds.IsWellFormed,
            row => GradingStatus.Of(row.Grading, row.Done));
    }

    /// <param name="id">The course.</param>
    /// <param name="gradingId">The grading; in a comparison the one before.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="gradings">The gradings.</param>
    private static async Task<IResult> GetAsync(
        string id, string gradingId, HttpContext context, CourseAccess access, Gradings gradings)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out _, out var problem)
            || !(await FindAsync(id, gradingId, gradings, context.RequestAborted)).Succeeded(out var grading, out problem))
        {
            return problem;
        }

        return await AnswerAsync(context, grading, gradings, StatusCodes.Status200OK);
    }

    /// <summary>Finds a grading of a course.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="gradingId">The grading.</param>
    /// <param name="gradings">The gradings.</param>
    /// <param name="cancellationToken">Gives up.</param>
    internal static async Task<Outcome<Grading>> FindAsync(
        string courseId, string gradingId, Gradings gradings, CancellationToken cancellationToken) =>
        ResourceIds.IsWellFormed(gradingId) && await gradings.FindAsync(courseId, gradingId, cancellationToken) is { } grading
            ? grading
            : new Problem(ProblemTypes.NotFound, $"The course has no grading {Text.Quoted(gradingId)}.");

    private static async Task<IResult> AnswerAsync(
        HttpContext context, Grading grading, Gradings gradings, int status, bool isEarlier = false)
    {
        context.Response.Headers.CacheControl = "no-store";
        if (!context.Request.GetTypedHeaders().Accept.Any(type => type.MediaType.Equals(MediaTypes.JsonLines, StringComparison.OrdinalIgnoreCase)))
        {
            var done = await gradings.DoneAsync(grading.Id, context.RequestAborted);
            context.Response.StatusCode = status;
            return Reply.Json(GradingStatus.Of(grading, done) with { IsEarlier = isEarlier ? true : null });
        }

        context.Response.StatusCode = status;
        context.Response.ContentType = MediaTypes.JsonLines;
        await WatchAsync(context, grading, gradings);
        return Results.Empty;
    }

    private static async Task WatchAsync(HttpContext context, Grading grading, Gradings gradings)
    {
        GradingProgress? told = null;
        while (true)
        {
            if (await gradings.FindAsync(grading.CourseId, grading.Id, context.RequestAborted) is not { } current)
            {
                // Finished and deleted with its course since the last look.
                return;
            }

            var done = await gradings.DoneAsync(grading.Id, context.RequestAborted);
            var state = current.FinishedAtUtc is null ? GradingState.Running : GradingState.Finished;
            var progress = new GradingProgress(grading.Id, state, done, grading.Total);
            if (progress != told)
            {
                await context.Response.Body.WriteAsync(
                    JsonSerializer.SerializeToUtf8Bytes(progress, WireJson.Context.GradingProgress), context.RequestAborted);
                await context.Response.Body.WriteAsync("\n"u8.ToArray(), context.RequestAborted);
                await context.Response.Body.FlushAsync(context.RequestAborted);
                told = progress;
            }

            if (state == GradingState.Finished)
            {
                return;
            }

            await Task.Delay(Interval, context.RequestAborted);
        }
    }
}
