using System.Globalization;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Access;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Checking a shelf and handing out unknowns from it.</summary>
public static class HandOutEndpoints
{
    // Chosen: a reader waits no longer, and neither does the processor.
    private static readonly TimeSpan LongestWork = TimeSpan.FromSeconds(10);

    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapHandOuts(this RouteGroupBuilder courses)
    {
        courses.MapGet("/{id}/shelf-check", CheckAsync)
            .RequireRole(Role.Grader)
            .TakesTurns()
            .WithName("checkShelf")
            .WithSummary("Check what can be told apart on the shelf")
            .WithDescription(
                "For every compound, what the engine makes of ideal readings with the course's derivatives and tests, which "
                + "others stay possible, and what would settle it.")
            .WithQuery<ShelfQuery>()
            .Produces<ShelfCheck>()
            .ProducesProblems(ProblemTypes.NotFound);
        courses.MapPost("/{id}/hand-outs", HandOutAsync)
            .RequireRole(Role.Instructor)
            .WithIdempotencyKey()
            .WithName("handOutUnknowns")
            .WithSummary("Hand out unknowns to the students of a course")
            .WithDescription(
                "A group of the roster gets unknowns as one student does, for all of its members. No neighbours share a compound; only compounds the laboratory can identify are used, each as often as the "
                + "others, difficulty spread fairly. In one course the same seed, roster, shelf, rules and table version give the same hand-out. "
                + "What isn't worked out within 10 s is refused. A new hand-out takes the place of the one before until the first report is handed in.")
            .WithBody<HandOutRequest>()
            .Produces<HandOutItem>(StatusCodes.Status201Created)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.CourseStateForbids, ProblemTypes.HandOutImpossible, ProblemTypes.StaleRevision);
        courses.MapGet("/{id}/hand-outs/{number}", GetAsync)
            .RequireRole(Role.Instructor)
            .WithPath("number", "Number of the hand-out, from 1.", isNumber: true)
            .WithName("getHandOut")
            .WithSummary("Get a hand-out of unknowns")
            .WithDescription("With its seed, its rules and what came of them.")
            .Produces<HandOutItem>()
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
            WorkedHandOut.LaboratoryOf(view.Course), query.LeastPosterior ?? new HandOutRules().LeastPosterior, table.Snapshot);
        return Reply.Json(new ShelfCheck(table.Table.Version, [.. check.Run(context.RequestAborted).Select(ShelfItem.Of)]));
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The courses.</param>
    /// <param name="handOuts">The unknowns handed out.</param>
    /// <param name="secrets">The service's secrets.</param>
    /// <param name="tables">The versions of the table.</param>
    /// <param name="turns">Whose turn it is: a hand-out takes a processor for seconds.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> HandOutAsync(
        string id,
        HttpContext context,
        CourseAccess access,
        Store.Teaching.Courses courses,
        HandOuts handOuts,
        ServerSecrets secrets,
        TableSnapshots tables,
        SenderTurns turns,
        TimeProvider time)
    {
        if (!(await access.ReadAsync<HandOutRequest>(context, id)).Succeeded(out var sent, out var problem))
        {
            return problem;
        }

        var (view, write) = sent;
        if (await handOuts.MadeByAsync(id, write.Key, context.RequestAborted) is { } before)
        {
            return Made(context, before, isNew: false);
        }

        if (CourseAccess.Archived(view.Course) is { } archived)
        {
            return archived;
        }

        if (!(await tables.FindAsync(view.Course.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        using var turn = await turns.TakeAsync(context);
        var students = await courses.RosterAsync(id, context.RequestAborted);
        var secret = await secrets.OfAsync(ServerSecrets.HandOutsOf(id), HandOutSeed.SecretLength, context.RequestAborted);
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(context.RequestAborted);
        limit.CancelAfter(LongestWork);
        if (!WorkedHandOut.Of(view.Course, students, write.Body, secret, table, time.GetUtcNow().UtcDateTime, limit.Token)
            .Succeeded(out var handedOut, out problem))
        {
            return problem;
        }

        var created = await handOuts.AddAsync(
            view.Course, handedOut.HandOut, handedOut.Assignments, write.Key, write.Origin, context.RequestAborted);
        return Made(context, created.Value, created.IsNew);
    }

    private static IResult Made(HttpContext context, StoredHandOut handOut, bool isNew)
    {
        WriteRequest.Made(
            context,
            string.Create(CultureInfo.InvariantCulture, $"/api/v1/courses/{handOut.CourseId}/hand-outs/{handOut.Number}"),
            isNew);
        return Reply.Json(HandOutItem.Of(handOut));
    }

    /// <param name="id">The course.</param>
    /// <param name="number">Number of the hand-out, from 1.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="handOuts">The unknowns handed out.</param>
    private static async Task<IResult> GetAsync(
        string id, string number, HttpContext context, CourseAccess access, HandOuts handOuts)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out _, out var problem))
        {
            return problem;
        }

        context.Response.Headers.CacheControl = "no-store";
        return int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out var wanted)
            && await handOuts.FindAsync(id, wanted, context.RequestAborted) is { } handOut
                ? Reply.Json(HandOutItem.Of(handOut))
                : new Problem(ProblemTypes.NotFound, $"The course has no hand-out {Text.Quoted(number)}.");
    }
}
