using Derivid.Core.Curation;

namespace Derivid.Store.Curation;

/// <summary>What became of writing a proposal.</summary>
/// <param name="Fault">Why it was not written, or that it was.</param>
/// <param name="Proposal">The proposal as it now stands. Missing: null, there is none.</param>
public sealed record ProposalWrite(ProposalFault Fault, Proposal? Proposal)
{
    /// <summary>The rules broken. Shape: errors only; empty unless the fault is <see cref="ProposalFault.Invalid"/>.</summary>
    public IReadOnlyList<TableFinding> Findings { get; init; } = [];

    /// <summary>What was changed since. Shape: empty unless the fault is <see cref="ProposalFault.Outdated"/>.</summary>
    public IReadOnlyList<RecordChange> Conflicts { get; init; } = [];
}
