namespace Derivid.Api.Curation;

/// <summary>The remarks on a proposal, oldest first.</summary>
/// <param name="Items">The remarks.</param>
public sealed record CommentList(IReadOnlyList<CommentItem> Items);
