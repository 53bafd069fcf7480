namespace Derivid.Client.Curation;

/// <summary>A remark on a proposal.</summary>
/// <param name="Author">Who made it.</param>
/// <param name="At">When (RFC 3339, UTC).</param>
/// <param name="Text">The remark.</param>
public sealed record CommentItem(string Author, DateTime At, string Text);
