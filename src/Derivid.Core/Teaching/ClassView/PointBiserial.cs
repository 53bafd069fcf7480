namespace Derivid.Core.Teaching.ClassView;

/// <summary>How strongly getting one item right goes together with scoring high.</summary>
public static class PointBiserial
{
    /// <summary>The point-biserial correlation.</summary>
    /// <param name="marks">Whether the item was right, and the score. Shape: any order.</param>
    /// <returns>
    /// (M₁ − M₀)/s · √(pq), with the means of those right and wrong, the standard deviation of all scores with divisor n,
    /// and the shares right and wrong. Bounds: −1 to 1. Missing: null if all are right, all wrong or all score alike.
    /// </returns>
    /// <remarks>
    /// Source: Brown, J. D. Point-biserial correlation coefficients. Shiken: JALT Testing &amp; Evaluation SIG Newsletter 2001,
    /// 5 (3), 13–17.
    /// </remarks>
    public static double? Of(IReadOnlyCollection<(bool IsRight, double Score)> marks)
    {
        ArgumentNullException.ThrowIfNull(marks);
        double[] right = [.. marks.Where(mark => mark.IsRight).Select(mark => mark.Score)];
        double[] wrong = [.. marks.Where(mark => !mark.IsRight).Select(mark => mark.Score)];
        if (right.Length == 0 || wrong.Length == 0)
        {
            return null;
        }

        var mean = marks.Average(mark => mark.Score);
        var deviation = Math.Sqrt(marks.Average(mark => (mark.Score - mean) * (mark.Score - mean)));
        var share = (double)right.Length / marks.Count;
        return deviation > 0
            ? Math.Clamp((right.Average() - wrong.Average()) / deviation * Math.Sqrt(share * (1 - share)), -1, 1)
            : null;
    }
}
