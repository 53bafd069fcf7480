using Derivid.Core.Melting;

namespace Derivid.Core.Tests.Melting;

public sealed class MeltingRangeTests
{
    [Fact]
    public void EndsAndSpanAreKept()
    {
        var range = new MeltingRange(125.5, 127, decomposes: true);

        Assert.Equal(125.5, range.OnsetCelsius);
        Assert.Equal(127, range.ClearPointCelsius);
        Assert.Equal(1.5, range.SpanCelsius);
        Assert.True(range.Decomposes);
    }

    [Fact]
    public void DefaultIsZeroToZero()
    {
        Assert.Equal(new MeltingRange(0, 0), default);
    }

    [Fact]
    public void EqualityIsByValue()
    {
        Assert.Equal(new MeltingRange(125, 127), new MeltingRange(125, 127));
        Assert.NotEqual(new MeltingRange(125, 127), new MeltingRange(125, 127, decomposes: true));
    }

    [Fact]
    public void BothBoundsAreAllowed()
    {
        var widest = new MeltingRange(MeltingRange.LowestCelsius, MeltingRange.HighestCelsius);

        Assert.Equal(650, widest.SpanCelsius);
    }

    [Theory]
    [InlineData(double.NaN, 100)]
    [InlineData(-200.001, 100)]
    [InlineData(450.001, 450.002)]
    [InlineData(double.NegativeInfinity, 100)]
    public void OnsetOutOfBoundsIsRefused(double onset, double clearPoint)
    {
        var refusal = Assert.Throws<ArgumentOutOfRangeException>(() => new MeltingRange(onset, clearPoint));

        Assert.Equal("onsetCelsius", refusal.ParamName);
        Assert.Contains("-200 to 450 °C", refusal.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(100, double.NaN)]
    [InlineData(100, 450.001)]
    [InlineData(100, double.PositiveInfinity)]
    [InlineData(100, -200.001)]
    public void ClearPointOutOfBoundsIsRefused(double onset, double clearPoint)
    {
        var refusal = Assert.Throws<ArgumentOutOfRangeException>(() => new MeltingRange(onset, clearPoint));

        Assert.Equal("clearPointCelsius", refusal.ParamName);
    }

    [Fact]
    public void ClearPointBelowOnsetIsRefused()
    {
        var refusal = Assert.Throws<ArgumentOutOfRangeException>(() => new MeltingRange(127, 126.999));

        Assert.Equal("clearPointCelsius", refusal.ParamName);
        Assert.Contains("must not lie below the onset", refusal.Message, StringComparison.Ordinal);
    }
}
