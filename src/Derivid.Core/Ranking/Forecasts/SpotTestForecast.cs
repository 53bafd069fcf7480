namespace Derivid.Core.Ranking.Forecasts;

/// <summary>For one question of yes or no, how likely each parent answers yes: what asking it would tell.</summary>
/// <remarks>Thread safety: immutable.</remarks>
internal sealed class SpotTestForecast
{
    private readonly double[] _positive;
    private readonly double[] _entropies;

    /// <summary>Takes the probabilities.</summary>
    /// <param name="positive">Probability of a positive from each parent, given the tests already read. Kept, not copied.</param>
    public SpotTestForecast(double[] positive)
    {
        _positive = positive;
        _entropies = Entropy.OfAnswers(positive);
    }

    /// <summary>Probability of a positive. Shape: one a parent.</summary>
    public ReadOnlySpan<double> Positive => _positive;

    /// <summary>Expected fall of entropy on reading the test, outcomes positive and negative.</summary>
    /// <param name="weights">Probabilities of the parents.</param>
    /// <param name="nonePositive">Probability of a positive from an unlisted compound.</param>
    /// <returns>Units: nats. Bounds: 0 up.</returns>
    public double ExpectedInformation(ForecastWeights weights, double nonePositive)
    {
        ArgumentNullException.ThrowIfNull(weights);
        var overall = weights.None * nonePositive;
        var conditional = weights.None * Entropy.OfAnswer(nonePositive);
        for (var i = 0; i < weights.Parents.Length; i++)
        {
            var (parent, weight) = (weights.Parents[i], weights.Weights[i]);
            overall += weight * _positive[parent];
            conditional += weight * _entropies[parent];
        }

        return Math.Max(0, Entropy.OfAnswer(overall) - conditional);
    }
}
