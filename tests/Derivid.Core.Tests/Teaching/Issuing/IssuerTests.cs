using CsCheck;
using Derivid.Core.Teaching.Issuing;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching.Issuing;

public sealed class IssuerTests
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
                var issuance = Issued(roster, given.Unknowns, given.Compounds, given.Seed);

                var byStudent = issuance.Unknowns.ToLookup(unknown => unknown.StudentKey, unknown => unknown.ParentKey);
                for (var student = 0; student < 500; student++)
                {
                    var own = byStudent[roster.Seats[student].StudentKey].ToList();
                    Assert.Equal(given.Unknowns, own.Distinct().Count());
                    Assert.All(
                        roster.NeighboursOf(student),
                        other => Assert.Empty(own.Intersect(byStudent[roster.Seats[other].StudentKey])));
                }

                Assert.Equal(500 * given.Unknowns, issuance.Unknowns.Select(unknown => unknown.Code.Text).Distinct().Count());
                Assert.InRange(issuance.Uses.Values.Max() - issuance.Uses.Values.Min(), 0, 1);
                Assert.Equal(500 * given.Unknowns, issuance.Uses.Values.Sum());
            },
            iter: 25);

    [Fact]
    public void SameSeedGivesTheSameIssueInWhateverOrderTheListsCome() =>
        AnyClass.Sample(
            given =>
            {
                var first = Issued(new Roster(given.Seats, given.Pairs), given.Unknowns, given.Compounds, given.Seed);
                var second = Issuer.Issue(
                    new Roster(given.Seats.Reverse(), given.Pairs.Reverse()),
                    new Laboratory
                    {
                        ShelfKeys = [.. TeachingTable.Shelf(given.Compounds).Reverse()],
                        KindKeys = [TestTable.Semicarbazone, TestTable.Dnph],
                    },
                    new IssuingRules { UnknownsPerStudent = given.Unknowns },
                    new IssuingSeed(given.Seed),
                    TeachingTable.Many).Issuance!;

                Assert.Equal(first.Unknowns, second.Unknowns);
                Assert.NotEqual(
                    first.Unknowns.Select(unknown => unknown.ParentKey),
                    Issued(new Roster(given.Seats, given.Pairs), given.Unknowns, given.Compounds, given.Seed + ".")
                        .Unknowns.Select(unknown => unknown.ParentKey));
            },
            iter: 8);

    [Fact]
    public void CodesDoNotDependOnWhatIsInside()
    {
        var roster = Bench(40);

        var wide = Issued(roster, 1, 24, TeachingTable.Seed).Unknowns;
        var narrow = Issued(roster, 1, 8, TeachingTable.Seed).Unknowns;

        Assert.Equal(wide.Select(unknown => unknown.Code), narrow.Select(unknown => unknown.Code));
        Assert.NotEqual(wide.Select(unknown => unknown.ParentKey), narrow.Select(unknown => unknown.ParentKey));
    }

    [Fact]
    public void EveryStudentOfTwoUnknownsGetsAnEasyAndAHardOne()
    {
        var issuance = Issuer.Issue(
            Bench(60),
            TeachingTable.Laboratory(24) with { KindKeys = [TestTable.Dnph] },
            new IssuingRules { UnknownsPerStudent = 2, IssuesUnidentifiable = true },
            new IssuingSeed(TeachingTable.Seed),
            TeachingTable.Uneven).Issuance!;

        var difficulty = issuance.Shelf.ToDictionary(item => item.ParentKey, item => item.Difficulty);
        Assert.True(difficulty["ketone-05"] < 0.2 && difficulty["ketone-15"] > 0.3);
        Assert.All(
            issuance.Unknowns.GroupBy(unknown => unknown.StudentKey),
            own => Assert.Single(own, unknown => difficulty[unknown.ParentKey] > 0.3));
        Assert.Equal(5, Assert.Single(issuance.Uses.Values.Distinct()));
    }

    [Fact]
    public void CompoundsThatCannotBeToldApartAreLeftOutOrFlagged()
    {
        var laboratory = new Laboratory
        {
            ShelfKeys = ["propanone", "pinacolone", "pentan-3-one", "acetophenone"],
            KindKeys = [TestTable.Dnph],
        };

        var left = Issuer.Issue(Bench(10), laboratory, new IssuingRules(), new IssuingSeed(TeachingTable.Seed), TeachingTable.Five).Issuance!;
        var flagged = Issuer.Issue(
            Bench(10),
            laboratory,
            new IssuingRules { IssuesUnidentifiable = true },
            new IssuingSeed(TeachingTable.Seed),
            TeachingTable.Five).Issuance!;

        Assert.Equal(["pinacolone", "propanone"], left.LeftOut);
        Assert.Equal(["acetophenone", "pentan-3-one"], left.Uses.Keys.Order());
        Assert.Empty(flagged.LeftOut);
        Assert.Equal(4, flagged.Uses.Count);
        Assert.Equal(2, flagged.Remarks.Count(remark => remark.Contains("cannot be told from", StringComparison.Ordinal)));
    }

    [Fact]
    public void TwoCompoundsServeABenchButNotThreeStudentsRoundATable()
    {
        var bench = Issued(Bench(9), 1, 2, TeachingTable.Seed);
        var refusal = Refused(
            new Roster(
                [new Seat("a"), new Seat("b"), new Seat("c"), new Seat("d")],
                [new NeighbourPair("a", "b"), new NeighbourPair("b", "c"), new NeighbourPair("c", "a")]),
            1,
            2);

        Assert.Equal([4, 5], bench.Uses.Values.Order());
        Assert.Equal(IssuingConstraint.Neighbours, refusal.Constraint);
        Assert.Contains("a, b, c are all neighbours of each other and need 3 different compounds", refusal.Sentence, StringComparison.Ordinal);
        Assert.Contains("Have 3 compounds to issue", refusal.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void RingOfFiveNeedsThreeCompoundsAndTheProofIsComplete()
    {
        // An odd ring has no three students who are all neighbours, and still cannot do with two compounds.
        string[] ring = ["a", "b", "c", "d", "e"];
        var roster = new Roster(
            ring.Select(key => new Seat(key)), ring.Select((key, i) => new NeighbourPair(key, ring[(i + 1) % 5])));

        var refusal = Refused(roster, 1, 2);

        Assert.Contains("so closely neighboured that no way exists", refusal.Sentence, StringComparison.Ordinal);
        Assert.Contains("Have 3 compounds", refusal.Remedy, StringComparison.Ordinal);
        Assert.Equal([1, 2, 2], Issued(roster, 1, 3, TeachingTable.Seed).Uses.Values.Order());
    }

    [Fact]
    public void ShelfTooShortOrUnidentifiableIsRefusedWithTheRemedy()
    {
        var tooShort = Refused(Bench(3), 3, 2);
        var alike = Issuer.Issue(
            Bench(3),
            new Laboratory { ShelfKeys = ["propanone", "pinacolone"], KindKeys = [TestTable.Dnph] },
            new IssuingRules(),
            new IssuingSeed(TeachingTable.Seed),
            TeachingTable.Five).Refusal!;

        Assert.Equal(IssuingConstraint.EnoughCompounds, tooShort.Constraint);
        Assert.Contains("3 different unknowns a student are asked for, and 2 of the 2", tooShort.Sentence, StringComparison.Ordinal);
        Assert.Equal(IssuingConstraint.Identifiable, alike.Constraint);
        Assert.Contains("Offering the semicarbazone would settle it", alike.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void HardCompoundsCanBeKeptOut()
    {
        var all = Issued(Bench(10), 1, 24, TeachingTable.Seed, kinds: [TestTable.Dnph]);
        var limit = all.Shelf.Select(item => item.Difficulty).Order().ElementAt(5);

        var easy = Issuer.Issue(
            Bench(10),
            TeachingTable.Laboratory(24) with { KindKeys = [TestTable.Dnph] },
            new IssuingRules { LargestDifficulty = limit },
            new IssuingSeed(TeachingTable.Seed),
            TeachingTable.Many).Issuance!;

        Assert.Equal(6, easy.Uses.Count);
        Assert.Contains(easy.Remarks, remark => remark.Contains("its difficulty is", StringComparison.Ordinal));
    }

    [Fact]
    public void AnswersStayOutOfText()
    {
        var unknown = Issued(Bench(1), 1, 1, TeachingTable.Seed).Unknowns[0];

        Assert.DoesNotContain("ketone", unknown.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, 0.8, 1)]
    [InlineData(5, 0.8, 1)]
    [InlineData(1, double.NaN, 1)]
    [InlineData(1, 0.8, 1.1)]
    public void RulesOutOfBoundsAreRefused(int unknowns, double posterior, double difficulty) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new IssuingRules
        {
            UnknownsPerStudent = unknowns,
            LeastPosterior = posterior,
            LargestDifficulty = difficulty,
        }.Check());

    private static string Student(int number) => $"s{number:000}";

    private static Roster Bench(int students) =>
        new(Enumerable.Range(1, students).Select(place => new Seat(Student(place), $"{place / 10}", place % 10)));

    private static Issuance Issued(Roster roster, int unknowns, int compounds, string seed, string[]? kinds = null)
    {
        var laboratory = TeachingTable.Laboratory(compounds);
        var result = Issuer.Issue(
            roster,
            kinds is null ? laboratory : laboratory with { KindKeys = kinds },
            new IssuingRules { UnknownsPerStudent = unknowns, IssuesUnidentifiable = kinds is not null },
            new IssuingSeed(seed),
            TeachingTable.Many);
        Assert.Null(result.Refusal);
        return result.Issuance!;
    }

    private static IssuingRefusal Refused(Roster roster, int unknowns, int compounds)
    {
        var result = Issuer.Issue(
            roster,
            TeachingTable.Laboratory(compounds),
            new IssuingRules { UnknownsPerStudent = unknowns },
            new IssuingSeed(TeachingTable.Seed),
            TeachingTable.Many);
        Assert.Null(result.Issuance);
        return result.Refusal!;
    }
}
