namespace Derivid.Validation.Metrics;

/// <summary>The figures of one method on one row, over a set of cases.</summary>
/// <param name="Top1">Share of present compounds ranked first.</param>
/// <param name="Top3">Share among the first three.</param>
/// <param name="Top5">Share among the first five.</param>
/// <param name="MeanRank">Mean rank of present compounds.</param>
/// <param name="LogLoss">Mean log loss over all cases. Units: nats.</param>
/// <param name="Brier">Mean Brier score over all cases.</param>
/// <param name="CalibrationError">Expected calibration error of the leading answer over all cases.</param>
/// <param name="NoneShare">Share of absent compounds for which "none of these" leads.</param>
/// <param name="NoneAuroc">Area under the curve of absent against present by the probability of "none of these".</param>
public sealed record Summary(
    double Top1,
    double Top3,
    double Top5,
    double MeanRank,
    double LogLoss,
    double Brier,
    double CalibrationError,
    double NoneShare,
    double NoneAuroc)
{
    /// <summary>The figures in order, for intervals.</summary>
    public double[] Figures => [Top1, Top3, Top5, MeanRank, LogLoss, Brier, CalibrationError, NoneShare, NoneAuroc];

    /// <summary>Works the figures out.</summary>
    /// <param name="scores">The cases.</param>
    /// <param name="weights">How often each counts. Missing: null, once each.</param>
    /// <param name="order">What <see cref="Auroc.Order"/> gave for these cases. Missing: null, worked out.</param>
    public static Summary Of(
        IReadOnlyList<CaseScore> scores, IReadOnlyList<int>? weights = null, IReadOnlyList<int>? order = null)
    {
        double present = 0, absent = 0, top1 = 0, top3 = 0, top5 = 0, rank = 0, loss = 0, brier = 0, none = 0;
        for (var i = 0; i < scores.Count; i++)
        {
            var (score, weight) = (scores[i], weights?[i] ?? 1);
            loss += weight * score.LogLoss;
            brier += weight * score.Brier;
            if (score.IsAbsent)
            {
                absent += weight;
                none += score.IsTopRight ? weight : 0;
            }
            else
            {
                present += weight;
                top1 += weight * score.Among(1);
                top3 += weight * score.Among(3);
                top5 += weight * score.Among(5);
                rank += weight * (1 + score.Better + (score.Tied / 2.0));
            }
        }

        return new Summary(
            top1 / present,
            top3 / present,
            top5 / present,
            rank / present,
            loss / (present + absent),
            brier / (present + absent),
            Metrics.CalibrationError.Of(scores, weights),
            none / absent,
            Auroc.Of(scores, weights, order));
    }
}
