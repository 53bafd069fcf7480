using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Curation;

/// <summary>A remark to be made.</summary>
public sealed record CommentRequest
{
    /// <summary>The remark.</summary>
    [StringLength(2000)]
    public required string Text { get; init; }
}
