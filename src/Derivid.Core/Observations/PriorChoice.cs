namespace Derivid.Core.Observations;

/// <summary>What was known of the unknown before any evidence.</summary>
public sealed record PriorChoice
{
    /// <summary>Every parent of the table alike, and the model's own share for "none of these".</summary>
    public static PriorChoice Uniform { get; } = new();

    /// <summary>
    /// Relative weight by parent key; parents left out get none. Shape: weights above zero. Missing: null, all alike.
    /// A shelf list is the same weight for each of its parents.
    /// </summary>
    public IReadOnlyDictionary<string, double>? Weights { get; init; }

    /// <summary>
    /// Prior probability that the compound is not among those considered. Bounds: 0 to 0.99. Missing: null, the model's.
    /// </summary>
    public double? NoneOfThese { get; init; }
}
