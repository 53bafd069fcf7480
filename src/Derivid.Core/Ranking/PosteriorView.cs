namespace Derivid.Core.Ranking;

/// <summary>Probabilities over a whole snapshot, without explanations.</summary>
/// <param name="Probability">Shape: one a parent, in snapshot order.</param>
/// <param name="LogLikelihoodRatio">Shape: one a parent, in snapshot order. Natural logarithm.</param>
/// <param name="NoneOfThese">Probability of "none of these"; all sum to 1.</param>
/// <param name="NoneLogLikelihoodRatio">Its log likelihood ratio on the same scale.</param>
public sealed record PosteriorView(
    IReadOnlyList<double> Probability,
    IReadOnlyList<double> LogLikelihoodRatio,
    double NoneOfThese,
    double NoneLogLikelihoodRatio);
