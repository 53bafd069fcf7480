using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Teaching;

/// <summary>What a check of the shelf can be asked.</summary>
public sealed record ShelfQuery
{
    /// <summary>Least probability that makes a compound identifiable. Missing: 0.8.</summary>
    [Range(0.0, 1.0)]
    public double? LeastPosterior { get; init; }
}
