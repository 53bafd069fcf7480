using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Forecasts;

namespace Derivid.Core.Tests.Ranking;

public sealed class TemperatureForecastTests
{
    [Fact]
    public void ExpectedInformationAgreesWithFineQuadrature()
    {
        var snapshot = TestTable.Five();
        double[] weights = [0.1, 0.15, 0.2, 0.25, 0.3];
        var kind = snapshot.Kind(TestTable.Semicarbazone);

        // The definition on a grid of 0.05 °C: Σ p(c)·∫ p(x|c)·ln(p(x|c)/p(x)) dx, crystals coming with p(k|c), and the
        // same sum over the two outcomes without crystals.
        var crystals = kind.Precipitates.Of(Precipitate.Crystals).ToArray();
        var purity = snapshot.Settings.Depression.PurityOf(
            TemperatureForecast.ExpectedSpanCelsius, Preparation.Recrystallised);
        var (density, relative) = (new double[5], new double[5]);
        var information = 0.0;
        for (var x = 0.025; x < 360; x += 0.05)
        {
            kind.Listed.Weigh(x, new ReadingError(1.2, purity), density, relative);
            density = [.. density.Zip(crystals, (d, came) => d * came)];
            var mixture = density.Zip(weights, (d, w) => d * w).Sum();
            information += density.Zip(weights, (d, w) => w * d * Math.Log(d / mixture)).Sum() * 0.05;
        }

        foreach (var outcome in new[] { Precipitate.Oil, Precipitate.None })
        {
            var rates = kind.Precipitates.Of(outcome).ToArray();
            var mixture = rates.Zip(weights, (p, w) => p * w).Sum();
            information += rates.Zip(weights, (p, w) => w * p * Math.Log(p / mixture)).Sum();
        }

        // Bins of 2 °C lose a little information and gain none.
        Assert.InRange(kind.Forecast.ExpectedInformation(new(weights, 0)), information - 0.02, information + 1e-3);
    }

    [Fact]
    public void UnlistedCompoundIsForetoldAsARelativeOfAnyOrAsNoCarbonylCompound()
    {
        var snapshot = TestTable.Snapshot(
            ("benzaldehyde", "O=Cc1ccccc1", [237], [222]),
            ("hindered", "CC(C)C(=O)C(C)C", [95], [160]),
            ("propanone", "CC(C)=O", [126], [188]));
        var kind = snapshot.Kind(TestTable.Semicarbazone);
        var purity = snapshot.Settings.Depression.PurityOf(TemperatureForecast.ExpectedSpanCelsius, Preparation.Recrystallised);

        // Propanone, last in key order, or something unlisted, of which a fifth is no carbonyl compound: on a grid of 0.05 °C.
        double OfUnlisted(Precipitate came) =>
            (0.2 * kind.Precipitates.OfNotCarbonyl(came)) + (0.8 * kind.Precipitates.Of(came).ToArray().Average());
        double Told(double listed, double unlisted) =>
            (0.5 * listed * Math.Log(2 * listed / (listed + unlisted))) + (0.5 * unlisted * Math.Log(2 * unlisted / (listed + unlisted)));
        var (density, relative) = (new double[3], new double[3]);
        var cells = new List<(double Listed, double Unlisted)>();
        for (var x = 0.025; x < 360; x += 0.05)
        {
            kind.Listed.Weigh(x, new ReadingError(1.2, purity), density, relative);
            cells.Add((density[2], relative.Average()));
        }

        var (listedTotal, unlistedTotal) = (cells.Sum(cell => cell.Listed), cells.Sum(cell => cell.Unlisted));
        var information = cells.Sum(cell => Told(
                kind.Precipitates.Of(Precipitate.Crystals)[2] * cell.Listed / listedTotal,
                OfUnlisted(Precipitate.Crystals) * cell.Unlisted / unlistedTotal))
            + new[] { Precipitate.Oil, Precipitate.None }.Sum(came => Told(kind.Precipitates.Of(came)[2], OfUnlisted(came)));

        Assert.InRange(kind.Forecast.ExpectedInformation(new([0, 0, 0.5], 0.5)), information - 0.005, information + 1e-3);
    }

    [Fact]
    public void ForecastIsOfAThermometerNobodyChecked()
    {
        double Information(double ofUnchecked, double ofCalibrated) => TableSnapshot.Build(
            TestTable.Five().Table,
            TestTable.Settings with
            {
                Care = new CareSettings
                {
                    UncheckedCelsius = ofUnchecked,
                    CalibratedCelsius = ofCalibrated,
                    AwayCelsius = 0,
                    YearlyCelsius = 0,
                    PerSpanCelsius = 0,
                    UnstatedSpanCelsius = 1.5,
                },
            }).Kind(TestTable.Semicarbazone).Forecast.ExpectedInformation(new([0, 0.5, 0, 0, 0.5], 0));

        // Benzaldehyde at 222 °C and propanone at 188 °C.
        Assert.Equal(Information(1, 0), Information(1, 20));
        Assert.True(Information(1, 0) > Information(20, 0));
    }

    [Fact]
    public void CertaintyLeavesNothingToLearn()
    {
        var forecast = TestTable.Five().Kind(TestTable.Semicarbazone).Forecast;

        Assert.Equal(0, forecast.ExpectedInformation(new([0, 0, 1, 0, 0], 0)), 1e-12);
    }

    [Fact]
    public void TwoCompoundsFarApartAreWorthOneBinaryQuestion()
    {
        var forecast = TestTable.Five().Kind(TestTable.Dnph).Forecast;

        // Parents in key order: acetophenone 240, benzaldehyde 237, pentan-3-one 156, pinacolone 125, propanone 126.
        // Crystals come 19 times in 20.
        Assert.InRange(forecast.ExpectedInformation(new([0.5, 0, 0.5, 0, 0], 0)), 0.85 * Math.Log(2), 0.95 * Math.Log(2));
        Assert.InRange(forecast.ExpectedInformation(new([0, 0, 0, 0.5, 0.5], 0)), 0, 0.1 * Math.Log(2));
    }
}
