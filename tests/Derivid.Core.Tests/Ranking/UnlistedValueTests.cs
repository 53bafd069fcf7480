using CsCheck;
using Derivid.Core.Compounds;
using Derivid.Core.Estimates;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Tests.Ranking;

/// <summary>A missing value is no alibi, and a single listed one no proof.</summary>
public sealed class UnlistedValueTests
{
    [Fact]
    public void ChanceOfAnotherTemperatureFallsWithEveryValueListed()
    {
        // Worth 0.5 of a value: a third with one listed, a fifth with two that differ, a ninth with two that agree within
        // 3 °C or one that two sources agree on.
        Assert.Equal(1 / 3.0, Elsewhere(Value(126)), 1e-12);
        Assert.Equal(1 / 5.0, Elsewhere(Value(126), Value(129.5)), 1e-12);
        Assert.Equal(1 / 9.0, Elsewhere(Value(126), Value(129)), 1e-12);
        Assert.Equal(1 / 9.0, Elsewhere(Value(126) with { Verification = Verification.CrossChecked }), 1e-12);
    }

    [Fact]
    public void KindIsMetElsewhereByItsOwnFactor()
    {
        var settings = TestTable.Settings;
        var snapshot = TableSnapshot.Build(TestTable.Five().Table, settings with
        {
            DerivativeMelting = settings.DerivativeMelting with { ElsewhereWorth = 0.5 },
            ElsewhereFactorByKind = new Dictionary<string, double> { [TestTable.Dnph] = 3 },
        });

        Assert.Equal(1.5, snapshot.Kind(TestTable.Dnph).Listed.Scatter.ElsewhereWorth);
        Assert.Equal(0.5, snapshot.Kind(TestTable.Semicarbazone).Listed.Scatter.ElsewhereWorth);
    }

    [Fact]
    public void OneListedValueIsMetInTwoOfThreeAndAnotherTemperatureInTheThird()
    {
        // Worth 0.5 of a value, as above. Neither gross errors nor a wide component; 2 °C off.
        var scatter = TestTable.Settings.DerivativeMelting with { ElsewhereWorth = 0.5, GrossShare = 0, WideShare = 0 };
        var estimate = new TemperatureEstimate(150, 20);
        var density = new double[1];

        new ListedTemperatures([[Value(126) with { Weight = 1 }]], _ => estimate, [true], scatter, 1, 20, 0)
            .Weigh(128, new ReadingError(1.2, default), density, new double[1]);

        Assert.Equal(
            (2 / 3.0 * NormalDensity.At(2, Math.Sqrt((1.3 * 1.3) + (1.2 * 1.2))))
                + (1 / 3.0 * estimate.ReadWithin(1.2).UnboundedDensityAt(128, 126)),
            density[0],
            1e-12);
    }

    [Fact]
    public void WhatNothingForetellsMeltsWhereTheListedOnesDo()
    {
        // Relatives lie 20 °C about each listed value, and 0.1 of them anywhere in 360 °C; two are listed, two are not.
        var (density, relative) = (new double[4], new double[4]);
        var values = new ListedTemperatures(
            [[Value(126) with { Weight = 1 }], [], [Value(180) with { Weight = 1 }], []],
            _ => null, [true, true, true, true], TestTable.Settings.DerivativeMelting, 1, 20, 0.1);

        values.Weigh(140, new ReadingError(1.2, default), density, relative);

        var expected = (0.9 * (NormalDensity.At(14, 20) + NormalDensity.At(40, 20)) / 2) + (0.1 / 360);
        Assert.Equal([expected, expected], [density[1], density[3]], (one, other) => Math.Abs(one - other) < 1e-15);
        Assert.Equal([expected, expected], [relative[1], relative[3]], (one, other) => Math.Abs(one - other) < 1e-15);

        // And of a kind of which nothing is listed, anywhere.
        new ListedTemperatures([[], []], _ => null, [true, true], TestTable.Settings.DerivativeMelting, 1, 20, 0.1)
            .Weigh(140, new ReadingError(1.2, default), density, relative);
        Assert.Equal(1 / 360.0, density[0], 1e-15);
        Assert.Equal(1 / 360.0, relative[1], 1e-15);
    }

    [Fact]
    public void CompoundOfWhichNothingIsKnownIsTakenForAnAverageOne()
    {
        double[] Averages(params ListedTemperature[][] listed) =>
            new ListedTemperatures(
                listed,
                _ => null,
                [.. listed.Select(_ => true)],
                TestTable.Settings.DerivativeMelting,
                1,
                20,
                0.1).Averages(value => value.HighCelsius, estimate => estimate.MeanCelsius, ifNone: 7);

        Assert.Equal([100, 130, 115], Averages([Value(100) with { Weight = 1 }], [Value(120), Value(140)], []));
        Assert.Equal([7, 7], Averages([], []));
    }

    [Fact]
    public void EstimateIsTrustedLessByItsFactorWhereNothingIsListed()
    {
        var values = new ListedTemperatures(
            [[Value(126) with { Weight = 1 }], []],
            _ => new TemperatureEstimate(150, 20),
            [true, true],
            TestTable.Settings.DerivativeMelting with { UnlistedFactor = 1.5 },
            1,
            20,
            0.1);

        Assert.Equal(20, values.EstimateOf(0)!.Value.ScaleCelsius);
        Assert.Equal(30, values.EstimateOf(1)!.Value.ScaleCelsius);
    }

    [Fact]
    public void EstimatesMadeBeforeAreTakenWhereTheyAreGiven()
    {
        var table = TestTable.Five().Table;
        var estimates = TableEstimates.Of(table);

        Assert.Same(estimates, TableSnapshot.Build(table, TestTable.Settings, estimates).Estimates);
    }

    [Fact]
    public void NothingBoilsBelowItsMeltingPoint()
    {
        var table = TestTable.Table(("liquid", "CCC(=O)CC", [156], [139]), ("solid", "O=C(c1ccccc1)c1ccccc1", [239], [165]));
        var snapshot = TableSnapshot.Build(
            table with
            {
                Constants = [TestTable.Constant("solid", ParentProperty.MeltingPoint, 209)],
            },
            TestTable.Settings);
        var boils = new Observation { BoilingPoint = new BoilingPointReading(new MeltingRange(75, 76)), Prior = new() { IsUniform = true } };

        Assert.True(new IdentificationEngine(snapshot).Weigh(boils).ProbabilityOf(snapshot, "solid") < 0.01);
    }

    [Fact]
    public void CompoundPrintedWithABoilingPointOnlyIsTakenForALiquid()
    {
        // Acetophenone melts at 20 °C, but here nobody lists it.
        TableSnapshot With(params ParentConstant[] constants) => TableSnapshot.Build(
            TestTable.Table(("a", "CC(=O)c1ccccc1", [240], [199])) with { Constants = [.. constants] }, TestTable.Settings);

        var boiling = With(TestTable.Constant("a", ParentProperty.BoilingPoint, 202));

        Assert.True(boiling.Solids.Of(0) < 0.1);
        Assert.True(With().Solids.Of(0) > boiling.Solids.Of(0));
    }

    [Fact]
    public void ReadingNearerToTheOnlyListedValueNeverCountsLess() =>
        Gen.Select(Gen.Double[0, 300], Gen.Double[0, 360], Gen.Double[0, 360], Gen.Double[5, 60], Gen.Double[0.05, 2])
            .Sample((listed, one, other, scale, worth) =>
            {
                var scatter = TestTable.Settings.DerivativeMelting with { ElsewhereWorth = worth };
                var values = new ListedTemperatures(
                    [[Value(listed) with { Weight = 1 }]], _ => new TemperatureEstimate(150, scale), [true], scatter, 1, 20, 0.1);
                double At(double celsius)
                {
                    var density = new double[1];
                    values.Weigh(celsius, new ReadingError(1.2, new Purity(0.3, 3, 0.1, 20)), density, new double[1]);
                    return density[0];
                }

                // On one side: a reading low is forgiven more than one as much too high.
                var (near, far) = Math.Abs(one - listed) < Math.Abs(other - listed) ? (one, other) : (other, one);
                if (Math.Sign(near - listed) == Math.Sign(far - listed))
                {
                    Assert.True(At(near) >= At(far) * (1 - 1e-12), $"{near} {far}");
                }
            });

    /// <summary>Share of the density far from every listed value, by comparison with all of it elsewhere.</summary>
    private static double Elsewhere(params ListedTemperature[] values)
    {
        const double read = 300;
        var scatter = TestTable.Settings.DerivativeMelting with { ElsewhereWorth = 0.5, GrossShare = 0, WideShare = 0 };
        var estimate = new TemperatureEstimate(150, 20);
        var density = new double[1];
        ListedTemperature[] weighted = [.. values.Select(value => value with { Weight = 1.0 / values.Length })];
        new ListedTemperatures([weighted], _ => estimate, [true], scatter, 1, 20, 0)
            .Weigh(read, new ReadingError(0.001, default), density, new double[1]);
        return density[0] / values.Average(value => estimate.ReadWithin(0.001).UnboundedDensityAt(read, value.HighCelsius));
    }

    private static ListedTemperature Value(double celsius) => new(celsius, celsius, false, Verification.Read, null, "invented", 0.5);
}
