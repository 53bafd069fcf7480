using Derivid.Core.Melting;
using Derivid.Core.Observations;

namespace Derivid.Core.Tests.Observations;

public sealed class BoilingPointReadingTests
{
    [Theory]
    [InlineData(0.1)]
    [InlineData(1.333)]
    [InlineData(110)]
    public void PressureWithinTheBoundsIsKept(double kilopascals) =>
        Assert.Equal(kilopascals, new BoilingPointReading(new MeltingRange(77, 78), kilopascals).PressureKilopascals);

    [Theory]
    [InlineData(0.0999)]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(110.1)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void PressureOutsideThemIsRefusedWithTheReason(double kilopascals)
    {
        var refusal = Assert.Throws<ArgumentOutOfRangeException>(
            () => new BoilingPointReading(new MeltingRange(77, 78), kilopascals));

        Assert.Equal("pressureKilopascals", refusal.ParamName);
        Assert.Contains("from 0.1 to 110 kPa", refusal.Message, StringComparison.Ordinal);
        Assert.Contains("correction", refusal.Message, StringComparison.Ordinal);
    }
}
