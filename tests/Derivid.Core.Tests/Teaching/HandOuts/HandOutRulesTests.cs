using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching.HandOuts;

/// <summary>Bounds of what can be handed out, and what a laboratory can tell apart with what it offers.</summary>
public sealed class HandOutRulesTests
{
    [Theory]
    [InlineData(1, 0, 0)]
    [InlineData(4, 1, 1)]
    public void RulesAreAllowedAtTheirBounds(int unknowns, double posterior, double difficulty) =>
        new HandOutRules { UnknownsPerStudent = unknowns, LeastPosterior = posterior, LargestDifficulty = difficulty }.Check();

    [Theory]
    [InlineData(1, -0.01, 1)]
    [InlineData(1, 1.01, 1)]
    [InlineData(1, 0.8, -0.01)]
    [InlineData(1, 0.8, double.NaN)]
    public void RulesBeyondThemAreRefused(int unknowns, double posterior, double difficulty) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new HandOutRules
        {
            UnknownsPerStudent = unknowns,
            LeastPosterior = posterior,
            LargestDifficulty = difficulty,
        }.Check());

    [Theory]
    [InlineData(1)]
    [InlineData(200)]
    public void SeedIsTakenAtItsBounds(int length) => Assert.NotNull(new HandOutSeed(new string('s', length), TeachingTable.Secret));

    [Fact]
    public void RosterIsTakenAtItsBoundsAndRefusedBeyondThem()
    {
        IEnumerable<Seat> Seats(int count) => Enumerable.Range(0, count).Select(i => new Seat($"s{i:0000}"));

        Assert.Equal(2000, new Roster(Seats(2000)).Seats.Count);
        Assert.Throws<ArgumentException>(() => new Roster(Seats(2001)));
        Assert.Single(new Roster([new Seat(new string('x', 64))]).Seats);
        Assert.Throws<ArgumentException>(() => new Roster([new Seat(new string('x', 65))]));
    }

    [Fact]
    public void HighestPlaceHasNoNeighbourBeyondItAndEqualPlacesOfTwoBenchesAreNotShared()
    {
        var roster = new Roster([
            new Seat("a", "1", int.MaxValue), new Seat("b", "1", int.MaxValue - 1), new Seat("c", "2", int.MaxValue), new Seat("d", "1", int.MinValue),
        ]);

        Assert.Equal([1], roster.NeighboursOf(0));
        Assert.Equal([0], roster.NeighboursOf(1));
        Assert.Empty(roster.NeighboursOf(2));
        Assert.Empty(roster.NeighboursOf(3));
    }

    [Fact]
    public void LaboratoryNamesEachThingOnceAndOnlyThingsOfTheTable()
    {
        var laboratory = new Laboratory { ShelfKeys = ["propanone"] };
        void Refused(string reason, Laboratory bad) => Assert.Contains(
            reason, Assert.Throws<ArgumentException>(() => bad.Check(TeachingTable.Five)).Message, StringComparison.Ordinal);

        laboratory.Check(TeachingTable.Five);
        (laboratory with { KindKeys = [TestTable.Dnph, TestTable.Semicarbazone], SpotTestKeys = ["tollens", "schiff"] }).Check(TeachingTable.Five);
        Refused("no spot test 'litmus'", laboratory with { SpotTestKeys = ["litmus"] });
        Refused("no derivative kind 'hydrazide'", laboratory with { KindKeys = ["hydrazide"] });
        Refused("'semicarbazone' is named twice", laboratory with { KindKeys = [TestTable.Semicarbazone, TestTable.Semicarbazone] });
        Refused("'tollens' is named twice", laboratory with { SpotTestKeys = ["tollens", "schiff", "tollens"] });
    }

    [Fact]
    public void BoilingOrMeltingPointTellsApartWhatNothingElseDoes()
    {
        var table = TestTable.Table(("a", "CC(C)=O", [126], []), ("b", "CCC(=O)CC", [126], []));
        var snapshot = TableSnapshot.Build(
            table with
            {
                Constants =
                [
                    TestTable.Constant("a", ParentProperty.BoilingPoint, 56), TestTable.Constant("b", ParentProperty.BoilingPoint, 102),
                    TestTable.Constant("a", ParentProperty.MeltingPoint, 20), TestTable.Constant("b", ParentProperty.MeltingPoint, 70),
                ],
            },
            TestTable.Settings);
        bool[] Identifiable(Func<Laboratory, Laboratory> with) =>
            [.. Run(with(new Laboratory { ShelfKeys = ["a", "b"], KindKeys = [TestTable.Dnph] }), 0.8, snapshot).Select(item => item.IsIdentifiable)];

        Assert.Equal([false, false], Identifiable(laboratory => laboratory));
        Assert.Equal([true, true], Identifiable(laboratory => laboratory with { TakesBoilingPoint = true }));
        Assert.Equal([true, true], Identifiable(laboratory => laboratory with { TakesMeltingPoint = true }));
    }

    [Fact]
    public void WhatWouldSettleItIsNamedTheQuickestFirst()
    {
        // A methyl ketone and another ketone of one 2,4-DNPH: iodoform parts them in minutes, and so, better, does the semicarbazone.
        var snapshot = TestTable.Snapshot(("a", "CC(C)=O", [126], [188]), ("b", "CCC(=O)CC", [126], [139]));
        var laboratory = new Laboratory { ShelfKeys = ["b", "a"], KindKeys = [TestTable.Dnph] };

        var found = Run(laboratory, 0.9, snapshot);

        Assert.Equal(["a", "b"], found.Select(item => item.ParentKey));
        Assert.Equal(["iodoform", TestTable.Semicarbazone], found[0].SettledBy);
        Assert.Equal(["b"], found[0].ConfusedWith);
        Assert.Matches(@"Offering iodoform \(0\.9\d\) or the semicarbazone \((0\.9\d|1\.00)\) would settle it\.$", found[0].Sentence);
        Assert.Equal([TestTable.Semicarbazone], Run(laboratory, 0.95, snapshot)[0].SettledBy);
        Assert.Equal([], Run(laboratory with { KindKeys = [TestTable.Dnph, TestTable.Semicarbazone] }, 0.9, snapshot)[0].SettledBy);
        Assert.All(
            Run(laboratory with { SpotTestKeys = ["iodoform"] }, 0.9, snapshot), item => Assert.True(item.IsIdentifiable));
    }

    [Fact]
    public void NothingThatWouldSettleItIsSaidSo()
    {
        var snapshot = TestTable.Snapshot(("a", "CCC(=O)CC", [126], [150]), ("b", "CCC(=O)CCC", [126], [150]));

        var item = Run(new Laboratory { ShelfKeys = ["a", "b"], KindKeys = [TestTable.Dnph] }, 0.8, snapshot)[0];

        Assert.Empty(item.SettledBy);
        Assert.Contains("take one of them off the shelf", item.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void IdentifiableAtExactlyTheProbabilityAskedFor()
    {
        var alike = TestTable.Snapshot(("a", "CCC(=O)CC", [126], []), ("b", "CCC(=O)CCC", [126], []));
        var laboratory = new Laboratory { ShelfKeys = ["a", "b"] };
        var posterior = Run(laboratory, 0.8, alike)[0].Posterior;

        Assert.Equal(0.5, posterior, 1e-12);
        Assert.True(Run(laboratory, posterior, alike)[0].IsIdentifiable);
        Assert.False(Run(laboratory, posterior + 1e-6, alike)[0].IsIdentifiable);
    }

    [Fact]
    public void DifficultyIsWhatOrdinaryReadingErrorsLeaveInDoubt()
    {
        // Two 8 °C apart: a reading 4 °C off half way between, one of 16 on that side, is what puts them in doubt.
        TableSnapshot Apart(double celsius) => TestTable.Snapshot(("a", "CCC(=O)CC", [126], []), ("b", "CCC(=O)CCC", [126 + celsius], []));
        double Difficulty(double celsius) =>
            Run(new Laboratory { ShelfKeys = ["a", "b"], KindKeys = [TestTable.Dnph] }, 0.8, Apart(celsius))[0].Difficulty;

        Assert.Equal(0.5, Difficulty(0), 1e-9);
        Assert.InRange(Difficulty(200), 0, 0.01);
        Assert.True(Difficulty(4) > Difficulty(8) && Difficulty(8) > Difficulty(16));
        var snapshot = Apart(8);
        var engine = new IdentificationEngine(snapshot);
        double Doubt(double off) => 1 - engine.Weigh(new Core.Observations.Observation
        {
            Derivatives = [Observed.Dnph(125 + off, 126 + off)],
            Prior = new Core.Observations.PriorChoice { NoneOfThese = 0 },
        }).ProbabilityOf(snapshot, "a");
        Assert.Equal(
            (Doubt(-4) + (4 * Doubt(-2)) + (6 * Doubt(0)) + (4 * Doubt(2)) + Doubt(4)) / 16, Difficulty(8), 1e-12);
    }

    [Fact]
    public void FlawlessStudentReadsTheBestKnownOfTwoListedValues()
    {
        // "a" is listed at 100, recalled, and at 150, confirmed: it is "b" at 150 that a reading of it cannot be told from.
        var table = TestTable.Table(("a", "CCC(=O)CC", [100, 150], []), ("b", "CCC(=O)CCC", [150], []), ("c", "CCCC(=O)CCC", [100], []));
        var snapshot = TableSnapshot.Build(
            table with
            {
                Derivatives = [.. table.Derivatives.Select(row => row.ParentKey != "a" ? row : row with
                {
                    Verification = row.LowCelsius == 100 ? Verification.Recalled : Verification.CrossChecked,
                })],
            },
            TestTable.Settings);

        var found = Run(new Laboratory { ShelfKeys = ["a", "b", "c"], KindKeys = [TestTable.Dnph] }, 0.9, snapshot);

        Assert.Equal("b", found[0].ConfusedWith[0]);
    }

    [Fact]
    public void ColdestMeltingPointCanBeMissedOnTheLowSideToo()
    {
        var table = TestTable.Table(("a", "CCC(=O)CC", [], []), ("b", "CCC(=O)CCC", [], []));
        var snapshot = TableSnapshot.Build(
            table with { Constants = [TestTable.Constant("a", ParentProperty.MeltingPoint, -199), TestTable.Constant("b", ParentProperty.MeltingPoint, 50)] },
            TestTable.Settings);

        var found = Run(new Laboratory { ShelfKeys = ["a", "b"], TakesMeltingPoint = true }, 0.8, snapshot);

        Assert.True(found[0].IsIdentifiable, found[0].Sentence);
    }

    [Fact]
    public void NearerCompoundIsNamedFirstAmongThoseConfused()
    {
        var snapshot = TestTable.Snapshot(
            ("a", "CCC(=O)CC", [126], []), ("b", "CCC(=O)CCC", [129], []), ("c", "CCCC(=O)CCC", [127], []), ("d", "CCCCC(=O)CCC", [200], []));

        var found = Run(new Laboratory { ShelfKeys = ["a", "b", "c", "d"], KindKeys = [TestTable.Dnph] }, 0.8, snapshot);

        Assert.Equal(["c", "b"], found[0].ConfusedWith);
        Assert.StartsWith("a cannot be told from c in this laboratory", found[0].Sentence, StringComparison.Ordinal);
        Assert.StartsWith("d: ideal readings give it 1.00 of the probability on this shelf", found[3].Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void CompoundThatStandsAloneAndStillFallsShortIsSaidNotToStandOut()
    {
        // Told apart from the other, whose listed value is far enough off, but not as surely as is asked for here.
        var snapshot = TestTable.Snapshot(("a", "CCC(=O)CC", [126], []), ("b", "CCC(=O)CCC", [150], []));

        var item = Run(new Laboratory { ShelfKeys = ["a", "b"], KindKeys = [TestTable.Dnph] }, 1, snapshot)[0];

        Assert.False(item.IsIdentifiable);
        Assert.StartsWith("a does not stand out in this laboratory", item.Sentence, StringComparison.Ordinal);
        Assert.EndsWith("take it off the shelf.", item.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void StepsThatTellAsMuchComeByKey()
    {
        var aldehyde = TestTable.Table(("a", "CCC(=O)CC", [126], []), ("b", "CCC=O", [126], []));
        var snapshot = TableSnapshot.Build(
            aldehyde with { Parents = [aldehyde.Parents[0], aldehyde.Parents[1] with { Kind = ParentKind.Aldehyde }] },
            TestTable.Settings);

        Assert.Equal(["fehling", "schiff", "tollens"], Run(new Laboratory { ShelfKeys = ["a", "b"] }, 0.8, snapshot)[0].SettledBy);
    }

    [Fact]
    public void LongListOfCrowdedStudentsIsCutAfterTwelve()
    {
        // Fourteen students round one table, every one a neighbour of every other, and thirteen compounds.
        string[] students = [.. Enumerable.Range(0, 14).Select(i => $"s{i:00}")];
        var roster = new Roster(
            students.Select(key => new Seat(key)),
            from i in Enumerable.Range(0, 14) from j in Enumerable.Range(i + 1, 13 - i) select new NeighbourPair(students[i], students[j]));

        var refusal = HandOutDraw.Draw(
            roster, TeachingTable.Laboratory(13), new HandOutRules(), new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret), TeachingTable.Many, TestContext.Current.CancellationToken).Refusal!;

        Assert.Contains("s10, s11 and 2 more are all neighbours of each other and need 14 different", refusal.Sentence, StringComparison.Ordinal);
        Assert.StartsWith("Have 14 compounds to hand out", refusal.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void TwoUnknownsEachDoubleWhatNeighboursNeed()
    {
        var roster = new Roster([new Seat("a", "1", 1), new Seat("b", "1", 2)]);
        HandOutResult Draw(int compounds) => HandOutDraw.Draw(
            roster, TeachingTable.Laboratory(compounds), new HandOutRules { UnknownsPerStudent = 2 },
            new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret), TeachingTable.Many, TestContext.Current.CancellationToken);

        Assert.Equal(4, Draw(4).HandOut!.Unknowns.Select(unknown => unknown.ParentKey).Distinct().Count());
        Assert.Equal(["1a", "2a", "1b", "2b"], Draw(4).HandOut!.Unknowns.Select(unknown => $"{unknown.Number}{unknown.StudentKey}"));
        Assert.Contains("a, b are all neighbours of each other and need 4 different compounds", Draw(3).Refusal!.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void TotalsOfDifficultyRunFromTheEasiestStudentToTheHardest()
    {
        var laboratory = TeachingTable.Laboratory(24) with { KindKeys = [TestTable.Dnph] };
        var handOut = HandOutDraw.Draw(
            new Roster(Enumerable.Range(0, 24).Select(i => new Seat($"s{i:00}", $"{i / 6}", i % 6))),
            laboratory,
            new HandOutRules { HandsOutUnidentifiable = true },
            new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret),
            TeachingTable.Uneven, TestContext.Current.CancellationToken).HandOut!;

        var difficulty = handOut.Shelf.ToDictionary(item => item.ParentKey, item => item.Difficulty);
        var totals = handOut.Unknowns.GroupBy(unknown => unknown.StudentKey)
            .Select(own => own.Sum(unknown => difficulty[unknown.ParentKey])).ToList();
        Assert.Equal(totals.Min(), handOut.EasiestTotal, 1e-9);
        Assert.Equal(totals.Max(), handOut.HardestTotal, 1e-9);

        // Hard and easy are spread over the benches: twelve hard compounds, about three to each of four benches.
        Assert.All(
            handOut.Unknowns.GroupBy(unknown => int.Parse(unknown.StudentKey[1..], System.Globalization.CultureInfo.InvariantCulture) / 6),
            bench => Assert.InRange(bench.Count(unknown => difficulty[unknown.ParentKey] > 0.3), 2, 4));
    }

    private static IReadOnlyList<Identifiability> Run(Laboratory laboratory, double least, TableSnapshot snapshot) =>
        new IdentifiabilityCheck(laboratory, least, snapshot).Run(TestContext.Current.CancellationToken);
}
