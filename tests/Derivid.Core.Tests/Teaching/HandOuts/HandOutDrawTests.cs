using CsCheck;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching.HandOuts;

public sealed class HandOutDrawTests
{
    private static readonly Gen<(Seat[] Seats, NeighbourPair[] Pairs, int Unknowns, int Compounds, string Seed)> AnyClass =
        from benchLength in Gen.Int[1, 40]
        from gap in Gen.Int[0, 3]
        from pairs in Gen.Select(Gen.Int[0, 499], Gen.Int[0, 499]).Array[0, 30]
        from unknowns in Gen.Int[1, 2]
        from compounds in Gen.Int[16, 24]
        from seed in Gen.ULong
        select (
            Enumerable.Range(0, 500)
                .Select(i => new Seat(Student(i), $"bench {i / benchLength}", (i % benchLength) + (gap == 0 ? i % benchLength : 0)))
                .ToArray(),
            pairs.Where(pair => pair.Item1 != pair.Item2)
                .Select(pair => new NeighbourPair(Student(pair.Item1), Student(pair.Item2)))
                .ToArray(),
            unknowns,
            compounds,
            $"{seed:x16} of this test");

    [Fact]
    public void FiveHundredStudentsGetWhatTheRulesPromise() =>
        AnyClass.Sample(
            given =>
            {
                var roster = new Roster(given.Seats, given.Pairs);
                var handOut = Identity(roster, given.Unknowns, given.Compounds, given.Seed);

                var byStudent = handOut.Unknowns.ToLookup(unknown => unknown.StudentKey, unknown => unknown.ParentKey);
                for (var student = 0; student < 500; student++)
                {
                    var own = byStudent[roster.Seats[student].StudentKey].ToList();
                    Assert.Equal(given.Unknowns, own.Distinct().Count());
                    Assert.All(
                        roster.NeighboursOf(student),
                        other => Assert.Empty(own.Intersect(byStudent[roster.Seats[other].StudentKey])));
                }

                Assert.Equal(500 * given.Unknowns, handOut.Unknowns.Select(unknown => unknown.Code.Text).Distinct().Count());
                Assert.InRange(handOut.Uses.Values.Max() - handOut.Uses.Values.Min(), 0, 1);
                Assert.Equal(500 * given.Unknowns, handOut.Uses.Values.Sum());
            },
            iter: Check.Iter / 4);

    [Fact]
    public void SameSeedGivesTheSameHandOutInWhateverOrderTheListsCome() =>
        AnyClass.Sample(
            given =>
            {
                var first = Identity(new Roster(given.Seats, given.Pairs), given.Unknowns, given.Compounds, given.Seed);
                var second = HandOutDraw.Draw(
                    new Roster(given.Seats.Reverse(), given.Pairs.Reverse()),
                    new Laboratory
                    {
                        ShelfKeys = [.. TeachingTable.Shelf(given.Compounds).Reverse()],
                        KindKeys = [TestTable.Semicarbazone, TestTable.Dnph],
                    },
                    new HandOutRules { UnknownsPerStudent = given.Unknowns },
                    new HandOutSeed(given.Seed, TeachingTable.Secret),
                    TeachingTable.Many, TestContext.Current.CancellationToken).HandOut!;

                Assert.Equal(first.Unknowns, second.Unknowns);
                Assert.NotEqual(
                    first.Unknowns.Select(unknown => unknown.ParentKey),
                    Identity(new Roster(given.Seats, given.Pairs), given.Unknowns, given.Compounds, given.Seed + ".")
                        .Unknowns.Select(unknown => unknown.ParentKey));
            },
            iter: Math.Max(1, Check.Iter / 12));

    [Fact]
    public void CodesDoNotDependOnWhatIsInside()
    {
        var roster = Bench(40);

        var wide = Identity(roster, 1, 24, TeachingTable.Seed).Unknowns;
        var narrow = Identity(roster, 1, 8, TeachingTable.Seed).Unknowns;

        Assert.Equal(wide.Select(unknown => unknown.Code), narrow.Select(unknown => unknown.Code));
        Assert.NotEqual(wide.Select(unknown => unknown.ParentKey), narrow.Select(unknown => unknown.ParentKey));
    }

    [Fact]
    public void EveryStudentOfTwoUnknownsGetsAnEasyAndAHardOne()
    {
        var handOut = HandOutDraw.Draw(
            Bench(60),
            TeachingTable.Laboratory(24) with { KindKeys = [TestTable.Dnph] },
            new HandOutRules { UnknownsPerStudent = 2, HandsOutUnidentifiable = true },
            new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret),
            TeachingTable.Uneven, TestContext.Current.CancellationToken).HandOut!;

        var difficulty = handOut.Shelf.ToDictionary(item => item.ParentKey, item => item.Difficulty);
        Assert.True(difficulty["ketone-05"] < 0.2 && difficulty["ketone-15"] > 0.3);
        Assert.All(
            handOut.Unknowns.GroupBy(unknown => unknown.StudentKey),
            own => Assert.Single(own, unknown => difficulty[unknown.ParentKey] > 0.3));
        Assert.Equal(5, Assert.Single(handOut.Uses.Values.Distinct()));
    }

    [Fact]
    public void CompoundsThatCannotBeToldApartAreLeftOutOrFlagged()
    {
        var laboratory = new Laboratory
        {
            ShelfKeys = ["propanone", "pinacolone", "pentan-3-one", "acetophenone"],
            KindKeys = [TestTable.Dnph],
        };

        var left = HandOutDraw.Draw(Bench(10), laboratory, new HandOutRules(), new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret), TeachingTable.Five, TestContext.Current.CancellationToken).HandOut!;
        var flagged = HandOutDraw.Draw(
            Bench(10),
            laboratory,
            new HandOutRules { HandsOutUnidentifiable = true },
            new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret),
            TeachingTable.Five, TestContext.Current.CancellationToken).HandOut!;

        Assert.Equal(["pinacolone", "propanone"], left.LeftOut);
        Assert.Equal(["acetophenone", "pentan-3-one"], left.Uses.Keys.Order());
        Assert.Empty(flagged.LeftOut);
        Assert.Equal(4, flagged.Uses.Count);
        Assert.Equal(2, flagged.Remarks.Count(remark => remark.Contains("cannot be told from", StringComparison.Ordinal)));
    }

    [Fact]
    public void TwoCompoundsServeABenchButNotThreeStudentsRoundATable()
    {
        var bench = Identity(Bench(9), 1, 2, TeachingTable.Seed);
        var refusal = Refused(
            new Roster(
                [new Seat("a"), new Seat("b"), new Seat("c"), new Seat("d")],
                [new NeighbourPair("a", "b"), new NeighbourPair("b", "c"), new NeighbourPair("c", "a")]),
            1,
            2);

        Assert.Equal([4, 5], bench.Uses.Values.Order());
        Assert.Equal(HandOutConstraint.Neighbours, refusal.Constraint);
        Assert.Contains("a, b, c are all neighbours of each other and need 3 different compounds", refusal.Sentence, StringComparison.Ordinal);
        Assert.Contains("Have 3 compounds to hand out", refusal.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void RingOfFiveNeedsThreeCompoundsAndTheProofIsComplete()
    {
        // An odd ring has no three students who are all neighbours, and still cannot do with two compounds.
        string[] ring = ["a", "b", "c", "d", "e"];
        var roster = new Roster(
            ring.Select(key => new Seat(key)), ring.Select((key, i) => new NeighbourPair(key, ring[(i + 1) % 5])));

        var refusal = Refused(roster, 1, 2);

        Assert.Contains("a, b, c, d, e are so closely neighboured that no way exists", refusal.Sentence, StringComparison.Ordinal);
        Assert.Contains("Have 3 compounds", refusal.Remedy, StringComparison.Ordinal);
        Assert.Equal([1, 2, 2], Identity(roster, 1, 3, TeachingTable.Seed).Uses.Values.Order());
    }

    [Fact]
    public void ShelfTooShortOrUnidentifiableIsRefusedWithTheRemedy()
    {
        var tooShort = Refused(Bench(3), 3, 2);
        var alike = HandOutDraw.Draw(
            Bench(3),
            new Laboratory { ShelfKeys = ["propanone", "pinacolone"], KindKeys = [TestTable.Dnph] },
            new HandOutRules(),
            new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret),
            TeachingTable.Five, TestContext.Current.CancellationToken).Refusal!;

        Assert.Equal(HandOutConstraint.EnoughCompounds, tooShort.Constraint);
        Assert.Contains("3 different unknowns a student are asked for, and 2 of the 2", tooShort.Sentence, StringComparison.Ordinal);
        Assert.Equal(HandOutConstraint.Identifiable, alike.Constraint);
        Assert.Contains("Offering the semicarbazone (", alike.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void CodeOfAStudentDoesNotDependOnWhoElseIsInTheClass()
    {
        var alone = Identity(new Roster([new Seat(Student(7))]), 2, 4, TeachingTable.Seed).Unknowns;
        var among = Identity(Bench(40), 2, 8, TeachingTable.Seed).Unknowns;

        Assert.Equal(
            alone.Select(unknown => unknown.Code),
            among.Where(unknown => unknown.StudentKey == Student(7)).Select(unknown => unknown.Code));
    }

    [Fact]
    public void UsesThatDifferByOneBringNoRemark()
    {
        var handOut = Identity(Bench(9), 1, 2, TeachingTable.Seed);

        Assert.Equal([4, 5], handOut.Uses.Values.Order());
        Assert.Empty(handOut.Remarks);
    }

    [Fact]
    public void RefusalSaysOfEachCompoundWhyItIsKeptOutAndWhatWouldHelp()
    {
        // By the 2,4-DNPH alone propanone and pinacolone cannot be told apart, and pentan-3-one can.
        HandOutRefusal Refuse(bool handsOutUnidentifiable, double hardest, int unknowns) => HandOutDraw.Draw(
            Bench(3),
            new Laboratory { ShelfKeys = ["propanone", "pinacolone", "pentan-3-one"], KindKeys = [TestTable.Dnph] },
            new HandOutRules { HandsOutUnidentifiable = handsOutUnidentifiable, LargestDifficulty = hardest, UnknownsPerStudent = unknowns },
            new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret),
            TeachingTable.Five, TestContext.Current.CancellationToken).Refusal!;

        var alike = Refuse(false, 1, 2);
        var hard = Refuse(false, 0, 1);
        var flagged = Refuse(true, 0, 1);
        var few = Refuse(true, 1, 4);

        Assert.Equal(HandOutConstraint.Identifiable, alike.Constraint);
        Assert.Contains("pinacolone cannot be told from propanone", alike.Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain("its difficulty is", alike.Sentence, StringComparison.Ordinal);
        Assert.StartsWith("Offer the derivative or test named", alike.Remedy, StringComparison.Ordinal);
        Assert.Contains("pinacolone cannot be told from propanone", hard.Sentence, StringComparison.Ordinal);
        Assert.Contains("pentan-3-one is left out: its difficulty is", hard.Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain("cannot be told from", flagged.Sentence, StringComparison.Ordinal);
        Assert.Contains("pinacolone is left out: its difficulty is", flagged.Sentence, StringComparison.Ordinal);
        Assert.Equal(HandOutConstraint.EnoughCompounds, few.Constraint);
        Assert.Equal(
            "4 different unknowns a student are asked for, and 3 of the 3 compounds on the shelf can be handed out.", few.Sentence);
        Assert.StartsWith("Put more compounds on the shelf", few.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void RulesAreCheckedBeforeAnythingIsDrawn() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => HandOutDraw.Draw(
            Bench(3),
            TeachingTable.Laboratory(4),
            new HandOutRules { LargestDifficulty = 1.5 },
            new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret),
            TeachingTable.Many, TestContext.Current.CancellationToken));

    [Fact]
    public void HardCompoundsCanBeKeptOut()
    {
        var all = Identity(Bench(10), 1, 24, TeachingTable.Seed, kinds: [TestTable.Dnph]);
        var limit = all.Shelf.Select(item => item.Difficulty).Order().ElementAt(5);

        var easy = HandOutDraw.Draw(
            Bench(10),
            TeachingTable.Laboratory(24) with { KindKeys = [TestTable.Dnph] },
            new HandOutRules { LargestDifficulty = limit },
            new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret),
            TeachingTable.Many, TestContext.Current.CancellationToken).HandOut!;

        Assert.Equal(6, easy.Uses.Count);
        Assert.Equal(18, easy.LeftOut.Count);
        Assert.Equal(18, easy.Remarks.Count(remark => remark.Contains("its difficulty is", StringComparison.Ordinal)));
    }

    [Fact]
    public void AnswersStayOutOfText()
    {
        var unknown = Identity(Bench(1), 1, 1, TeachingTable.Seed).Unknowns[0];

        Assert.DoesNotContain("ketone", unknown.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, 0.8, 1)]
    [InlineData(5, 0.8, 1)]
    [InlineData(1, double.NaN, 1)]
    [InlineData(1, 0.8, 1.1)]
    public void RulesOutOfBoundsAreRefused(int unknowns, double posterior, double difficulty) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new HandOutRules
        {
            UnknownsPerStudent = unknowns,
            LeastPosterior = posterior,
            LargestDifficulty = difficulty,
        }.Check());

    private static string Student(int number) => $"s{number:000}";

    private static Roster Bench(int students) =>
        new(Enumerable.Range(1, students).Select(place => new Seat(Student(place), $"{place / 10}", place % 10)));

    private static HandOut Identity(Roster roster, int unknowns, int compounds, string seed, string[]? kinds = null)
    {
        var laboratory = TeachingTable.Laboratory(compounds);
        var result = HandOutDraw.Draw(
            roster,
            kinds is null ? laboratory : laboratory with { KindKeys = kinds },
            new HandOutRules { UnknownsPerStudent = unknowns, HandsOutUnidentifiable = kinds is not null },
            new HandOutSeed(seed, TeachingTable.Secret),
            TeachingTable.Many, TestContext.Current.CancellationToken);
        Assert.Null(result.Refusal);
        return result.HandOut!;
    }

    private static HandOutRefusal Refused(Roster roster, int unknowns, int compounds)
    {
        var result = HandOutDraw.Draw(
            roster,
            TeachingTable.Laboratory(compounds),
            new HandOutRules { UnknownsPerStudent = unknowns },
            new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret),
            TeachingTable.Many, TestContext.Current.CancellationToken);
        Assert.Null(result.HandOut);
        return result.Refusal!;
    }
}
