using Derivid.Core.Teaching.ClassView;

namespace Derivid.Core.Tests.Teaching.ClassView;

[Trait("Kind", "Reference")]
public sealed class PointBiserialTests
{
    private static readonly double[] Scores = [50, 45, 45, 40, 35, 30, 30, 25];

    [Fact]
    public void PublishedExampleIsMet()
    {
        // Source: Brown, J. D. Point-biserial correlation coefficients. Shiken 2001, 5 (3), 13–17, Table 2: eight students,
        // item 1 right for the first four, Mp 45, Mq 30, St 8.29, p and q .50; item 2 the other way round. From these
        // figures (45 − 30)/8.29 · √(.50 · .50) = 0.9047; the table prints .91 and −.91, off by half a unit more than
        // rounding explains, so the last digit gets that much.
        var first = PointBiserial.Of([.. Scores.Select((score, i) => (i < 4, score))])!.Value;
        var second = PointBiserial.Of([.. Scores.Select((score, i) => (i >= 4, score))])!.Value;
        Assert.Equal(0.9047, first, 0.0005);
        Assert.Equal(0.91, first, 0.006);
        Assert.Equal(-0.91, second, 0.006);
    }

    [Fact]
    public void ItIsPearsonsCorrelationWithOneForRightAndNoughtForWrong()
    {
        bool[] isRight = [true, false, true, true, false, false, true, false];
        var pearson = MathNet.Numerics.Statistics.Correlation.Pearson(isRight.Select(right => right ? 1.0 : 0), Scores);

        Assert.Equal(pearson, PointBiserial.Of([.. isRight.Zip(Scores)])!.Value, 1e-12);
    }

    [Fact]
    public void WhatDoesNotVaryHasNone()
    {
        Assert.Null(PointBiserial.Of([(true, 1), (true, 2)]));
        Assert.Null(PointBiserial.Of([(false, 1), (false, 2)]));
        Assert.Null(PointBiserial.Of([(true, 1), (false, 1)]));
        Assert.Null(PointBiserial.Of([]));
    }
}
