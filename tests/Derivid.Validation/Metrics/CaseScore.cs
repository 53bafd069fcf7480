namespace Derivid.Validation.Metrics;

/// <summary>How one reply did on one case.</summary>
/// <param name="IsAbsent">Whether the right reply was "none of these".</param>
/// <param name="Better">Candidates ranked above the true one. Missing: 0 where absent.</param>
/// <param name="Tied">Candidates ranked with it, itself not counted.</param>
/// <param name="LogLoss">Minus the natural logarithm of the probability given to the right reply.</param>
/// <param name="Brier">Sum over all answers of (probability − truth)².</param>
/// <param name="TopProbability">Probability of the leading reply, "none of these" being one.</param>
/// <param name="IsTopRight">Whether the leading reply was right.</param>
/// <param name="NoneOfThese">Probability of "none of these".</param>
/// <param name="Leader">Index of the leading reply; −1 for "none of these".</param>
public readonly record struct CaseScore(
    bool IsAbsent,
    int Better,
    int Tied,
    double LogLoss,
    double Brier,
    double TopProbability,
    bool IsTopRight,
    double NoneOfThese,
    int Leader)
{
    /// <summary>Scores an reply.</summary>
    /// <param name="reply">What the method says.</param>
    /// <param name="truth">Index of the true parent.</param>
    /// <param name="isAbsent">Whether that parent had been taken out of the table.</param>
    public static CaseScore Of(MethodReply reply, int truth, bool isAbsent)
    {
        var (own, order) = (reply.Probability[truth], reply.Preference ?? reply.Probability);
        int better = 0, tied = -1, top = -1;
        double squares = reply.NoneOfThese * reply.NoneOfThese, most = reply.NoneOfThese;
        for (var parent = 0; parent < reply.Probability.Length; parent++)
        {
            var probability = reply.Probability[parent];
            squares += probability * probability;
            better += order[parent] > order[truth] ? 1 : 0;
            tied += order[parent] == order[truth] ? 1 : 0;
            if (probability > most)
            {
                (most, top) = (probability, parent);
            }
        }

        var right = isAbsent ? reply.NoneOfThese : own;
        return new CaseScore(
            isAbsent,
            isAbsent ? 0 : better,
            isAbsent ? 0 : tied,
            -Math.Log(Math.Max(right, 1e-300)),
            squares - (2 * right) + 1,
            most,
            top == (isAbsent ? -1 : truth),
            reply.NoneOfThese,
            top);
    }

    /// <summary>Share of the ways to break ties that put the true parent among the first k.</summary>
    public double Among(int k) => Math.Clamp((k - Better) / (Tied + 1.0), 0, 1);
}
