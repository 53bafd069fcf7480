using CsCheck;
using Derivid.Core.Melting;

namespace Derivid.Core.Tests.Melting;

public sealed class ThermometerCorrectionTests
{
    // Reads 1 °C low at 80 and 3 °C low at 120.
    private static readonly CalibrationPoint[] TwoStandards = [new(79, 80), new(117, 120)];

    [Fact]
    public void NoneChangesNothing()
    {
        var range = new MeltingRange(125, 127, decomposes: true);

        Assert.True(ThermometerCorrection.None.IsNone);
        Assert.Equal(range, ThermometerCorrection.None.Apply(range));
        Assert.Equal(-12.5, ThermometerCorrection.None.Apply(-12.5));
    }

    [Theory]
    [InlineData(79, 80)]
    [InlineData(117, 120)]
    public void StandardsReadAsAccepted(double read, double accepted)
    {
        Assert.Equal(accepted, new ThermometerCorrection(TwoStandards).Apply(read), tolerance: 1e-12);
    }

    [Theory]
    [InlineData(98, 100)]      // half way from 79 to 117: +2
    [InlineData(88.5, 90)]     // a quarter of the way: +1.5
    public void BetweenStandardsTheCorrectionIsLinear(double read, double corrected)
    {
        Assert.Equal(corrected, new ThermometerCorrection(TwoStandards).Apply(read), tolerance: 1e-12);
    }

    [Theory]
    [InlineData(20, 21)]
    [InlineData(200, 203)]
    public void OutsideTheStandardsTheCorrectionIsConstant(double read, double corrected)
    {
        Assert.Equal(corrected, new ThermometerCorrection(TwoStandards).Apply(read), tolerance: 1e-12);
    }

    [Fact]
    public void OneStandardShiftsEverything()
    {
        var correction = new ThermometerCorrection([new(120.9, 122.4)]);

        Assert.Equal(1.5, correction.Apply(50) - 50, tolerance: 1e-12);
        Assert.Equal(1.5, correction.Apply(250) - 250, tolerance: 1e-12);
    }

    [Fact]
    public void OrderOfStandardsDoesNotMatter()
    {
        var reversed = new ThermometerCorrection(TwoStandards.Reverse());

        Assert.Equal(new ThermometerCorrection(TwoStandards).Apply(98), reversed.Apply(98));
        Assert.Equal([80, 120], reversed.Points.Select(point => point.AcceptedCelsius));
    }

    [Theory]
    [InlineData(50, 30)]
    [InlineData(80, 0)]
    [InlineData(95, 15)]
    [InlineData(150, 30)]
    public void StandardsVouchByTheDistanceOfTheNearestAndTheirAge(double celsius, double distance)
    {
        Assert.Equal(new ThermometerCheck(distance, 90), new ThermometerCorrection(TwoStandards, daysSinceChecked: 90).CheckAt(celsius));
        Assert.Null(ThermometerCorrection.None.CheckAt(celsius));
    }

    // Worked examples printed elsewhere: fixed points at 0 and 100 °C as marked or read, a reading, and what it is.
    [Theory]
    [InlineData(0.7, 99.5, 30, 29.7, 0.05)]  // jiskha.com, question 1332195
    [InlineData(0.7, 99.5, 58.3, 58.3, 0.05)] // the same: the reading that needs no correction
    [InlineData(5, 95, 59, 60, 0.5)]         // infinitylearn.com, faulty thermometer whose fixed points are marked 5 and 95
    [InlineData(2, 98, 30, 29.16, 0.01)]     // bissoy.com, question 182798
    [InlineData(-5, 105, 35.7, 37, 0.05)]    // solveeit.ai, ice point at -5
    [InlineData(2, 112, 46, 40, 0.5)]        // chorcha.net, ice 2 and steam 112
    public void PublishedExamplesOfInterpolationAreReproduced(double ice, double steam, double read, double expected, double tolerance)
    {
        var correction = new ThermometerCorrection([new(ice, 0), new(steam, 100)]);

        Assert.Equal(expected, correction.Apply(read), tolerance);
    }

    [Fact]
    public void StemCorrectionComesFirstOnStandardsToo()
    {
        var stem = new StemCorrection(150, 40);
        var correction = new ThermometerCorrection([new(200, 204.84)], stem);

        // The stem accounts for 3.84 of the 4.84 at the standard; 1.00 is left to the calibration.
        Assert.Equal(203.84, correction.Points[0].ReadCelsius, tolerance: 1e-12);
        Assert.Equal(204.84, correction.Apply(200), tolerance: 1e-12);
        Assert.Equal(100 + 0.00016 * 150 * 60 + 1, correction.Apply(100), tolerance: 1e-12);
    }

    [Fact]
    public void StemAloneCorrectsBothEnds()
    {
        var correction = new ThermometerCorrection([], new StemCorrection(150, 40));

        var range = correction.Apply(new MeltingRange(190, 200, decomposes: true));

        Assert.False(correction.IsNone);
        Assert.Equal(193.6, range.OnsetCelsius, tolerance: 1e-12);
        Assert.Equal(203.84, range.ClearPointCelsius, tolerance: 1e-12);
        Assert.True(range.Decomposes);
    }

    [Fact]
    public void CorrectedRangeStaysInBounds()
    {
        var correction = new ThermometerCorrection([new(100, 120)]);

        Assert.Equal(new MeltingRange(450, 450), correction.Apply(new MeltingRange(445, 450)));
    }

    [Theory]
    [InlineData(100, 120.01)]
    [InlineData(120.01, 100)]
    [InlineData(double.NaN, 100)]
    [InlineData(100, double.NaN)]
    public void StandardFarOffIsRefused(double read, double accepted)
    {
        var refusal = Assert.Throws<ImplausibleThermometerException>(() => new ThermometerCorrection([new(read, accepted)]));

        Assert.Contains("off by more than 20 °C", refusal.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(100, 100)]
    [InlineData(101, 100)]
    public void StandardsReadingAlikeOrInTheWrongOrderAreRefused(double cooler, double warmer)
    {
        var refusal = Assert.Throws<ImplausibleThermometerException>(
            () => new ThermometerCorrection([new(cooler, 95), new(warmer, 105)]));

        Assert.Contains("read higher the higher they melt", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void CorrectionKeepsReadingsInOrderBetweenStandards()
    {
        // Property: a thermometer that rises with temperature still does once corrected.
        Gen.Select(Gen.Double[79, 117], Gen.Double[79, 117]).Sample((first, second) =>
        {
            var correction = new ThermometerCorrection(TwoStandards);
            var (low, high) = (Math.Min(first, second), Math.Max(first, second));
            return correction.Apply(low) <= correction.Apply(high);
        });
    }
}
