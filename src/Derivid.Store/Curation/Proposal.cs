using Derivid.Core.Curation;
using Derivid.Store.Auditing;

namespace Derivid.Store.Curation;

/// <summary>Changes to the reference table, gathered to be reviewed and released together.</summary>
public sealed record Proposal
{
    /// <summary>Names it in addresses.</summary>
    public required string Id { get; init; }

    /// <summary>What it is about, in a line.</summary>
    public required string Title { get; init; }

    /// <summary>Why, with the sources. Missing: null.</summary>
    public string? Reason { get; init; }

    /// <summary>How far it has come.</summary>
    public required ProposalState State { get; init; }

    /// <summary>Counts its writes, from 1; a writer must name the one they saw.</summary>
    public required int Revision { get; init; }

    /// <summary>Version of the table its changes were made against.</summary>
    public required int BaseVersion { get; init; }

    /// <summary>The version whose content it brings back. Missing: null, it is no roll-back.</summary>
    public int? RestoresVersion { get; init; }

    /// <summary>Everyone who made or changed it; none of them may review it. Shape: in order of their first write.</summary>
    public required IReadOnlyList<string> Authors { get; init; }

    /// <summary>When it was made. Units: UTC.</summary>
    public required DateTime CreatedAtUtc { get; init; }

    /// <summary>When it was last written. Units: UTC.</summary>
    public required DateTime UpdatedAtUtc { get; init; }

    /// <summary>Who reviewed it last. Missing: null, nobody yet.</summary>
    public string? ReviewedBy { get; init; }

    /// <summary>What the reviewer said. Missing: null.</summary>
    public string? ReviewNote { get; init; }

    /// <summary>The version its changes were released as. Missing: null.</summary>
    public int? ReleasedVersion { get; init; }
}

/// <summary>A remark on a proposal.</summary>
public sealed record ProposalComment
{
    /// <summary>Names it; later ones have greater numbers.</summary>
    public int Id { get; init; }

    /// <summary>The proposal.</summary>
    public required string ProposalId { get; init; }

    /// <summary>Who made it.</summary>
    public required string Author { get; init; }

    /// <summary>The remark.</summary>
    public required string Text { get; init; }

    /// <summary>When. Units: UTC.</summary>
    public required DateTime AtUtc { get; init; }

    /// <summary>The step it was said with. Missing: null, it is a remark by itself.</summary>
    public RemarkOccasion? Occasion { get; init; }
}

/// <summary>Keeps count of who had a hand in a proposal.</summary>
internal static class ProposalAuthors
{
    /// <summary>The proposal with one more author, unless they are one already.</summary>
    /// <param name="proposal">The proposal.</param>
    /// <param name="origin">Who writes.</param>
    public static Proposal By(this Proposal proposal, AuditOrigin origin) =>
        proposal.Authors.Contains(origin.Actor) ? proposal : proposal with { Authors = [.. proposal.Authors, origin.Actor] };
}
