using Derivid.Core.Observations;
using Derivid.Store.Seeding;
using Derivid.Validation.Ideal;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Tests;

public sealed class PhysicsTests
{
    [Theory]
    // Hand-worked: Tm 400 K, ΔH 30 kJ/mol (ΔS 75 J/(mol·K)). Dilute law R·Tm²·x/ΔH = 8.3145·160000·x/30000 = 44.3·x K;
    // the exact equation T = Tm/(1 − (R/ΔS)·ln(1 − x)) gives 0.445 and 2.26 K for 1 and 5 mol %.
    [InlineData(0.01, 0.445, 0.001)]
    [InlineData(0.05, 2.26, 0.01)]
    public void ImpurityLowersTheClearPoint(double moleFraction, double depression, double tolerance) =>
        Assert.Equal(
            depression, 126.85 - SchroederVanLaar.LiquidusCelsius(126.85, 75, moleFraction), tolerance);

    [Fact]
    public void PureCompoundMeltsWhereItShould() =>
        Assert.Equal(126.85, SchroederVanLaar.LiquidusCelsius(126.85, 75, 0), 1e-12);

    [Fact]
    public void ScatterFollowsItsQuantiles()
    {
        var scatter = new LiteratureScatter((0.5, 1), (0.9, 5), (1, 20));

        Assert.Equal(0.5, scatter.Below(0), 1e-15);
        Assert.Equal(0.75, scatter.Below(1), 1e-15);
        Assert.Equal(0.05, scatter.Below(-5), 1e-15);
        Assert.Equal(1, scatter.Below(20), 1e-15);

        var random = new Random(1);
        var draws = Enumerable.Range(0, 20_000).Select(_ => scatter.Draw(random)).ToList();
        // Standard error of a share of 0.5 over 20,000 draws: 0.0035.
        Assert.Equal(0.5, draws.Count(draw => Math.Abs(draw) <= 1) / 20_000.0, 0.015);
        Assert.Equal(0.5, draws.Count(draw => draw < 0) / 20_000.0, 0.015);
    }

    [Fact]
    public void DensityOfAReadingIsTheOneTheBenchDrawsFrom()
    {
        var table = BenchTable.Of(SeedTables.Load());
        var parameters = new BenchParameters { OffsetCelsius = 1e-6 };
        var density = new ReadingDensity(
            parameters, table.FusionEntropies, parameters.DerivativeScatter, parameters.DecompositionCelsius);
        var bench = new Bench(table, parameters);

        // Readings of all students on the standard of one listed value, against the table for the same temperatures.
        double drawn = 0, expected = 0, count = 0;
        for (var number = 0; number < 16_000; number++)
        {
            var student = bench.Student(9, number);
            var records = table.Records(BenchTable.HydrazoneKey)[student.Truth];
            if (records.Length != 1 || records[0].Decomposes)
            {
                continue;
            }

            var reading = student.Derivatives[BenchTable.HydrazoneKey];
            var range = reading.Range!.Value;
            count++;
            drawn += Math.Abs(range.ClearPointCelsius - records[0].HighCelsius) <= 1 && range.SpanCelsius <= 2 ? 1 : 0;
            for (var width = 0.0; width <= 2; width += 0.5)
            {
                // Readings are written to half a degree: the density times that is a probability.
                for (var reads = Math.Ceiling(2 * (records[0].HighCelsius - 1)) / 2;
                    reads <= records[0].HighCelsius + 1;
                    reads += 0.5)
                {
                    expected += 0.5 * density.At(reads, reads, width, reading.Preparation, records[0].HighCelsius, false);
                }
            }
        }

        // Over 4,000 readings with a share near 0.3 the standard error is 0.007.
        Assert.True(count > 4_000);
        Assert.Equal(expected / count, drawn / count, 0.025);
    }

    [Fact]
    public void ReadingsOfEveryWidthAddUpToOne()
    {
        var table = BenchTable.Of(SeedTables.Load());
        var parameters = new BenchParameters();
        var density = new ReadingDensity(
            parameters, table.FusionEntropies, parameters.DerivativeScatter, parameters.DecompositionCelsius);
        var total = 0.0;
        for (var width = 0.0; width <= parameters.WidestCelsius; width += 0.5)
        {
            for (var clear = 30.0; clear <= 300; clear += 0.25)
            {
                total += 0.25 * density.At(clear, clear, width, Preparation.Crude, 160, false);
            }
        }

        // The wings beyond the tables' reach and the ends of the sum hold about a thousandth.
        Assert.Equal(1, total, 0.005);
    }
}
