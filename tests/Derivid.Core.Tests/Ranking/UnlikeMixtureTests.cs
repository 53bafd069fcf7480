using CsCheck;
using Derivid.Core.Melting;
using Derivid.Core.Ranking.Distributions;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;

namespace Derivid.Core.Tests.Ranking;

/// <summary>The clear point of a mixture of two different compounds.</summary>
public sealed class UnlikeMixtureTests
{
    private static readonly UnlikeMixture Density = new(TestTable.Settings.MixedMelting);

    [Theory]
    [InlineData(126, 126)]
    [InlineData(80, 240)]
    [InlineData(300, 280)]
    public void IntegratesToOne(double one, double other)
    {
        var total = Enumerable.Range(-272, 272 + (int)Math.Max(one, other)).Sum(
            celsius => GaussLegendreRule.Integrate(at => Density.DensityAt(at, one, other), celsius, celsius + 1, 10));

        Assert.Equal(1, total, 1e-6);
    }

    [Fact]
    public void IsTheSameWhicheverIsNamedFirst() =>
        Gen.Select(Gen.Double[20, 300], Gen.Double[20, 300], Gen.Double[-50, 300]).Sample((one, other, clear) =>
            Assert.Equal(Density.DensityAt(clear, one, other), Density.DensityAt(clear, other, one), 1e-12));

    [Theory]
    [InlineData(126, 126)]
    [InlineData(120, 170)]
    public void IsThatOfDrawnEntropiesAndCompositions(double one, double other)
    {
        // The law put to 200,000 pairs of entropies and ratios of moles.
        var settings = TestTable.Settings.MixedMelting;
        var random = new Random(1);
        var entropies = new LogNormal(Math.Log(settings.FusionEntropy), Math.Log(settings.FusionEntropyFactor), random);
        var ratios = new LogNormal(0, Math.Log(settings.MoleRatioFactor), random);
        var clear = Enumerable.Range(0, 200_000).Select(_ =>
        {
            var ratio = ratios.Sample();
            var at = ratio / (1 + ratio);
            return IdealEutectic.ClearPointCelsius(new PureSolid(one, entropies.Sample()), new PureSolid(other, entropies.Sample()), at);
        }).ToList();

        for (var low = (int)one - 60; low < Math.Max(one, other); low += 10)
        {
            var expected = GaussLegendreRule.Integrate(at => Density.DensityAt(at, one, other), low, low + 10, 40);
            Assert.Equal(expected, clear.Count(at => at >= low && at < low + 10) / 200_000.0, 0.005);
        }
    }

    [Fact]
    public void NeverClearsAboveTheHigherMeltingPoint() =>
        Gen.Select(Gen.Double[20, 300], Gen.Double[20, 300], Gen.Double[0, 50]).Sample((one, other, above) =>
            Assert.Equal(0, Density.DensityAt(Math.Max(one, other) + above, one, other)));
}
