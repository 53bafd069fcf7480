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
        _entropies = new double[positive.Length];
        for (var parent = 0; parent < positive.Length; parent++)
        {
            // Rates are few and neighbours often share one, and a logarithm costs more than a comparison.
            _entropies[parent] = parent > 0 && positive[parent] == positive[parent - 1]
                ? _entropies[parent - 1]
                : BinaryEntropy(positive[parent]);
        }
    }

    /// <summary>Probability of a positive. Shape: one a parent.</summary>
    public ReadOnlySpan<double> Positive => _positive;

    /// <summary>Expected fall of entropy on reading the test, outcomes positive and negative.</summary>
    /// <param name="weights">Probability of each parent.</param>
    /// <param name="nonePositive">Probability of a positive from an unlisted compound.</param>
    /// <param name="noneWeight">Probability of "none of these". The weights sum to 1 with it.</param>
    /// <returns>Units: nats. Bounds: 0 up.</returns>
    public double ExpectedInformation(ReadOnlySpan<double> weights, double nonePositive, double noneWeight)
    {
        var overall = noneWeight * nonePositive;
        var conditional = noneWeight * BinaryEntropy(nonePositive);
        for (var parent = 0; parent < weights.Length; parent++)
        {
            if (weights[parent] > 1e-6)
            {
                overall += weights[parent] * _positive[parent];
                conditional += weights[parent] * _entropies[parent];
            }
        }

        return Math.Max(0, BinaryEntropy(overall) - conditional);
    }

    /// <summary>Entropy of a yes/no outcome. Units: nats.</summary>
    public static double BinaryEntropy(double probability) =>
        probability is <= 0 or >= 1
            ? 0
            : -(probability * Math.Log(probability)) - ((1 - probability) * Math.Log(1 - probability));
}
