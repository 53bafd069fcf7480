using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Curation;

/// <summary>A release.</summary>
public sealed record ReleaseRequest
{
    /// <summary>What the version is to say of itself. Missing: the proposal's title.</summary>
    [StringLength(500)]
    public string? Note { get; init; }
}
