using Derivid.Client.Curation;

namespace Derivid.Cli.Curation;

/// <summary>A proposal with all that belongs to it.</summary>
internal sealed record ProposalInFull(
    ProposalItem Proposal,
    ValidationItem Validation,
    IReadOnlyList<ChangeItem> Changes,
    IReadOnlyList<CommentItem> Comments);
