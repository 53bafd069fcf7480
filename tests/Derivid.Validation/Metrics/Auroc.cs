namespace Derivid.Validation.Metrics;

/// <summary>
/// Area under the receiver operating curve: the probability that an absent compound gets a higher probability of "none of
/// these" than a present one, ties counting half (the Mann–Whitney statistic).
/// </summary>
public static class Auroc
{
    /// <summary>The area.</summary>
    /// <param name="scores">The cases.</param>
    /// <param name="weights">How often each counts. Missing: null, once each.</param>
    /// <param name="order">What <see cref="Order"/> gave for these cases. Missing: null, worked out here.</param>
    /// <returns>Bounds: 0 to 1; 0.5 says nothing. NaN where either class is empty.</returns>
    public static double Of(
        IReadOnlyList<CaseScore> scores, IReadOnlyList<int>? weights = null, IReadOnlyList<int>? order = null)
    {
        order ??= Order(scores);
        double absent = 0, present = 0, below = 0;
        for (var i = 0; i < order.Count;)
        {
            double absentHere = 0, presentHere = 0;
            var value = scores[order[i]].NoneOfThese;
            for (; i < order.Count && scores[order[i]].NoneOfThese == value; i++)
            {
                var weight = weights?[order[i]] ?? 1;
                absentHere += scores[order[i]].IsAbsent ? weight : 0;
                presentHere += scores[order[i]].IsAbsent ? 0 : weight;
            }

            below += absentHere * (present + (presentHere / 2));
            absent += absentHere;
            present += presentHere;
        }

        return below / (absent * present);
    }

    /// <summary>The cases by rising probability of "none of these".</summary>
    public static int[] Order(IReadOnlyList<CaseScore> scores)
    {
        var keys = scores.Select(score => score.NoneOfThese).ToArray();
        var order = Enumerable.Range(0, keys.Length).ToArray();
        Array.Sort(keys, order);
        return order;
    }
}
