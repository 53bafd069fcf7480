using Derivid.Core.Ranking.Distributions;
using MathNet.Numerics.Integration;

namespace Derivid.Core.Tests.Ranking;

/// <summary>The error of wet crystals and of a bulb out of the vapour.</summary>
public sealed class LowPlateauTests
{
    [Theory]
    [InlineData(1.5, 20)]
    [InlineData(2, 10)]
    [InlineData(8, 3)]
    public void IntegratesToOne(double sigma, double length)
    {
        var density = new LowPlateau(sigma, length);

        var total = Enumerable.Range(-200, 400).Sum(
            celsius => GaussLegendreRule.Integrate(density.At, celsius, celsius + 1, 10));

        Assert.Equal(1, total, 1e-9);
    }

    [Fact]
    public void IsLevelAsFarDownAsItReachesAndFallsAsANormalBeyond()
    {
        // By hand, σ 2 °C and 20 °C long: lower end 5 °C soft, height 1/(20 + √(π/2)·(2 + 5)).
        var density = new LowPlateau(2, 20);
        var height = 1 / (20 + (Math.Sqrt(Math.PI / 2) * 7));

        Assert.Equal(height, density.At(0), 1e-15);
        Assert.Equal(height, density.At(-20), 1e-15);
        Assert.Equal(height * Math.Exp(-0.5), density.At(2), 1e-15);
        Assert.Equal(height * Math.Exp(-0.5), density.At(-25), 1e-15);
    }
}
