namespace Derivid.Validation.Metrics;

/// <summary>What one method says of one case: a probability for every parent of the bench table and for "none".</summary>
/// <param name="Probability">Shape: one a parent; the one taken out of the table has none.</param>
/// <param name="NoneOfThese">Probability of "none of these"; all sum to 1.</param>
public sealed record MethodReply(double[] Probability, double NoneOfThese)
{
    /// <summary>The order of the candidates, more is better. Shape: one a parent. Missing: null, their probability.</summary>
    public double[]? Preference { get; init; }
}
