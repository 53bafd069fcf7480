using System.Globalization;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Store.Curation;

namespace Derivid.Api.Curation;

/// <summary>Answers with a proposal, or with why it was not written.</summary>
internal static class ProposalReply
{
    private const int MostNamed = 5;

    /// <summary>Answers with a proposal and its revision.</summary>
    /// <param name="context">The request.</param>
    /// <param name="proposal">The proposal.</param>
    public static IResult Of(HttpContext context, Proposal proposal)
    {
        Revisions.Tag(context, proposal.Revision);
        return Reply.Json(ProposalItem.Of(proposal));
    }

    /// <summary>Answers with what became of a write.</summary>
    /// <param name="context">The request.</param>
    /// <param name="id">The proposal.</param>
    /// <param name="write">What became of it.</param>
    public static IResult Of(HttpContext context, string id, ProposalWrite write) =>
        write.Fault == ProposalFault.None ? Of(context, write.Proposal!) : Refused(id, write);

    /// <summary>Why a proposal was not written.</summary>
    /// <param name="id">As the address has it.</param>
    /// <param name="write">What became of it; a fault.</param>
    public static Problem Refused(string id, ProposalWrite write) => write.Fault switch
    {
        ProposalFault.None => throw new ArgumentException("It was written.", nameof(write)),
        ProposalFault.NotFound => Missing(id),
        ProposalFault.Stale => new Problem(ProblemTypes.StaleRevision, Stale(write.Proposal)),
        ProposalFault.WrongState => new Problem(ProblemTypes.WrongStep, $"The proposal is {WireJson.Word(write.Proposal!.State)}; {Steps(write.Proposal.State)}"),
        ProposalFault.SamePerson => new Problem(ProblemTypes.SecondPersonNeeded, ProblemTypes.SecondPersonNeeded.Example),
        ProposalFault.Outdated => new Problem(ProblemTypes.ProposalOutdated, Outdated(write.Conflicts)),
        ProposalFault.Invalid => RulesBroken(write.Findings),
        ProposalFault.Empty => new Problem(ProblemTypes.NothingProposed, ProblemTypes.NothingProposed.Example),
    };

    /// <summary>There is no such proposal.</summary>
    /// <param name="id">As the address has it.</param>
    public static Problem Missing(string id) =>
        new(ProblemTypes.NotFound, $"There is no proposal {Text.Quoted(id)}; /api/v1/proposals lists them.");

    /// <summary>The rules a proposed table breaks.</summary>
    /// <param name="errors">The errors.</param>
    public static Problem RulesBroken(IReadOnlyList<TableFinding> errors)
    {
        var places = new FieldErrors();
        foreach (var error in errors)
        {
            var item = FindingItem.Of(error, isNew: true);
            places.Add($"/{item.Table}/{item.Key}/{item.Field}", $"{Text.Quoted(item.Value)} is not allowed; allowed: {item.Allowed}.", ProblemTypes.TableRulesBroken);
        }

        return places.ToProblem()!;
    }

    private static string Stale(Proposal? proposal) => proposal is null
        ? ProblemTypes.StaleRevision.Example
        : string.Create(
            CultureInfo.InvariantCulture,
            $"It is at revision {proposal.Revision} by now. Fetch it again, look at what was changed, and send yours with the new ETag.");

    private static string Outdated(IReadOnlyList<RecordChange> conflicts) =>
        "Changed by a version released since: "
        + string.Join(", ", conflicts.Take(MostNamed).Select(change => $"{change.Kind.TableName} {change.Key}"))
        + (conflicts.Count > MostNamed ? string.Create(CultureInfo.InvariantCulture, $" and {conflicts.Count - MostNamed} more") : "")
        + ". Rebase the proposal, look at it and have it reviewed again.";

    private static string Steps(ProposalState state) => state switch
    {
        ProposalState.Draft => "it can be changed, submitted and withdrawn.",
        ProposalState.Submitted => "it can be reviewed, rebased and withdrawn; a reviewer may hand it back to be changed.",
        ProposalState.Reviewed => "it can be released, rebased and withdrawn.",
        ProposalState.Released => "it is done. To undo it, make a proposal that restores an earlier version.",
        ProposalState.Withdrawn => "it is given up. Make another.",
    };
}
