using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Ranking;

/// <summary>A careful reading counts for more.</summary>
public sealed class CareSettingsTests
{
    private static readonly CareSettings Care = new()
    {
        UncheckedCelsius = 1,
        CalibratedCelsius = 0.3,
        AwayCelsius = 0.01,
        YearlyCelsius = 0.3,
        PerSpanCelsius = 0.2,
        UnstatedSpanCelsius = 1.5,
    };

    [Theory]
    [InlineData(false, 0.5, 1.1661903789690602)]
    [InlineData(true, 0.5, 0.67082039324993692)]
    [InlineData(false, 8.0, 2.3259406699226015)]
    [InlineData(false, null, 1.2806248474865698)]
    public void ErrorGrowsWithTheWidthAndFallsWithACalibration(bool isCalibrated, double? span, double expected)
    {
        // By hand: reader 0.5 + 0.2·width, or 0.2·1.5 where none is given; thermometer 1 or 0.3 °C; added in squares.
        Assert.Equal(expected, Care.ReadingCelsius(0.5, isCalibrated ? new ThermometerCheck(0, 0) : null, span), 1e-12);
    }

    // By hand: 0.3, 0.4 and 0.3 added in squares; a standard 40 °C away alone makes 0.5, a year alone 0.3·√2.
    [Theory]
    [InlineData(0, 0, 0.3)]
    [InlineData(40, 0, 0.5)]
    [InlineData(0, 1461, 1)]
    [InlineData(40, 365, 0.58300)]
    [InlineData(200, 0, 1)]
    public void ThermometersErrorGrowsAwayFromItsStandardsAndWithAgeUpToThatOfOneNobodyChecked(double distance, int days, double expected)
    {
        Assert.Equal(expected, Care.ThermometerCelsius(new ThermometerCheck(distance, days)), 1e-4);
    }

    [Fact]
    public void StandardsThatReadRightStillSharpenTheAnswer()
    {
        var snapshot = TableSnapshot.Build(TestTable.Five().Table, TestTable.Settings with { Care = Care });
        var engine = new IdentificationEngine(snapshot);
        var melted = new Observation { Derivatives = [Observed.Dnph(125, 126)], Prior = new() { IsUniform = true } };
        var checkedThermometer = melted with
        {
            Thermometer = new ThermometerCorrection([new CalibrationPoint(80, 80), new CalibrationPoint(160, 160)]),
        };

        // Propanone at 126 °C against pinacolone at 125 °C.
        double Odds(Observation observation)
        {
            var view = engine.Weigh(observation);
            return view.LogRatioOf(snapshot, "propanone") - view.LogRatioOf(snapshot, "pinacolone");
        }

        Assert.True(Odds(checkedThermometer) > Odds(melted));
        var old = melted with { Thermometer = new ThermometerCorrection(checkedThermometer.Thermometer.Points, daysSinceChecked: 730) };
        Assert.InRange(Odds(old), Odds(melted), Odds(checkedThermometer));
    }
}
