namespace Derivid.Core.Ranking;

/// <summary>Probabilities over a whole snapshot, without explanations.</summary>
public sealed class PosteriorView
{
    private readonly Posterior _posterior;

    internal PosteriorView(Posterior posterior) => _posterior = posterior;

    /// <summary>Shape: one a parent, in snapshot order.</summary>
    public IReadOnlyList<double> Probability => _posterior.Probability;

    /// <summary>Shape: one a parent, in snapshot order. Natural logarithm.</summary>
    public IReadOnlyList<double> LogLikelihoodRatio => _posterior.LogRatio;

    /// <summary>Probability of "none of these"; all sum to 1.</summary>
    public double NoneOfThese => _posterior.NoneProbability;

    /// <summary>Its log likelihood ratio on the same scale.</summary>
    public double NoneLogLikelihoodRatio => _posterior.NoneLogRatio;

    /// <summary>Whether there was anything to weigh.</summary>
    public bool HoldsEvidence => _posterior.HoldsEvidence;

    /// <summary>The parents considered, most probable first. Shape: indices in the snapshot; ties by key.</summary>
    public IReadOnlyList<int> Order => _posterior.Order;

    /// <summary>Which of them cannot be told apart.</summary>
    public CandidateGroups Groups => _posterior.Groups;
}
