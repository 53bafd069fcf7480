using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Identifications;

/// <summary>What was known of the unknown before any evidence: a shelf list or weights, not both.</summary>
public sealed record PriorDescribed
{
    /// <summary>The only parents it may be, all alike: keys, names, synonyms or CAS numbers. See /api/v1/parents.</summary>
    [MinLength(1)]
    [MaxLength(1000)]
    public IReadOnlyList<string>? ShelfList { get; init; }

    /// <summary>Relative weight by parent; parents left out get none. Bounds: above 0, up to 1e6.</summary>
    [MinLength(1)]
    [MaxLength(1000)]
    public IReadOnlyDictionary<string, double>? Weights { get; init; }

    /// <summary>Prior probability that it is none of them. Missing: the model's.</summary>
    [Range(0.0, 0.99)]
    public double? NoneOfThese { get; init; }
}
