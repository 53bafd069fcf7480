using CsCheck;
using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Distributions;
using MathNet.Numerics.Integration;

namespace Derivid.Core.Tests.Ranking;

public sealed class ReadingNoiseTests
{
    private static readonly ScatterSettings Scatter = TestTable.Settings.DerivativeMelting;

    [Fact]
    public void PureSampleFollowsTheClosedForm()
    {
        var noise = new ReadingNoise(Scatter, 1, new ReadingError(1.2, default));

        // By hand, 3 °C from a value read in its source: core σ = √(1.3² + 1.2²) = 1.769181 °C, wide σ = √(σ² + 9²).
        var core = Math.Sqrt((1.3 * 1.3) + (1.2 * 1.2));
        var wide = Math.Sqrt((core * core) + 81);
        var expected = (0.83 * Math.Exp(-4.5 / (core * core)) / (core * Math.Sqrt(2 * Math.PI)))
            + (0.13 * Math.Exp(-4.5 / (wide * wide)) / (wide * Math.Sqrt(2 * Math.PI)))
            + (0.04 / 360);

        Assert.Equal(expected, noise.At(3, Listed(126)), 1e-15);
        Assert.Equal(expected, noise.At(-3, Listed(126)), 1e-15);
    }

    [Fact]
    public void WetCrystalsMeltLowByAnythingUpToTheirExtent()
    {
        var noise = new ReadingNoise(Scatter, 1, new ReadingError(1.2, new Purity(0, 0, 0.3, 20)));

        // By hand, 15 °C low: three tenths lie level over 20 °C with soft ends of σ and 5 °C, height 1/(20 + √(π/2)·(σ + 5));
        // of the dry ones only the wide component and the gross errors reach so far.
        var core = Math.Sqrt((1.3 * 1.3) + (1.2 * 1.2));
        var plateau = 1 / (20 + (Math.Sqrt(Math.PI / 2) * (core + 5)));
        var expected = (0.83 * 0.3 * plateau)
            + (0.83 * 0.7 * NormalDensity.At(15, core))
            + (0.13 * NormalDensity.At(15, Math.Sqrt((core * core) + 81)))
            + (0.04 / 360);

        Assert.Equal(expected, noise.At(-15, Listed(126)), 1e-15);
    }

    [Fact]
    public void PureImpureAndWetTogetherIntegrateToOne()
    {
        var noise = new ReadingNoise(Scatter, 1, new ReadingError(1.2, new Purity(0.3, 4, 0.2, 20)));

        var total = Enumerable.Range(0, 360).Sum(
            celsius => GaussLegendreRule.Integrate(x => noise.At(x - 180, Listed(180)), celsius, celsius + 1, 20));

        Assert.Equal(1, total, 1e-7);
    }

    [Theory]
    [InlineData(Preparation.Crude, 7)]
    [InlineData(Preparation.Recrystallised, 1)]
    public void IntegratesToOneOverTheWorkingRange(Preparation preparation, double span)
    {
        var noise = new ReadingNoise(
            Scatter, 1, new ReadingError(1.2, TestTable.Settings.Depression.PurityOf(span, preparation)));
        var total = 0.0;
        for (var celsius = 0; celsius < 360; celsius++)
        {
            total += GaussLegendreRule.Integrate(
                x => noise.At(x - 180, Listed(180)), celsius, celsius + 1, 20);
        }

        // 180 °C lies 20 wide sigmas from either end, so nothing is lost outside. The impure part has two kinks inside
        // panels, which cost the rule two digits.
        Assert.Equal(1, total, 1e-7);
    }

    [Fact]
    public void NeverRisesAwayFromTheListedValue() =>
        Gen.Select(Gen.Double[0, 80], Gen.Double[0, 80], Gen.Bool, Gen.Double[0, 20], Gen.Enum<Preparation>())
            .Sample((a, b, isLow, span, preparation) =>
            {
                var noise = new ReadingNoise(
                    Scatter, 1, new ReadingError(1.2, TestTable.Settings.Depression.PurityOf(span, preparation)));
                var sign = isLow ? -1 : 1;
                Assert.True(
                    noise.At(sign * Math.Min(a, b), Listed(126))
                    >= noise.At(sign * Math.Max(a, b), Listed(126)) * (1 - 1e-12));
            });

    [Fact]
    public void WideCrudeReadingForgivesALowClearPointButNotAHighOne()
    {
        var crude = new ReadingNoise(
            Scatter, 1, new ReadingError(1.2, TestTable.Settings.Depression.PurityOf(7, Preparation.Crude)));
        var pure = new ReadingNoise(
            Scatter, 1, new ReadingError(1.2, TestTable.Settings.Depression.PurityOf(1, Preparation.Recrystallised)));

        Assert.True(crude.At(-6, Listed(126)) > 2 * pure.At(-6, Listed(126)));
        Assert.True(crude.At(-6, Listed(126)) > 2 * crude.At(6, Listed(126)));
    }

    [Fact]
    public void BetterVerifiedValuesScatterLess()
    {
        var noise = new ReadingNoise(Scatter, 1, new ReadingError(1.2, default));

        Assert.True(noise.At(0, Listed(126, Verification.CrossChecked)) > noise.At(0, Listed(126)));
        Assert.True(noise.At(0, Listed(126)) > noise.At(0, Listed(126, Verification.Recalled)));
        Assert.True(noise.At(0, Listed(126)) > noise.At(0, Listed(226)), "hot values scatter more");
        Assert.True(noise.At(0, Listed(126)) > noise.At(0, Listed(126) with { Decomposes = true }));
    }

    private static ListedTemperature Listed(double celsius, Verification verification = Verification.Read) =>
        new(celsius, celsius, false, verification, null, "invented", 1);
}
