namespace Derivid.Core.Ranking.Forecasts;

/// <summary>For one question of yes or no, how likely each parent answers yes: what asking it would tell.</summary>
/// <remarks>Thread safety: immutable.</remarks>
internal sealed class SpotTestForecast
{
    private readonly double[] _entropies;

    /// <summary>Takes the probabilities.</summary>
    /// <param name="positive">Probability of a positive from each parent, given the tests already read.</param>
    public SpotTestForecast(ParentValues positive)
    {
        Positive = positive;
        _entropies = Entropy.OfAnswers(positive.Values);
    }

    /// <summary>Probability of a positive.</summary>
    public ParentValues Positive { get; }

    /// <summary>Expected fall of entropy on reading the test, outcomes positive and negative.</summary>
    /// <param name="weights">Probabilities of the parents.</param>
    /// <param name="nonePositive">Probability of a positive from an unlisted compound.</param>
    /// <returns>Units: nats. Bounds: 0 up.</returns>
    public double ExpectedInformation(ForecastWeights weights, double nonePositive)
    {
        ArgumentNullException.ThrowIfNull(weights);
        var overall = weights.None * nonePositive;
        var conditional = weights.None * Entropy.OfAnswer(nonePositive);
        var (places, shares) = weights.By(Positive.Classes);
        for (var i = 0; i < places.Length; i++)
        {
            overall += shares[i] * Positive.Values[places[i]];
            conditional += shares[i] * _entropies[places[i]];
        }

        return Math.Max(0, Entropy.OfAnswer(overall) - conditional);
    }
}
