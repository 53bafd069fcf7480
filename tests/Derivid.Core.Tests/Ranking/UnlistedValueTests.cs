using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

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
    public void NothingBoilsBelowItsMeltingPoint()
    {
        var table = TestTable.Table(("liquid", "CCC(=O)CC", [156], [139]), ("solid", "O=C(c1ccccc1)c1ccccc1", [239], [165]));
        var snapshot = TableSnapshot.Build(
            table with
            {
                Constants = [new ParentConstant("solid", ParentProperty.MeltingPoint, 209, 209, null, "invented", null, Verification.Read, null)],
            },
            TestTable.Settings);
        var boils = new Observation { BoilingPoint = new BoilingPointReading(new MeltingRange(75, 76)), Prior = PriorChoice.Uniform };

        Assert.True(new IdentificationEngine(snapshot).Weigh(boils).ProbabilityOf(snapshot, "solid") < 0.01);
    }

    [Fact]
    public void CompoundPrintedWithABoilingPointOnlyIsTakenForALiquid()
    {
        // Acetophenone melts at 20 °C, but here nobody lists it.
        TableSnapshot With(params ParentConstant[] constants) => TableSnapshot.Build(
            TestTable.Table(("a", "CC(=O)c1ccccc1", [240], [199])) with { Constants = [.. constants] }, TestTable.Settings);

        var boiling = With(new ParentConstant("a", ParentProperty.BoilingPoint, 202, 202, null, "invented", null, Verification.Read, null));

        Assert.True(boiling.Solids.Of(0) < 0.1);
        Assert.True(With().Solids.Of(0) > boiling.Solids.Of(0));
    }

    /// <summary>Share of the density at 300 °C that is none of the listed values', by comparison with all of it elsewhere.</summary>
    private static double Elsewhere(params ListedTemperature[] values)
    {
        var scatter = TestTable.Settings.DerivativeMelting with { ElsewhereWorth = 0.5, GrossShare = 0, WideShare = 0 };
        double Density(ListedTemperature[] listed)
        {
            var estimate = new Core.Estimates.TemperatureEstimate(300, 20);
            var density = new double[1];
            new ListedTemperatures([listed], [estimate], [true], scatter, 1, 20, 0)
                .Weigh(300, new ReadingError(1, default), density, new double[1]);
            return density[0];
        }

        return Density(values) / Density([]);
    }

    private static ListedTemperature Value(double celsius) => new(celsius, celsius, false, Verification.Read, null, "invented", 0.5);
}
