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
        Assert.Equal(expected, Care.ReadingCelsius(0.5, isCalibrated, span), 1e-12);
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
    }
}
