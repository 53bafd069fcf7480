using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Curation;

/// <summary>Title and reason of a proposal.</summary>
public sealed record ProposalDescription
{
    /// <summary>What it is about, in a line.</summary>
    [StringLength(200)]
    public required string Title { get; init; }

    /// <summary>Why, with the sources. Missing: the title says it.</summary>
    [StringLength(2000)]
    public string? Reason { get; init; }
}
