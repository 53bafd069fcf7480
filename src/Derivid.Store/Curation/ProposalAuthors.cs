using Derivid.Store.Auditing;

namespace Derivid.Store.Curation;

/// <summary>Keeps count of who had a hand in a proposal.</summary>
internal static class ProposalAuthors
{
    /// <summary>The proposal with one more author, unless they are one already.</summary>
    /// <param name="proposal">The proposal.</param>
    /// <param name="origin">Who writes.</param>
    public static Proposal By(this Proposal proposal, AuditOrigin origin) =>
        proposal.Authors.Contains(origin.Actor) ? proposal : proposal with { Authors = [.. proposal.Authors, origin.Actor] };
}
