using Derivid.Core.Curation;

namespace Derivid.Store.Curation;

/// <summary>One write of a proposal: from which states, and what becomes of it.</summary>
/// <param name="Action">What the audit log calls it.</param>
/// <param name="From">The states it may be in.</param>
/// <param name="Change">The proposal after it; revision and time are seen to.</param>
internal sealed record ProposalStep(string Action, IReadOnlyList<ProposalState> From, Func<Proposal, Proposal> Change);
