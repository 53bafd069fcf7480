namespace Derivid.Core.Ranking.Forecasts;

/// <summary>What running a spot test is expected to tell.</summary>
internal static class SpotTestForecast
{
    /// <summary>Expected fall of entropy on reading the test, outcomes positive and negative.</summary>
    /// <param name="positive">Probability of a positive from each parent, given the tests already read.</param>
    /// <param name="weights">Probability of each parent.</param>
    /// <param name="nonePositive">Probability of a positive from an unlisted compound.</param>
    /// <param name="noneWeight">Probability of "none of these". The weights sum to 1 with it.</param>
    /// <returns>Units: nats. Bounds: 0 up.</returns>
    public static double ExpectedInformation(
        ReadOnlySpan<double> positive, ReadOnlySpan<double> weights, double nonePositive, double noneWeight)
    {
        var overall = noneWeight * nonePositive;
        var conditional = noneWeight * BinaryEntropy(nonePositive);
        for (var parent = 0; parent < weights.Length; parent++)
        {
            if (weights[parent] > 1e-6)
            {
                overall += weights[parent] * positive[parent];
                conditional += weights[parent] * BinaryEntropy(positive[parent]);
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
