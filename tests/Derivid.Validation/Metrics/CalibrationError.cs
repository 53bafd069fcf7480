namespace Derivid.Validation.Metrics;

/// <summary>Expected calibration error of the leading answer: how far confidence and success lie apart.</summary>
/// <remarks>
/// Cases are cut by the probability of the leading answer into bins of equal width; the error is the mean over cases of
/// |share right − mean probability| of their bin. Chance alone gives about 0.4·√(bins/cases).
/// </remarks>
public static class CalibrationError
{
    /// <summary>Number of bins.</summary>
    public const int Bins = 10;

    /// <summary>The error.</summary>
    /// <param name="scores">The cases.</param>
    /// <param name="weights">How often each counts. Missing: null, once each.</param>
    /// <returns>Bounds: 0 to 1.</returns>
    public static double Of(IReadOnlyList<CaseScore> scores, IReadOnlyList<int>? weights = null)
    {
        var bins = Cut(scores, weights);
        var total = bins.Sum(bin => bin.Cases);
        return bins.Sum(bin => bin.Cases * Math.Abs(bin.ShareRight - bin.MeanProbability)) / total;
    }

    /// <summary>The bins that hold a case, lowest first: the points of a reliability diagram.</summary>
    public static IReadOnlyList<(double MeanProbability, double ShareRight, double Cases)> Cut(
        IReadOnlyList<CaseScore> scores, IReadOnlyList<int>? weights = null)
    {
        var sums = new (double Probability, double Right, double Cases)[Bins];
        for (var i = 0; i < scores.Count; i++)
        {
            var weight = weights?[i] ?? 1;
            ref var bin = ref sums[Math.Min((int)(scores[i].TopProbability * Bins), Bins - 1)];
            bin.Probability += weight * scores[i].TopProbability;
            bin.Right += scores[i].IsTopRight ? weight : 0;
            bin.Cases += weight;
        }

        return [.. sums
            .Where(bin => bin.Cases > 0)
            .Select(bin => (bin.Probability / bin.Cases, bin.Right / bin.Cases, bin.Cases))];
    }
}
