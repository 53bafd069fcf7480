using Derivid.Store.Curation;

namespace Derivid.Api.Curation;

/// <summary>A remark on a proposal.</summary>
/// <param name="Author">Who made it.</param>
/// <param name="At">When (RFC 3339, UTC).</param>
/// <param name="Text">The remark.</param>
public sealed record CommentItem(string Author, DateTime At, string Text)
{
    /// <summary>Translates.</summary>
    /// <param name="comment">The remark.</param>
    public static CommentItem Of(ProposalComment comment)
    {
        ArgumentNullException.ThrowIfNull(comment);
        return new CommentItem(comment.Author, comment.AtUtc, comment.Text);
    }
}
