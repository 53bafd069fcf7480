namespace Derivid.Client.Identifications;

/// <summary>What was known of the unknown before any evidence: a shelf list or weights, not both.</summary>
public sealed record PriorDescribed
{
    /// <summary>The only parents it may be, all alike: keys, names, synonyms or CAS numbers. See /api/v1/parents.</summary>
    public IReadOnlyList<string>? ShelfList { get; init; }

    /// <summary>Relative weight by parent; parents left out get none. Bounds: above 0, up to 1e6.</summary>
    public IReadOnlyDictionary<string, double>? Weights { get; init; }

    /// <summary>Prior probability that it is none of them. Missing: the model's.</summary>
    public double? NoneOfThese { get; init; }
}
