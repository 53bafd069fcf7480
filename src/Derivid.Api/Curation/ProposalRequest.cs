using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Curation;

/// <summary>A proposal to be made.</summary>
public sealed record ProposalRequest
{
    /// <summary>What it is about, in a line.</summary>
    [StringLength(200)]
    public required string Title { get; init; }

    /// <summary>Why, with the sources. Missing: the title says it.</summary>
    [StringLength(2000)]
    public string? Reason { get; init; }

    /// <summary>A version to go back to: the proposal begins with all that differs from it. Missing: it begins empty.</summary>
    [Range(1, int.MaxValue)]
    public int? RestoresVersion { get; init; }
}
