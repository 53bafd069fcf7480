using System.Globalization;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Core.Teaching;
using Derivid.Store.Curation;
using Derivid.Store.Databases;

namespace Derivid.Api.Curation;

/// <summary>The way of a proposal from draft to version.</summary>
public static class ProposalStepEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapProposalSteps(this RouteGroupBuilder api)
    {
        var proposal = api.MapGroup("/proposals/{id}").RequireRole(Role.Instructor).WithTags("Curation")
            .WithPath("id", "Names the proposal.")
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.WrongStep, ProblemTypes.StorageUnavailable);
        Describe(
            proposal.MapPost("/submission", SubmitAsync), "submitProposal", "Hand a proposal in for review",
            "Its changes stand still from then on. The table it makes must break no rule.")
            .TakesTurns()
            .ProducesProblems(ProblemTypes.NothingProposed, ProblemTypes.TableRulesBroken);
        Describe(
            proposal.MapPost("/review", ReviewAsync), "reviewProposal", "Review a proposal",
            "By somebody who had no hand in it, unless Curation:SingleCurator is set.")
            .WithBody<ReviewRequest>()
            .ProducesProblems(ProblemTypes.SecondPersonNeeded);
        Describe(
            proposal.MapPost("/release", ReleaseAsync), "releaseProposal", "Release a proposal as the next version",
            "The version is immutable and numbered; this instance serves it at once, the others as soon as they hear of it.")
            .TakesTurns()
            .WithBody<ReleaseRequest>()
            .ProducesProblems(
                ProblemTypes.NothingProposed,
                ProblemTypes.ProposalOutdated,
                ProblemTypes.SecondPersonNeeded,
                ProblemTypes.TableRulesBroken);
        Describe(
            proposal.MapPost("/rebase", RebaseAsync), "rebaseProposal", "Set a proposal on the current version",
            "Its changes stay as they are and are now held against the current version. It is a draft again.");
        Describe(
            proposal.MapPost("/withdrawal", WithdrawAsync), "withdrawProposal", "Give a proposal up",
            "At any step before its release.");
    }

    private static RouteHandlerBuilder Describe(RouteHandlerBuilder endpoint, string name, string summary, string description) =>
        endpoint.TakesRevision().WithName(name).WithSummary(summary).WithDescription(description)
            .Produces<ProposalItem>();

    private static async Task<IResult> SubmitAsync(string id, HttpContext context, Proposals proposals, ProposalChecks checks)
    {
        if (!WriteRequest.Read(context).Succeeded(out var write, out var problem))
        {
            return problem;
        }

        if (await proposals.FindAsync(id, context.RequestAborted) is not { } proposal)
        {
            return ProposalReply.Missing(id);
        }

        // What is wrong with it is told of the revision meant, not of what somebody else has made of it since.
        if (proposal.Revision != write.Revision)
        {
            return ProposalReply.Of(context, id, new ProposalWrite(ProposalFault.Stale, proposal));
        }

        if (!(await checks.OfAsync(proposal, context.RequestAborted)).Succeeded(out var found, out problem))
        {
            return problem;
        }

        if (found.Changes == 0)
        {
            return new Problem(ProblemTypes.NothingProposed, "The proposal changes nothing yet; there is nothing to review.");
        }

        return found.Errors > 0
            ? ProposalReply.RulesBroken([.. found.Findings.Select(each => each.Finding).Where(finding => finding.Severity == FindingSeverity.Error)])
            : ProposalReply.Of(context, id, await proposals.SubmitAsync(write.Origin, id, write.Revision, context.RequestAborted));
    }

    private static async Task<IResult> ReviewAsync(
        string id, HttpContext context, Proposals proposals, CurationSettings settings)
    {
        if (!(await WriteRequest.ReadAsync<ReviewRequest>(context)).Succeeded(out var write, out var problem))
        {
            return problem;
        }

        return ProposalReply.Of(context, id, await proposals.ReviewAsync(
            write.Origin, id, write.Revision, write.Body.Verdict == ReviewVerdict.Approve, write.Body.Note, settings.SingleCurator,
            context.RequestAborted));
    }

    private static async Task<IResult> ReleaseAsync(
        string id, HttpContext context, Releases releases, ProposalChecks turns, TableChecks checks, TableSnapshots tables, CurationSettings settings)
    {
        if (!(await WriteRequest.ReadAsync<ReleaseRequest>(context)).Succeeded(out var write, out var problem))
        {
            return problem;
        }

        ProposalWrite released;
        using (await turns.TurnAsync(context.RequestAborted))
        {
            // Before the transaction: whoever waits in one keeps others from writing.
            released = await releases.ReleaseAsync(
                write.Origin, id, write.Revision, write.Body.Note, settings.SingleCurator,
                table => checks.Check(table, null, context.RequestAborted), context.RequestAborted);
        }

        if (released.Proposal is { ReleasedVersion: { } version } && released.Fault == ProposalFault.None)
        {
            await ServeAsync(tables);
            context.Response.Headers.Location = string.Create(CultureInfo.InvariantCulture, $"/api/v1/table-versions/{version}");
        }

        return ProposalReply.Of(context, id, released);
    }

    // Whoever released it must find it. It is released in any case: if it can't be loaded now, the watch will.
    private static async Task ServeAsync(TableSnapshots tables)
    {
        try
        {
            await tables.RefreshAsync(CancellationToken.None);
        }
        catch (DatabaseUnavailableException)
        {
        }
    }

    private static async Task<IResult> RebaseAsync(string id, HttpContext context, Proposals proposals, TableSnapshots tables)
    {
        if (!WriteRequest.Read(context).Succeeded(out var write, out var problem)
            || !(await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var current, out problem))
        {
            return problem;
        }

        return ProposalReply.Of(context, id, await proposals.RebaseAsync(
            write.Origin, id, write.Revision, current.Table.Version, context.RequestAborted));
    }

    private static async Task<IResult> WithdrawAsync(string id, HttpContext context, Proposals proposals) =>
        WriteRequest.Read(context).Succeeded(out var write, out var problem)
            ? ProposalReply.Of(context, id, await proposals.WithdrawAsync(write.Origin, id, write.Revision, context.RequestAborted))
            : problem;
}
