using Derivid.Api.Access;
using Derivid.Api.Auditing;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Core.Teaching;
using Derivid.Store.Auditing;
using Derivid.Store.Curation;
using Derivid.Store.Databases;

namespace Derivid.Api.Curation;

/// <summary>Proposals to change the table.</summary>
public static class ProposalEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapProposals(this RouteGroupBuilder api)
    {
        var proposals = api.MapGroup("/proposals").RequireRole(Role.Instructor).WithTags("Curation")
            .ProducesProblems(ProblemTypes.StorageUnavailable);
        proposals.MapGet("", ListAsync)
            .WithName("listProposals")
            .WithSummary("List the proposals")
            .WithDescription("Newest first. Those withdrawn before they changed anything, as dry runs of imports leave them, are listed with state=withdrawn only.")
            .WithQuery<ProposalQuery>()
            .Produces<RowPage<ProposalItem>>();
        proposals.MapPost("", MakeAsync)
            .WithIdempotencyKey()
            .WithName("makeProposal")
            .WithSummary("Make a proposal")
            .WithDescription(
                "A draft against the current version. With restoresVersion it begins with all that brings that version's "
                + "content back: reviewed and released it is a roll-back, under a number of its own.")
            .WithBody<ProposalRequest>()
            .Produces<ProposalItem>(StatusCodes.Status201Created)
            .ProducesProblems(ProblemTypes.NotFound);
        var one = proposals.MapGroup("/{id}").WithPath("id", "Names the proposal.").ProducesProblems(ProblemTypes.NotFound);
        one.MapGet("", GetAsync)
            .WithName("getProposal")
            .WithSummary("Get one proposal")
            .WithDescription("Its ETag is what every write of it must name.")
            .Produces<ProposalItem>();
        one.MapPut("", DescribeAsync)
            .TakesRevision()
            .WithName("describeProposal")
            .WithSummary("Change title and reason of a proposal")
            .WithDescription("Of a draft only.")
            .WithBody<ProposalDescription>()
            .Produces<ProposalItem>()
            .ProducesProblems(ProblemTypes.WrongStep);
        one.MapGet("/audit", AuditAsync)
            .WithName("listProposalAudit")
            .WithSummary("Read what the audit log has of a proposal")
            .WithDescription("Every write of it, oldest first: who, when, what, to which record, and why. For whoever reviews it; the whole log is the administrator's.")
            .WithQuery<PageQuery>()
            .Produces<RowPage<AuditItem>>();
        one.MapGet("/comments", CommentsAsync)
            .WithName("listComments")
            .WithSummary("List the remarks on a proposal")
            .WithDescription("Oldest first; what was said with a step stands among them, with its occasion, and none is ever replaced.")
            .Produces<CommentList>();
        one.MapPost("/comments", CommentAsync)
            .WithIdempotencyKey()
            .WithName("makeComment")
            .WithSummary("Make a remark on a proposal")
            .WithDescription("Anyone who can read it may, at any step; it changes nothing, so it needs no revision.")
            .WithBody<CommentRequest>()
            .Produces<CommentItem>(StatusCodes.Status201Created);
    }

    private static Task<IResult> ListAsync(HttpContext context, Proposals proposals) =>
        Pager.ListAsync<ProposalQuery, Proposal, ProposalItem>(
            context,
            (query, beyond, most) => proposals.ListAsync(query.State, beyond, most, context.RequestAborted),
            row => row.Id,
            ResourceIds.IsWellFormed,
            ProposalItem.Of);

    private static async Task<IResult> MakeAsync(HttpContext context, TableSnapshots tables, Proposals proposals)
    {
        if (!(await WriteRequest.ReadAsync<ProposalRequest>(context)).Succeeded(out var write, out var problem)
            || !(await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var current, out problem)
            || !(await tables.FindAsync(write.Body.RestoresVersion, context.RequestAborted)).Succeeded(out var restored, out problem))
        {
            return problem;
        }

        var made = await proposals.CreateAsync(
            write.Origin, write.Key, write.Body.Title, write.Body.Reason, current.Table.Version, write.Body.RestoresVersion,
            TableDifferences.Between(current.Table, restored.Table), context.RequestAborted);
        WriteRequest.Made(context, "/api/v1/proposals/" + made.Value.Id, made.IsNew);
        return ProposalReply.Of(context, made.Value);
    }

    private static async Task<IResult> GetAsync(string id, HttpContext context, Proposals proposals) =>
        await proposals.FindAsync(id, context.RequestAborted) is { } proposal ? ProposalReply.Of(context, proposal)
        : ProposalReply.Missing(id);

    private static async Task<IResult> DescribeAsync(string id, HttpContext context, Proposals proposals)
    {
        if (!(await WriteRequest.ReadAsync<ProposalDescription>(context)).Succeeded(out var write, out var problem))
        {
            return problem;
        }

        return ProposalReply.Of(context, id, await proposals.DescribeAsync(
            write.Origin, id, write.Revision, write.Body.Title, write.Body.Reason, context.RequestAborted));
    }

    private static async Task<IResult> AuditAsync(string id, HttpContext context, Proposals proposals, AuditTrail audit) =>
        await proposals.FindAsync(id, context.RequestAborted) is not { } proposal
            ? ProposalReply.Missing(id)
            : await AuditReply.ListAsync<PageQuery>(
                context, audit, _ => (new AuditFilter(Within: Proposals.ResourceOf(proposal.Id)), NewestFirst: false));

    private static async Task<IResult> CommentsAsync(string id, HttpContext context, Proposals proposals)
    {
        context.Response.Headers.CacheControl = "no-store";
        return await proposals.FindAsync(id, context.RequestAborted) is null
            ? ProposalReply.Missing(id)
            : Reply.Json(new CommentList(
                [.. (await proposals.CommentsAsync(id, context.RequestAborted)).Select(CommentItem.Of)]));
    }

    private static async Task<IResult> CommentAsync(string id, HttpContext context, Proposals proposals)
    {
        if (!(await WriteRequest.ReadAsync<CommentRequest>(context)).Succeeded(out var write, out var problem))
        {
            return problem;
        }

        if (await proposals.FindAsync(id, context.RequestAborted) is null)
        {
            return ProposalReply.Missing(id);
        }

        var made = await proposals.CommentAsync(write.Origin, write.Key, id, write.Body.Text, context.RequestAborted);
        context.Response.StatusCode = made.IsNew ? StatusCodes.Status201Created : StatusCodes.Status200OK;
        context.Response.Headers.CacheControl = "no-store";
        return Reply.Json(CommentItem.Of(made.Value));
    }
}
