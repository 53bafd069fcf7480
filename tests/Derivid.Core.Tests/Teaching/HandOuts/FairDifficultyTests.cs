using CsCheck;
using Derivid.Core.Ranking;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching.HandOuts;

/// <summary>Difficulty is spread over students and benches as evenly as exchanges can make it.</summary>
public sealed class FairDifficultyTests
{
    /// <summary>Six ketones of which the first are the harder to tell apart. Values invented.</summary>
    private static readonly TableSnapshot Rising = TestTable.Snapshot(
        ("a", "CC(C)=O", [100], []), ("b", "CCC(C)=O", [103], []), ("c", "CCCC(C)=O", [109], []),
        ("d", "CCCCC(C)=O", [118], []), ("e", "CCCCCC(C)=O", [150], []), ("f", "CCCCCCC(C)=O", [220], []));

    private static readonly Gen<(Seat[] Seats, int Unknowns, int Seed)> AnyClass =
        from students in Gen.Int[4, 10]
        from perBench in Gen.Int[2, 5]
        from apart in Gen.Int[1, 2]
        from unknowns in Gen.Int[1, 3]
        from seed in Gen.Int[0, 999]
        select (
            Enumerable.Range(0, students)
                .Select(i => new Seat($"s{i:00}", $"bench {i / perBench}", (i % perBench) * apart)).ToArray(),
            unknowns,
            seed);

    [Fact]
    public void NoExchangeOfTwoUnknownsCouldSpreadDifficultyBetter() =>
        AnyClass.Sample(
            given =>
            {
                var roster = new Roster(given.Seats);
                var handOut = HandOutDraw.Draw(
                    roster,
                    new Laboratory { ShelfKeys = ["a", "b", "c", "d", "e", "f"], KindKeys = [TestTable.Dnph] },
                    new HandOutRules { UnknownsPerStudent = given.Unknowns, LeastPosterior = 0 },
                    new HandOutSeed($"{TeachingTable.Seed} {given.Seed}", TeachingTable.Secret),
                    Rising, TestContext.Current.CancellationToken).HandOut!;
                var difficulty = handOut.Shelf.ToDictionary(item => item.ParentKey, item => item.Difficulty);
                var compounds = handOut.Unknowns.Select(unknown => unknown.ParentKey).ToArray();
                var least = Unevenness(compounds);

                for (var first = 0; first < compounds.Length; first++)
                {
                    for (var second = first + 1; second < compounds.Length; second++)
                    {
                        var exchanged = compounds.ToArray();
                        (exchanged[first], exchanged[second]) = (compounds[second], compounds[first]);
                        Assert.True(
                            !IsAllowed(exchanged) || Unevenness(exchanged) > least - 1e-6,
                            $"{compounds[first]} of slot {first} for {compounds[second]} of slot {second}");
                    }
                }

                // As the class states it: squared departures from the mean, of students and of the means of benches.
                double Unevenness(string[] given)
                {
                    var slots = given.Select((key, slot) => (Difficulty: difficulty[key], Seat: SeatOf(slot))).ToList();
                    var mean = slots.Average(slot => slot.Difficulty);
                    return slots.GroupBy(slot => slot.Seat.StudentKey)
                            .Sum(own => Square(own.Sum(slot => slot.Difficulty) - (own.Count() * mean)))
                        + slots.GroupBy(slot => slot.Seat.Bench)
                            .Sum(bench => bench.Count() * Square(bench.Average(slot => slot.Difficulty) - mean));
                }

                bool IsAllowed(string[] compounds) =>
                    Enumerable.Range(0, roster.Seats.Count).All(student =>
                        Own(compounds, student).Distinct().Count() == given.Unknowns
                        && roster.NeighboursOf(student).All(other =>
                            !Own(compounds, student).Intersect(Own(compounds, other)).Any()));

                IEnumerable<string> Own(string[] compounds, int student) =>
                    compounds.Skip(student * given.Unknowns).Take(given.Unknowns);

                Seat SeatOf(int slot) => roster.Seats[slot / given.Unknowns];
            },
            iter: Check.Iter / 2);

    private static double Square(double value) => value * value;
}
