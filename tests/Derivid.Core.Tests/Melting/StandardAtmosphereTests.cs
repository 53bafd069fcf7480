using Derivid.Core.Melting;

namespace Derivid.Core.Tests.Melting;

public sealed class StandardAtmosphereTests
{
    // Source: ISO 2533:1975, table 5, by geometric altitude, as transcribed in the test data of metanorma/atmospheric (commit 24b8f98).
    [Theory]
    [InlineData(-500, 107.478)]
    [InlineData(0, 101.325)]
    [InlineData(500, 95.4613)]
    [InlineData(1000, 89.8763)]
    [InlineData(1500, 84.5597)]
    [InlineData(2000, 79.5014)]
    [InlineData(2500, 74.6917)]
    [InlineData(3000, 70.1211)]
    [InlineData(4000, 61.6604)]
    [InlineData(5000, 54.0483)]
    public void TableOfTheStandardIsReproduced(double metres, double kilopascals) =>
        Assert.Equal(kilopascals, StandardAtmosphere.KilopascalsAt(metres), tolerance: 0.0006);

    // Source: Engineering ToolBox, altitude 3200 m by p = 101.325 (1 - 2.25577e-5 h)^5.25588, as worked in a sheet at scribd.com/document/396488300:
    // a formula of the geopotential altitude, so 0.03 kPa apart.
    [Fact]
    public void AnotherFormulaIsNear() => Assert.Equal(68.344, StandardAtmosphere.KilopascalsAt(3200), tolerance: 0.03);
}
