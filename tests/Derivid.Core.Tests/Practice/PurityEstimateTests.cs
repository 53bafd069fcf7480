using Derivid.Core.Melting;
using Derivid.Core.Practice;

namespace Derivid.Core.Tests.Practice;

public sealed class PurityEstimateTests
{
    /// <summary>
    /// Source: OpenStax, Chemistry 2e, section 11.4: 4.00 g in 55.0 g of benzene freeze at 2.32 °C, the benzene at 5.5 °C: 0.63 mol/kg, as
    /// printed. Independent of it: the enthalpy of fusion, 9.87 kJ/mol by the CRC Handbook, and 78.11 g/mol.
    /// </summary>
    [Fact]
    public void BenzeneReadWithoutErrorComesToThePrintedMolality()
    {
        var estimate = Of(5.5, new MeltingRange(1, 2.32), 0, 9_870);

        Assert.Equal(3.18, estimate.DepressionCelsius.Low, 1e-9);
        Assert.Equal(0.63, estimate.ImpurityByLinearLaw.Low / (1 - estimate.ImpurityByLinearLaw.Low) / 0.07811, tolerance: 0.01);
        Assert.Equal(estimate.Impurity.Low, estimate.Impurity.High, 1e-12);
        Assert.Contains("of every hundred molecules", estimate.Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain("bound", estimate.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void TheErrorOfTheReadingWidensItOnEitherSide()
    {
        var sharp = Of(80.2, new MeltingRange(75, 76.2), 0, 19_000);
        var blunt = Of(80.2, new MeltingRange(75, 76.2), 1, 19_000);

        Assert.Equal(2, blunt.DepressionCelsius.Low, 1e-9);
        Assert.Equal(6, blunt.DepressionCelsius.High, 1e-9);
        Assert.True(blunt.Impurity.Low < sharp.Impurity.Low && blunt.Impurity.High > sharp.Impurity.High);
    }

    [Fact]
    public void NothingTooLowIsNoImpurity()
    {
        Assert.Equal(new AmountSpan(0, 0), Of(80.2, new MeltingRange(80, 80.2), 0, 19_000).Impurity);

        var within = Of(80.2, new MeltingRange(79.5, 80), 1, 19_000);
        Assert.Equal(0, within.Impurity.Low);
        Assert.InRange(within.Impurity.High, 0.01, 0.05);
        Assert.Contains("within what reading and listing leave open", within.Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(84, 85, "above what is listed")]
    [InlineData(55, 76, "no melting range")]
    [InlineData(30, 31, "not this compound")]
    [InlineData(81, 82.1, null)]
    [InlineData(56, 76, null)]
    [InlineData(41, 43, null)]
    public void WhatIsTooHighTooWideOrTooLowSaysNothingOfThePurity(double onset, double clear, string? said)
    {
        var why = PurityEstimate.WhyNone(AmountSpan.Known(80.2), new MeltingRange(onset, clear), 1);

        Assert.Equal(said is null, why is null);
        Assert.Contains(said ?? "", why ?? "", StringComparison.Ordinal);
    }

    [Fact]
    public void ListingsThatDisagreeWidenIt()
    {
        var estimate = PurityEstimate.Of(
            new AmountSpan(126, 128), new MeltingRange(121, 124), new MeltingRange(121, 124), 0, Known(30_000));

        Assert.Equal(2, estimate.DepressionCelsius.Low, 1e-9);
        Assert.Equal(4, estimate.DepressionCelsius.High, 1e-9);
        Assert.Equal(1 - IdealLiquidus.MoleFraction(30_000, 126, 124), estimate.Impurity.Low, 1e-12);
        Assert.Equal(1 - IdealLiquidus.MoleFraction(30_000, 128, 124), estimate.Impurity.High, 1e-12);
    }

    [Fact]
    public void BeyondAHalfTheLawTellsNoMore()
    {
        var estimate = Of(237, new MeltingRange(120, 150), 1, 45_000);

        Assert.True(estimate.IsBeyondLaw);
        Assert.Equal(PurityEstimate.MostImpurity, estimate.Impurity.High);
        Assert.Contains("the law tells no more", estimate.Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(450, -200, 450, 400)]
    [InlineData(-150, -200, -190, 100)]
    [InlineData(450, -200, -200, 0)]
    public void NothingFoolishIsMoreThanAHalf(double pure, double onset, double clear, double error)
    {
        var estimate = Of(pure, new MeltingRange(onset, clear), error, 45_000);

        Assert.InRange(estimate.Impurity.Low, 0, estimate.Impurity.High);
        Assert.Equal(PurityEstimate.MostImpurity, estimate.Impurity.High);
        Assert.True(estimate.IsBeyondLaw);
    }

    [Fact]
    public void TheLowerItMeltsTheMoreImpurityItMeans()
    {
        var last = -1.0;
        for (var clear = 126.0; clear > 106; clear -= 0.5)
        {
            var impurity = Of(126, new MeltingRange(clear - 1, clear), 0, 30_000).Impurity.Low;
            Assert.True(impurity > last);
            last = impurity;
        }
    }

    // Printed substances, none of the derivatives; what is read of them agrees with Walden's rule, 13.5 cal/(mol K), in the middle.
    [Fact]
    public void TheBoundHoldsNinetyFiveOfAHundredPrintedEntropies()
    {
        var span = EnthalpyOfFusion.UsualEntropy;
        Assert.Equal(76, EnthalpyOfFusion.Entropies.Count);
        Assert.Equal(31.1, span.Low, tolerance: 0.05);
        Assert.Equal(89.1, span.High, tolerance: 0.05);
        Assert.InRange(EnthalpyOfFusion.Entropies.Count(entropy => entropy >= span.Low && entropy <= span.High) / 76.0, 0.94, 0.96);
        Assert.Equal(13.5 * 4.184, EnthalpyOfFusion.Entropies[38], tolerance: 4);
    }

    [Fact]
    public void EveryPrintedEnthalpyIsFoundByItsNumberAndAPlainFigure()
    {
        Assert.All(EnthalpyOfFusion.All, row =>
        {
            Assert.Same(row, EnthalpyOfFusion.Find(row.CasNumber));
            Assert.InRange(row.Entropy, 5, 150);
        });
        Assert.Equal(18_020, EnthalpyOfFusion.Find("65-85-0")!.JoulesPerMole);
        Assert.Null(EnthalpyOfFusion.Find("50-00-0"));
        Assert.Null(EnthalpyOfFusion.Find(null));
    }

    private static PurityEstimate Of(double pure, MeltingRange read, double error, double joules) =>
        PurityEstimate.Of(AmountSpan.Known(pure), read, read, error, Known(joules));

    private static FusionEnthalpy Known(double joules) => new(AmountSpan.Known(joules), EnthalpyBasis.Sent, []);
}
