using Derivid.Core.Compounds;
using Derivid.Core.Curation.Readings;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Distributions;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Curation.Readings;

/// <summary>What a check is worth, worked out a second time by asking the engine itself. Compounds are real; every value is invented.</summary>
public sealed class CheckingWorthTests
{
    private const string Kind = TestTable.Dnph;

    // Ketones of one sort, of which semicarbazones were recalled and read; four of twenty print 10 °C higher than recalled.
    private static readonly string[] Compared = [.. Enumerable.Range(0, 20).Select(number => $"ketone-{number:00}")];

    private static readonly double[] Twice = [150, 150];

    [Fact]
    public void WorthIsWhatTheEngineGetsRightBeforeAndAfter()
    {
        var table = Table(("lone", 300, Commonness.Usual), ("low", 100, Commonness.Usual), ("high", 117, Commonness.Usual));
        var snapshot = TableSnapshot.Build(table, TestTable.Settings);

        var worth = CheckingWorth.Of(snapshot).ToDictionary(line => line.Record.ParentKey, line => line.MoreRight, StringComparer.Ordinal);

        Assert.Equal(["high", "lone", "low"], worth.Keys.Order(StringComparer.Ordinal));
        Assert.Equal(CheckingWorth.Unread(table).Count(), worth.Count);
        foreach (var (parent, more) in worth)
        {
            // Four of twenty print 10 °C higher, the others the same. A range can't begin below 0 °C, so the lowest readings are narrower here.
            Assert.Equal(
                (0.2 * MoreRightByTheEngine(table, snapshot, parent, 10)) + (0.8 * MoreRightByTheEngine(table, snapshot, parent, 0)), more, 0.01);
        }

        // Melted at 110 °C, "low" is called "high"; nothing else melts near "lone".
        Assert.True(worth["low"] > 5 && worth["low"] > 5 * Math.Abs(worth["lone"]), $"{worth["low"]}, {worth["lone"]}");
    }

    [Fact]
    public void CommonCompoundIsWorthMoreThanRareOne()
    {
        var worth = CheckingWorth.Of(TableSnapshot.Build(
            Table(("a", 100, Commonness.Everyday), ("b", 117, Commonness.Everyday), ("c", 200, Commonness.Rare), ("d", 217, Commonness.Rare)), TestTable.Settings));

        Assert.Equal(["a", "c"], worth.Select(line => line.Record.ParentKey).Where(parent => parent is "a" or "c"));
        Assert.Equal(worth.Select(line => line.MoreRight).OrderDescending(), worth.Select(line => line.MoreRight));
    }

    [Fact]
    public void WhatNobodyIsHandedOutIsWorthNothing()
    {
        var snapshot = TableSnapshot.Build(Table(("low", 100, Commonness.Usual), ("high", 117, Commonness.Usual)), TestTable.Settings);

        Assert.All(CheckingWorth.Of(snapshot, (parent, _) => parent == "high" ? 1 : 0), line => Assert.Equal(0, line.MoreRight, 1e-9));
        Assert.Empty(CheckingWorth.Of(snapshot, (_, _) => 0));
    }

    [Fact]
    public void FewComparedValuesTellNothingOfOthers()
    {
        var table = Table(("low", 100, Commonness.Usual), ("high", 117, Commonness.Usual));
        var fewer = table with { Derivatives = [.. table.Derivatives.Where(record => record.ParentKey != Compared[0] || record.Verification != Verification.Read)] };

        Assert.Equal(19, CheckingWorth.Deviations(fewer).Count);
        Assert.Empty(CheckingWorth.Of(TableSnapshot.Build(fewer, TestTable.Settings)));
        Assert.Equal([0, 10], CheckingWorth.Deviations(table).Distinct().Order());
        Assert.Equal(4, CheckingWorth.Deviations(table).Count(celsius => celsius > 0));

        // One that was found as it was recalled makes up for it, and twenty more make others look half as doubtful.
        Assert.NotEmpty(CheckingWorth.Of(TableSnapshot.Build(fewer, TestTable.Settings), agreed: 1));
        var (before, after) = (CheckingWorth.Of(TableSnapshot.Build(table, TestTable.Settings)), CheckingWorth.Of(TableSnapshot.Build(table, TestTable.Settings), agreed: 20));
        Assert.True(after[0].MoreRight < before[0].MoreRight);
    }

    /// <summary>The same with the table rebuilt and the engine asked what it names, reading by reading.</summary>
    private static double MoreRightByTheEngine(ReferenceTable table, TableSnapshot before, string parent, double off)
    {
        var record = table.Derivatives.Single(row => row.ParentKey == parent && row.KindKey == Kind);
        var printed = record with { Key = "printed", LowCelsius = record.LowCelsius + off, HighCelsius = record.HighCelsius + off, Verification = Verification.Read };
        var after = TableSnapshot.Build(
            table with { Derivatives = off == 0 ? [.. table.Derivatives.Select(row => row == record ? printed : row)] : [.. table.Derivatives, printed] }, TestTable.Settings);
        var listed = before.Kind(Kind).Listed;
        var error = new ReadingError(listed.Scatter.ReadingCelsius, TestTable.Settings.Depression.PurityOf(1.5, Preparation.Recrystallised));
        var truth = new ReadingNoise(listed.Scatter, 1, error);
        var value = new ListedTemperature(printed.LowCelsius, printed.HighCelsius, false, Verification.Read, null, "", 1);
        before.TryFindParent(parent, out var index);
        var weights = before.Parents.Select(each => TestTable.Settings.Commonness.Of(each.Commonness)).ToArray();
        var (density, relative) = (new double[weights.Length], new double[weights.Length]);
        var more = 0.0;
        for (var celsius = 0.25; celsius < 360; celsius += 0.5)
        {
            listed.Weigh(celsius, error, density, relative);
            density[index] = truth.At(celsius - printed.HighCelsius, value);
            double RightOf(TableSnapshot snapshot)
            {
                var named = new IdentificationEngine(snapshot).Weigh(new Observation
                {
                    Derivatives = [new DerivativeReading(Kind, new MeltingRange(Math.Max(0, celsius - 1.5), celsius), Preparation.Recrystallised)],
                }).Order[0];
                return weights[named] * density[named];
            }

            more += 0.5 * (RightOf(after) - RightOf(before));
        }

        return 1000 * more / weights.Sum();
    }

    private static ReferenceTable Table(params (string Key, double Celsius, Commonness Commonness)[] unread)
    {
        var table = TestTable.Table(
        [
            .. unread.Select(each => (each.Key, "CC(C)=O", new[] { each.Celsius }, Array.Empty<double>())),
            .. Compared.Select(key => (key, "CCC(=O)CC", Array.Empty<double>(), Twice)),
        ]);
        var commonness = unread.ToDictionary(each => each.Key, each => each.Commonness, StringComparer.Ordinal);
        return table with
        {
            Sources =
            [
                .. table.Sources,
                new Source("recalled", "Invented: a book remembered", null, SourceGrade.Compiled, "recalled", SourceReading.Memory),
                new Source("read", "Invented: a book read", null, SourceGrade.Compiled, "read", SourceReading.PageRead),
            ],
            Parents = [.. table.Parents.Select(parent => parent with { Commonness = commonness.GetValueOrDefault(parent.Key, Commonness.Rare) })],
            Derivatives = [.. table.Derivatives.Select(record => record.KindKey == Kind ? Recalled(record)
                : record.Key.EndsWith("/0", StringComparison.Ordinal) ? Recalled(record)
                : IsOff(record) ? record with { SourceKey = "read", LowCelsius = 160, HighCelsius = 160 }
                : record with { SourceKey = "read" })],
        };
    }

    private static Derivative Recalled(Derivative record) => record with { SourceKey = "recalled", Verification = Verification.Recalled };

    private static bool IsOff(Derivative record) => Array.IndexOf(Compared, record.ParentKey) % 5 == 4;
}
