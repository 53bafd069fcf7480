using Derivid.Validation.Metrics;

namespace Derivid.Validation.Tests;

public sealed class MetricsTests
{
    private static CaseScore None(bool isAbsent, double none) => new(isAbsent, 0, 0, 0, 0, none, isAbsent, none, -1);

    private static CaseScore Top(double probability, bool isRight) => new(false, 0, 0, 0, 0, probability, isRight, 0, 0);

    [Fact]
    public void AurocCountsPairsInTheRightOrder()
    {
        // Absent 0.9, 0.4; present 0.5, 0.4, 0.1. Of six pairs: 0.9 beats all three; 0.4 loses to 0.5, ties 0.4, beats 0.1.
        CaseScore[] scores = [None(true, 0.9), None(true, 0.4), None(false, 0.5), None(false, 0.4), None(false, 0.1)];

        Assert.Equal((3 + 0 + 0.5 + 1) / 6.0, Auroc.Of(scores), 1e-15);
    }

    [Fact]
    public void AurocOfAConstantScoreIsOneHalf() =>
        Assert.Equal(0.5, Auroc.Of([None(true, 0.2), None(false, 0.2), None(false, 0.2)]), 1e-15);

    [Fact]
    public void AurocWeighsRepeatedCasesAsRepetition()
    {
        CaseScore[] scores = [None(true, 0.9), None(true, 0.3), None(false, 0.5), None(false, 0.2)];
        CaseScore[] repeated = [scores[0], scores[0], scores[1], scores[2], scores[2], scores[2]];

        Assert.Equal(Auroc.Of(repeated), Auroc.Of(scores, [2, 1, 3, 0]), 1e-15);
    }

    [Fact]
    public void CalibrationErrorIsTheMeanGapOverBins()
    {
        // Bin 0.7-0.8: mean 0.75, half right, gap 0.25, two cases. Bin 0.2-0.3: 0.25, none right, gap 0.25, one case.
        // Bin 0.9-1: 0.95, right, gap 0.05, one case.
        CaseScore[] scores = [Top(0.71, true), Top(0.79, false), Top(0.25, false), Top(0.95, true)];

        Assert.Equal(((2 * 0.25) + 0.25 + 0.05) / 4, CalibrationError.Of(scores), 1e-12);
    }

    [Fact]
    public void CertaintyFallsInTheLastBin() => Assert.Equal(0, CalibrationError.Of([Top(1, true)]), 1e-15);

    [Fact]
    public void ScoreOfAnAnswerFollowsFromItsProbabilities()
    {
        var score = CaseScore.Of(new MethodReply([0.5, 0.2, 0.2, 0], 0.1), 1, false);

        Assert.Equal(1, score.Better);
        Assert.Equal(1, score.Tied);
        Assert.Equal(-Math.Log(0.2), score.LogLoss, 1e-15);
        // (0.5)² + (0.2 − 1)² + 0.2² + 0² + 0.1²
        Assert.Equal(0.25 + 0.64 + 0.04 + 0.01, score.Brier, 1e-12);
        Assert.False(score.IsTopRight);
        Assert.Equal(0, score.Among(1));
        Assert.Equal(0.5, score.Among(2));
        Assert.Equal(1, score.Among(3));
    }

    [Fact]
    public void AbsentCompoundIsRightWhenNoneLeads()
    {
        var score = CaseScore.Of(new MethodReply([0.3, 0, 0.1], 0.6), 1, true);

        Assert.True(score.IsTopRight);
        Assert.Equal(-Math.Log(0.6), score.LogLoss, 1e-15);
        Assert.Equal(-1, score.Leader);
    }

    [Fact]
    public void BootstrapIntervalOfAShareHasTheWidthOfTheNormalApproximation()
    {
        // 400 cases, 100 successes: standard error √(0.25·0.75/400) = 0.02165, so 0.25 ± 0.0424.
        const int cases = 400;
        var (low, high) = Bootstrap.Intervals(
            cases, 7, weights => [weights.Take(100).Sum() / (double)cases])[0];

        // 200 resamples leave about a tenth of the width to chance.
        Assert.InRange(high - low, 0.0849 * 0.8, 0.0849 * 1.2);
        Assert.InRange((low + high) / 2, 0.25 - 0.01, 0.25 + 0.01);
    }

    [Fact]
    public void BootstrapIsTheSameEveryTime()
    {
        double[] Figure(int[] weights) => [weights.Select((weight, i) => weight * (double)i).Sum()];

        Assert.Equal(Bootstrap.Intervals(50, 3, Figure), Bootstrap.Intervals(50, 3, Figure));
    }

    [Fact]
    public void HalfOfAParentDependsOnItsKeyAlone()
    {
        // Published test values of FNV-1a, 32 bits: 0xE40C292C for "a", 0x6222E842 for "fo".
        Assert.False(Halves.IsFitting("a"));
        Assert.True(Halves.IsFitting("fo"));
    }
}
