using Derivid.Core.Observations;

namespace Derivid.Core.Tests.Ranking;

public sealed class DepressionSettingsTests
{
    [Fact]
    public void WidthShiftsTheImpureShareByBayes()
    {
        // By hand, width 3 °C, crude (prior 0.8): pure exp(−3/1.2)/1.2 = 0.0684042;
        // impure gamma of shape 2, scale 2.5: 3·exp(−3/2.5)/2.5² = 0.1445732;
        // share = 0.8·0.1445732/(0.8·0.1445732 + 0.2·0.0684042) = 0.8942253. Depression 1 + 0.7·3 = 3.1 °C.
        var purity = TestTable.Settings.Depression.PurityOf(3, Preparation.Crude);

        Assert.Equal(0.8942253, purity.ImpureShare, 1e-7);
        Assert.Equal(3.1, purity.DepressionCelsius, 1e-12);
    }

    [Fact]
    public void WideRangeMayBeOfWetCrystals()
    {
        // A tenth of all samples wet, which melt over 8 °C, give or take 0.3 of it; read over 10.4 °C, one spread more.
        var wetToo = TestTable.Settings.Depression with { WetShare = 0.1 };
        var pure = 0.9 * 0.2 * Math.Exp(-10.4 / 1.2) / 1.2;
        var impure = 0.9 * 0.8 * 10.4 * Math.Exp(-10.4 / 2.5) / (2.5 * 2.5);
        var wet = 0.1 * Math.Exp(-0.5) / (2.4 * Math.Sqrt(2 * Math.PI));

        var purity = wetToo.PurityOf(10.4, Preparation.Crude);

        Assert.Equal(impure / (pure + impure + wet), purity.ImpureShare, 1e-12);
        Assert.Equal(wet / (pure + impure + wet), purity.LowShare, 1e-12);
        Assert.Equal(20, purity.LowCelsius);
        Assert.Equal((0.1, 20), (wetToo.PurityOf(null, Preparation.Crude).LowShare, wetToo.PurityOf(null, Preparation.Crude).LowCelsius));
    }

    [Theory]
    [InlineData(Preparation.Recrystallised, 0.3)]
    [InlineData(Preparation.Unstated, 0.5)]
    [InlineData(Preparation.Crude, 0.8)]
    public void PreparationAloneSaysHowOftenCrystalsAreImpure(Preparation preparation, double share) =>
        Assert.Equal(share, TestTable.Settings.Depression.PurityOf(null, preparation).ImpureShare);

    [Fact]
    public void SingleFigureKeepsThePriorShare()
    {
        var purity = TestTable.Settings.Depression.PurityOf(null, Preparation.Recrystallised);

        Assert.Equal(0.3, purity.ImpureShare);
        Assert.Equal(4.5, purity.DepressionCelsius, 1e-12);
    }
}
