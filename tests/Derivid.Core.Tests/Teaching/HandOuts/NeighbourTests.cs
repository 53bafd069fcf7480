using CsCheck;
using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Core.Tests.Teaching.HandOuts;

/// <summary>Who must differ from whom: what can be served is served, and what cannot is refused with the reason.</summary>
public sealed class NeighbourTests
{
    private static readonly Gen<(Roster Roster, int Unknowns, int Compounds)> AnyCrowd =
        from unknowns in Gen.Int[1, 2]
        from students in Gen.Int[3, unknowns == 1 ? 10 : 4]
        from beside in Gen.Int[0, 99].Array[45]
        from percent in Gen.Int[20, 80]
        from more in Gen.Int[0, 3]
        select (Crowd(students, Pairs(students).Where((_, i) => beside[i] < percent)), unknowns, unknowns + more);

    [Fact]
    public void CrowdIsServedIfAnyWayExistsAndElseToldHowManyCompoundsItNeeds() =>
        AnyCrowd.Sample(
            given =>
            {
                var result = Draw(given.Roster, given.Compounds, given.Unknowns);

                if (result.HandOut is { } handOut)
                {
                    AssertNeighboursDiffer(given.Roster, handOut);
                    return;
                }

                var enough = Enumerable.Range(given.Compounds, 20)
                    .First(compounds => CanBeServed(given.Roster, given.Unknowns, compounds));
                Assert.NotEqual(given.Compounds, enough);
                Assert.StartsWith($"Have {enough} compounds to hand out", result.Refusal!.Remedy, StringComparison.Ordinal);
            },
            iter: 2 * Check.Iter);

    [Fact]
    public void NoExchangeOfAChainCouldMakeTheUsesEvener() =>
        AnyCrowd.Sample(
            given =>
            {
                if (given.Unknowns > 1 || Draw(given.Roster, given.Compounds, 1).HandOut is not { } handOut)
                {
                    return;
                }

                var compound = handOut.Unknowns.Select(unknown => unknown.ParentKey).ToArray();
                foreach (var (much, little) in
                    from much in handOut.Uses.Keys from little in handOut.Uses.Keys select (much, little))
                {
                    var gap = handOut.Uses[much] - handOut.Uses[little];
                    foreach (var chain in Chains(given.Roster, student => compound[student] == much || compound[student] == little))
                    {
                        // Exchanged, a chain with e more of the one than of the other makes the gap |gap − 2e|.
                        var excess = chain.Sum(student => compound[student] == much ? 1 : -1);
                        Assert.False(gap >= 2 && Math.Abs(gap - (2 * excess)) < gap, $"{much} and {little}");
                    }
                }
            },
            iter: 2 * Check.Iter);

    [Fact]
    public void CrowdWithoutThreeMutualNeighboursCanStillNeedFourCompounds()
    {
        // Source: Mycielski, J. Sur le coloriage des graphes. Colloq. Math. 1955, 3, 161–162: from a ring of five, a graph of
        // eleven without triangles that three colours do not do for, four do.
        var eleven = Crowd(11, Mycielski(5, Ring(5)));

        var refusal = Draw(Beside(eleven, "x", "y"), 3).Refusal!;

        Assert.Equal(HandOutConstraint.Neighbours, refusal.Constraint);
        Assert.Equal(
            "No neighbours may share a compound, but s00, s01, s02, s03, s04, s05, s06, s07, s08, s09, s10 are so closely neighboured that no way exists; 3 can be handed out.",
            refusal.Sentence);
        Assert.StartsWith("Have 4 compounds", refusal.Remedy, StringComparison.Ordinal);
        Assert.StartsWith("Have 4 compounds", Draw(eleven, 2).Refusal!.Remedy, StringComparison.Ordinal);
        AssertNeighboursDiffer(eleven, Draw(eleven, 4).HandOut!);
    }

    [Fact]
    public void SearchThatGivesUpSaysThatItDidAndNotThatNoWayExists()
    {
        // The same step thrice from the ring of five: 47 students, six compounds needed, and far too many ways to try all.
        var crowd = Crowd(47, Mycielski(23, Mycielski(11, Mycielski(5, Ring(5)))));

        var refusal = Draw(crowd, 5).Refusal!;

        Assert.Contains(
            "s10, s11 and 35 more are so closely neighboured that no way was found in 50000 attempts; 5 can",
            refusal.Sentence,
            StringComparison.Ordinal);
        Assert.StartsWith("Have 6 compounds", refusal.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void RefusalNamesThoseWhoAreAllNeighboursOfEachOtherAndNobodyElse()
    {
        // Four round a table among others: with three compounds it is they who cannot be served.
        var roster = Beside(
            Crowd(7, Pairs(7).Where(pair => pair.Second is 5 or 6 ? pair.First == pair.Second - 1 : pair.First > 0)), "x", "y");

        var refusal = Draw(roster, 3).Refusal!;

        Assert.Equal(
            "No neighbours may share a compound, but s01, s02, s03, s04 are all neighbours of each other and need 4 different compounds between them; 3 can be handed out.",
            refusal.Sentence);
    }

    [Fact]
    public void NeighbourOfOneOfThemHasNoPartInTheRefusal()
    {
        // Four round a table, each with one more neighbour behind: two compounds would do for those.
        var roster = Crowd(8, [.. Pairs(4), .. Enumerable.Range(0, 4).Select(i => (i, i + 4))]);

        Assert.StartsWith(
            "No neighbours may share a compound, but s00, s01, s02, s03 are all neighbours of each other",
            Draw(roster, 3).Refusal!.Sentence,
            StringComparison.Ordinal);
    }

    [Fact]
    public void LargestClassTooCloselySeatedIsRefusedByName()
    {
        // The whole of it where properties are tried on their usual cases.
        var students = (int)(Roster.LargestCount * Check.Iter / 100);
        using var soon = new CancellationTokenSource(TimeSpan.FromMilliseconds(100 * Check.Iter));
        var roster = Crowd(students, Enumerable.Range(0, students)
            .SelectMany(i => Enumerable.Range(1, 25).Select(step => (i, (i + step) % students))));

        var refusal = DrawUntil(roster, 24, 4, soon.Token).Refusal!;

        Assert.StartsWith("No neighbours may share a compound, but s", refusal.Sentence, StringComparison.Ordinal);
        Assert.EndsWith(
            "are all neighbours of each other and need 104 different compounds between them; 24 can be handed out.",
            refusal.Sentence,
            StringComparison.Ordinal);
    }

    [Fact]
    public void DrawThatIsStoppedNamesThoseWithMostNeighbours()
    {
        var refusal = DrawUntil(Crowd(5, [(0, 1), (1, 2), (1, 3), (3, 4), (3, 2)]), 4, 1, new CancellationToken(canceled: true)).Refusal!;

        Assert.Equal(HandOutConstraint.Neighbours, refusal.Constraint);
        Assert.Equal(
            "It took too long to work out unknowns for 5 students, 1 each, from a shelf of 4; most neighbours, 3, have s01, s03.",
            refusal.Sentence);
    }

    [Fact]
    public void TwelveStudentsAreAllNamed()
    {
        var refusal = Draw(Crowd(12, Pairs(12)), 11).Refusal!;

        Assert.Contains("s09, s10, s11 are all neighbours", refusal.Sentence, StringComparison.Ordinal);
    }

    private static string Student(int number) => $"s{number:00}";

    private static Roster Crowd(int students, IEnumerable<(int First, int Second)> beside) =>
        new(
            Enumerable.Range(0, students).Select(i => new Seat(Student(i))),
            beside.Select(pair => new NeighbourPair(Student(pair.First), Student(pair.Second))));

    /// <summary>The crowd, and two who sit beside each other and nobody else.</summary>
    private static Roster Beside(Roster crowd, string first, string second) =>
        new(
            [.. crowd.Seats, new Seat(first), new Seat(second)],
            [
                .. from one in Enumerable.Range(0, crowd.Seats.Count)
                   from other in crowd.NeighboursOf(one)
                   select new NeighbourPair(Student(one), Student(other)),
                new NeighbourPair(first, second),
            ]);

    private static IEnumerable<(int First, int Second)> Pairs(int students) =>
        from first in Enumerable.Range(0, students)
        from second in Enumerable.Range(first + 1, students - first - 1)
        select (first, second);

    private static List<(int First, int Second)> Ring(int students) =>
        [.. Enumerable.Range(0, students).Select(i => (i, (i + 1) % students))];

    /// <summary>A twin of each, beside the neighbours of the one it is twin to, and one more beside all twins.</summary>
    private static List<(int First, int Second)> Mycielski(int students, List<(int First, int Second)> beside) =>
    [
        .. beside,
        .. beside.Select(pair => (pair.First, pair.Second + students)),
        .. beside.Select(pair => (pair.Second, pair.First + students)),
        .. Enumerable.Range(0, students).Select(i => (i + students, 2 * students)),
    ];

    private static void AssertNeighboursDiffer(Roster roster, HandOut handOut)
    {
        var own = handOut.Unknowns.ToLookup(unknown => unknown.StudentKey, unknown => unknown.ParentKey);
        for (var student = 0; student < roster.Seats.Count; student++)
        {
            var mine = own[roster.Seats[student].StudentKey].ToList();
            Assert.Distinct(mine);
            Assert.All(
                roster.NeighboursOf(student),
                other => Assert.Empty(mine.Intersect(own[roster.Seats[other].StudentKey])));
        }
    }

    /// <summary>Tries every way; which of the compounds not yet used comes next makes no difference.</summary>
    private static bool CanBeServed(Roster roster, int unknowns, int compounds)
    {
        var given = new int[roster.Seats.Count * unknowns];
        return From(0, 0);

        bool From(int slot, int used)
        {
            return slot == given.Length || Enumerable.Range(0, Math.Min(used + 1, compounds)).Any(compound =>
            {
                given[slot] = compound;
                return Enumerable.Range(0, slot).All(earlier => given[earlier] != compound || !MustDiffer(earlier, slot))
                    && From(slot + 1, Math.Max(used, compound + 1));
            });
        }

        bool MustDiffer(int one, int other) =>
            one / unknowns == other / unknowns || roster.NeighboursOf(one / unknowns).Contains(other / unknowns);
    }

    /// <summary>Students of whom something is true, in sets that hang together by neighbours of whom it is true too.</summary>
    private static IEnumerable<HashSet<int>> Chains(Roster roster, Func<int, bool> holds)
    {
        var left = Enumerable.Range(0, roster.Seats.Count).Where(holds).ToHashSet();
        while (left.Count > 0)
        {
            HashSet<int> chain = [left.First()];
            while (left.Where(student => !chain.Contains(student) && roster.NeighboursOf(student).Any(chain.Contains)).ToList() is { Count: > 0 } next)
            {
                chain.UnionWith(next);
            }

            left.ExceptWith(chain);
            yield return chain;
        }
    }

    /// <summary>A draw of compounds that nothing need tell apart.</summary>
    private static HandOutResult Draw(Roster roster, int compounds, int unknowns = 1) =>
        DrawUntil(roster, compounds, unknowns, TestContext.Current.CancellationToken);

    private static HandOutResult DrawUntil(Roster roster, int compounds, int unknowns, CancellationToken stop) =>
        HandOutDraw.Draw(
            roster,
            new Laboratory { ShelfKeys = TeachingTable.Shelf(compounds) },
            new HandOutRules { UnknownsPerStudent = unknowns, LeastPosterior = 0 },
            new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret),
            TeachingTable.Many,
            stop);
}
