using CsCheck;
using Derivid.Core.Ranking.Distributions;
using MathNet.Numerics.Integration;

namespace Derivid.Core.Tests.Ranking;

public sealed class DepressedNormalTests
{
    [Fact]
    public void AgreesWithTheConvolutionIntegratedAtHighPrecision()
    {
        // Source: direct integration by mpmath 1.3.0 at 25 digits, tests/reference-values/special-functions/generate.py.
        var rows = ReferenceValues.Numbers(
            "special-functions/depressed-normal.csv", "sigma,tau,mode,deviation,density");

        Assert.Equal(40, rows.Count);
        Assert.All(rows, row =>
        {
            var density = new DepressedNormal(row[0], row[1]);
            Assert.Equal(row[2], density.RawMode, 1e-11);
            var expected = row[4];
            if (expected > 1e-300)
            {
                Assert.InRange(density.At(row[3]) / expected, 1 - 1e-10, 1 + 1e-10);
            }
            else
            {
                // Below the smallest normal number a double keeps no relative accuracy.
                Assert.InRange(density.At(row[3]), 0, 1e-300);
            }
        });
    }

    [Theory]
    [InlineData(1.8, 0.5)]
    [InlineData(1, 8)]
    [InlineData(4, 0.2)]
    public void IntegratesToOneByQuadrature(double sigma, double tau)
    {
        var density = new DepressedNormal(sigma, tau);
        var low = -(12 * sigma) - (40 * tau);

        // Panels of at most one sigma between the kinks, 20 Gauss-Legendre points each (MathNet.Numerics).
        var total = 0.0;
        double[] kinks = [low, density.RawMode, 0, Math.Min(DepressedNormal.StepCelsius, -density.RawMode), 12 * sigma];
        for (var i = 1; i < kinks.Length; i++)
        {
            var panels = (int)Math.Ceiling((kinks[i] - kinks[i - 1]) / sigma);
            var width = (kinks[i] - kinks[i - 1]) / panels;
            for (var panel = 0; panel < panels; panel++)
            {
                var from = kinks[i - 1] + (panel * width);
                total += GaussLegendreRule.Integrate(density.At, from, from + width, 20);
            }
        }

        Assert.Equal(1, total, 1e-9);
    }

    [Fact]
    public void TendsToTheNormalAsTheDepressionVanishes()
    {
        var density = new DepressedNormal(2, 1e-4);

        Assert.All([-5.0, -1.0, 0.0, 1.5, 6.0], deviation =>
            Assert.Equal(NormalDensity.At(deviation, 2), density.At(deviation), 1e-4));
    }

    [Fact]
    public void NeverRisesAwayFromZero() =>
        Gen.Select(Gen.Double[0.3, 8], Gen.Double[0.05, 20], Gen.Double[0, 60], Gen.Double[0, 60], Gen.Bool)
            .Sample((sigma, tau, a, b, isLow) =>
            {
                var density = new DepressedNormal(sigma, tau);
                var (near, far) = (Math.Min(a, b), Math.Max(a, b));
                var sign = isLow ? -1 : 1;
                Assert.True(density.At(sign * near) >= density.At(sign * far) * (1 - 1e-9));
            });

    [Theory]
    [InlineData(0, 1)]
    [InlineData(-1, 1)]
    [InlineData(1, 0)]
    [InlineData(double.NaN, 1)]
    [InlineData(1, double.NaN)]
    public void ScalesNotAboveZeroAreRefused(double sigma, double tau) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new DepressedNormal(sigma, tau));
}
