using Derivid.Core.Estimates;
using MathNet.Numerics.Distributions;

namespace Derivid.Core.Tests.Estimates;

public sealed class TemperatureEstimateTests
{
    [Theory]
    [InlineData(-40)]
    [InlineData(95)]
    [InlineData(100)]
    [InlineData(131.5)]
    [InlineData(400)]
    public void UnboundedIsStudentsT(double celsius)
    {
        // Source: MathNet.Numerics 5.0.0, StudentT.
        var student = new StudentT(100, 8, 4);
        var estimate = new TemperatureEstimate(100, 8);

        Assert.Equal(student.Density(celsius), estimate.DensityAt(celsius), 1e-12);
        Assert.Equal(student.CumulativeDistribution(celsius), estimate.ProbabilityBelow(celsius), 1e-9);
        Assert.Equal(student.StdDev, estimate.SpreadCelsius, 1e-12);
    }

    [Fact]
    public void NothingLiesBelowTheBoundAndTheRestMakesUpForIt()
    {
        var estimate = new TemperatureEstimate(100, 8, AtLeastCelsius: 104);

        Assert.Equal(0, estimate.DensityAt(103.9));
        Assert.Equal(0, estimate.ProbabilityBelow(103.9));
        Assert.Equal(1, Enumerable.Range(0, 20_000).Sum(step => 0.1 * estimate.DensityAt(104.05 + (0.1 * step))), 1e-3);
        Assert.Equal(1, estimate.ProbabilityBelow(5000), 1e-6);
    }

    [Fact]
    public void ReadingErrorAddsInQuadrature()
    {
        var read = new TemperatureEstimate(100, 8, AtLeastCelsius: 90).ReadWithin(5);

        Assert.Equal(Math.Sqrt((2 * 64) + 25), read.SpreadCelsius, 1e-12);
        Assert.Equal(75, read.AtLeastCelsius);
    }
}
