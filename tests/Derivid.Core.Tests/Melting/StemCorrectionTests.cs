using Derivid.Core.Melting;

namespace Derivid.Core.Tests.Melting;

public sealed class StemCorrectionTests
{
    [Fact]
    public void HandWorkedExampleIsReproduced()
    {
        // Worked by hand from k·n·(t − s): 0.00016 × 150 × (200 − 40) = 3.84.
        var stem = new StemCorrection(exposedCelsius: 150, stemCelsius: 40);

        Assert.Equal(203.84, stem.Apply(200), tolerance: 1e-12);
    }

    // Babcock & Wilcox, Steam: Its Generation and Use, 35th ed. 1919 (Project Gutenberg 22657), p. 81: reading 400 °F, immersed to 200 °F,
    // thread at 85 °F: 5.3 °F to add by 0.000085 a °F, which is 0.000153 a °C; by 0.00016 it is 5.6. Then 0.5 °F less by its certificate: 404.8 °F.
    [Fact]
    public void PublishedExampleInFahrenheitIsReproduced()
    {
        var stem = new StemCorrection(200 / 1.8, (85 - 32) / 1.8);
        var read = (400 - 32) / 1.8;

        Assert.Equal(5.3 * 0.00016 / (0.000085 * 1.8), (stem.Apply(read) - read) * 1.8, tolerance: 0.07);
        Assert.Equal(
            404.8 + (5.3 * ((0.00016 / (0.000085 * 1.8)) - 1)),
            (new ThermometerCorrection([new CalibrationPoint(read, stem.Apply(read) - (0.5 / 1.8))], stem).Apply(read) * 1.8) + 32,
            tolerance: 0.1);
    }

    // hobbybrennen.ch, calculator of the stem correction: reading 90 °C, immersed to the 0 °C mark, thread at 40 °C. Mercury there has 1/6000.
    // metrologyrules.com, on immersion: bath of 100.0 °C, 110 °C of thread at 60 °C in the mean shows 99.3 °C.
    [Theory]
    [InlineData(ThreadLiquid.Petroleum, 90, 90, 40, 94.1, 0.05)]
    [InlineData(ThreadLiquid.Mercury, 90, 90, 40, 90.75, 0.05)]
    [InlineData(ThreadLiquid.Mercury, 99.3, 110, 60, 100.0, 0.05)]
    public void PublishedExamplesAreReproduced(ThreadLiquid liquid, double read, double exposed, double stem, double expected, double tolerance)
    {
        Assert.Equal(expected, new StemCorrection(exposed, stem, liquid).Apply(read), tolerance);
    }

    [Fact]
    public void LiquidThatIsNoneIsRefused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new StemCorrection(1, 1, (ThreadLiquid)9));
    }

    [Fact]
    public void NothingExposedChangesNothing()
    {
        Assert.Equal(200, new StemCorrection(0, 20).Apply(200));
    }

    [Fact]
    public void ThreadAsWarmAsTheBulbChangesNothing()
    {
        Assert.Equal(60, new StemCorrection(150, 60).Apply(60));
    }

    [Fact]
    public void ThreadWarmerThanTheBulbLowersTheReading()
    {
        Assert.True(new StemCorrection(100, 40).Apply(20) < 20);
    }

    [Theory]
    [InlineData(-0.001)]
    [InlineData(400.001)]
    [InlineData(double.NaN)]
    public void ExposedLengthOutOfBoundsIsRefused(double exposed)
    {
        var refusal = Assert.Throws<ArgumentOutOfRangeException>(() => new StemCorrection(exposed, 40));

        Assert.Equal("exposedCelsius", refusal.ParamName);
    }

    [Theory]
    [InlineData(-20.001)]
    [InlineData(200.001)]
    [InlineData(double.NaN)]
    public void StemTemperatureOutOfBoundsIsRefused(double stem)
    {
        var refusal = Assert.Throws<ArgumentOutOfRangeException>(() => new StemCorrection(100, stem));

        Assert.Equal("stemCelsius", refusal.ParamName);
    }

    [Theory]
    [InlineData(0, -20)]
    [InlineData(400, 200)]
    public void BothBoundsAreAllowed(double exposed, double stem)
    {
        Assert.Equal((exposed, stem), (new StemCorrection(exposed, stem).ExposedCelsius, new StemCorrection(exposed, stem).StemCelsius));
    }
}
