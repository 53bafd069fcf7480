using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Curation;

/// <summary>What a reviewer says of a proposal.</summary>
public sealed record ReviewRequest
{
    /// <summary>Whether it may be released, or goes back to its authors.</summary>
    public required ReviewVerdict Verdict { get; init; }

    /// <summary>Why. Missing: nothing to say.</summary>
    [StringLength(2000)]
    public string? Note { get; init; }
}
