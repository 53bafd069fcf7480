using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Tests.Ranking;

public sealed class ScaledErrorFunctionTests
{
    [Fact]
    public void AgreesWithThirtyDigitValues()
    {
        // Source: mpmath 1.3.0 at 40 digits, tests/reference-values/special-functions/generate.py.
        var rows = ReferenceValues.Numbers("special-functions/erfcx.csv", "x,erfcx");

        Assert.Equal(18, rows.Count);
        Assert.All(rows, row =>
        {
            // Below zero the value is 2·exp(x²) less a little, and exp amplifies the rounding of x² by x².
            var tolerance = row[0] < -3 ? 1e-13 : 1e-14;
            Assert.InRange(ScaledErrorFunction.At(row[0]) / row[1], 1 - tolerance, 1 + tolerance);
        });
    }

    [Fact]
    public void EndsAreRight()
    {
        Assert.Equal(0, ScaledErrorFunction.At(double.PositiveInfinity));
        Assert.Equal(double.PositiveInfinity, ScaledErrorFunction.At(-30));
        Assert.Equal(double.NaN, ScaledErrorFunction.At(double.NaN));
    }
}
