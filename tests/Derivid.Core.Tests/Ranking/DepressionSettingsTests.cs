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
    public void SingleFigureKeepsThePriorShare()
    {
        var purity = TestTable.Settings.Depression.PurityOf(null, Preparation.Recrystallised);

        Assert.Equal(0.3, purity.ImpureShare);
        Assert.Equal(4.5, purity.DepressionCelsius, 1e-12);
    }
}
