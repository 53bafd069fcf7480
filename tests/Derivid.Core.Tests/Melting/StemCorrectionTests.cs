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
