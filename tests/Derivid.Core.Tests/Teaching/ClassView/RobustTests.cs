using Derivid.Core.Teaching.ClassView;

namespace Derivid.Core.Tests.Teaching.ClassView;

public sealed class RobustTests
{
    [Fact]
    public void WorkedFiguresMatch()
    {
        // 1, 1, 2, 2, 4, 6, 9: median 2; differences 1, 1, 0, 0, 2, 4, 7, their median 1.
        double[] values = [9, 1, 2, 6, 1, 4, 2];

        Assert.Equal(2, Robust.Median(values));
        Assert.Equal(1, Robust.MedianAbsoluteDeviation(values));
        Assert.Equal(1.5, Robust.Quantile(values, 0.25));
        Assert.Equal(2.5, Robust.Median([1, 2, 3, 4]));
    }

    [Fact]
    public void NormalFactorIsTheInverseOfTheUpperQuartileOfTheNormalDistribution() =>
        Assert.Equal(Robust.NormalFactor, 1 / MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, 0.75), 1e-12);

    [Fact]
    public void NoValueIsRefused() => Assert.Throws<ArgumentException>(() => Robust.Median([]));
}
