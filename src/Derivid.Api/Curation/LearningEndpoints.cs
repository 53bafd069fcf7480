using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store.Curation;

namespace Derivid.Api.Curation;

/// <summary>What classes teach the table, and the proposal of it.</summary>
public static class LearningEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapLearning(this RouteGroupBuilder api)
    {
        var learning = api.MapGroup("/learning").RequireRole(Role.Instructor).WithTags("Curation")
            .TakesTurns()
            .ProducesProblems(ProblemTypes.StorageUnavailable);
        learning.MapGet("", GetAsync)
            .WithName("getLearning")
            .WithSummary("See what the table can learn from classes")
            .WithDescription(
                "From courses that opted in (isLearnedFrom) and whose grades were published before any unknown that is open now was handed out: "
                + "how often spot tests were positive and which colours were called, by class of compounds, and where derivatives melted, each with "
                + "on how many reports it rests. A figure rests on an even number of courses and on five students at least in each, so that no two "
                + "answers differ by one course. No student, no course and nothing of what is open is in it.")
            .Produces<LearningItem>();
        learning.MapPost("", ProposeAsync)
            .WithIdempotencyKey()
            .WithName("proposeLearned")
            .WithSummary("Propose what the table can learn from classes")
            .WithDescription(
                "A draft against the current version with the changed rates, colours and measured melting ranges, each record with a note on how "
                + "many reports of how many courses say so and what stood there before; reviewed and released like any other, and undone by going back to an "
                + "earlier version. What was learned before and isn't any more, as of a course that opted out, is taken back. Settings of the model "
                + "are not proposed: learned ones did harm where what is assumed held.")
            .WithBody<LearningRequest>()
            .Produces<ProposalItem>(StatusCodes.Status201Created)
            .ProducesProblems(ProblemTypes.NothingProposed);
    }

    private static async Task<IResult> GetAsync(HttpContext context, TableSnapshots tables, ClassTeaching teaching)
    {
        if (!(await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var served, out var problem))
        {
            return problem;
        }

        context.Response.Headers.CacheControl = "no-store";
        return Reply.Json((await teaching.OfAsync(served, context.RequestAborted)).Item);
    }

    private static async Task<IResult> ProposeAsync(HttpContext context, TableSnapshots tables, ClassTeaching teaching, Proposals proposals)
    {
        if (!(await WriteRequest.ReadAsync<LearningRequest>(context)).Succeeded(out var write, out var problem))
        {
            return problem;
        }

        // What was made is answered again, whatever classes teach by now.
        if (await proposals.MadeByAsync(write.Key, context.RequestAborted) is { } earlier)
        {
            return Made(context, earlier, isNew: false);
        }

        if (!(await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var served, out problem))
        {
            return problem;
        }

        var taught = await teaching.OfAsync(served, context.RequestAborted);
        if (taught.Changes.Count == 0)
        {
            return new Problem(
                ProblemTypes.NothingProposed,
                "Classes teach nothing that the table doesn't say already. A figure takes two courses that opted in, whose grades were published before any unknown that is open now was handed out, and five students in each; GET /api/v1/learning tells how many wait.");
        }

        var made = await proposals.CreateAsync(
            write.Origin, write.Key, write.Body.Title ?? taught.Title, write.Body.Reason ?? taught.Reason, served.Table.Version, null,
            taught.Changes, context.RequestAborted);
        return Made(context, made.Value, made.IsNew);
    }

    private static IResult Made(HttpContext context, Proposal proposal, bool isNew)
    {
        WriteRequest.Made(context, "/api/v1/proposals/" + proposal.Id, isNew);
        return ProposalReply.Of(context, proposal);
    }
}
