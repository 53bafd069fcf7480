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

    // Of many hand-outs: the surprise left in a student's second unknown for whoever knows the first.
    [Fact]
    public void OneUnknownTellsLittleOfTheOther()
    {
        const int Compounds = 24;
        var pairs = new Dictionary<(string, string), int>();
        var firsts = new Dictionary<string, int>();
        var widest = 0.0;
        for (var seed = 0; seed < 200; seed++)
        {
            var handOut = HandOutDraw.Draw(
                new Roster(Enumerable.Range(0, 24).Select(i => new Seat($"s{i:00}", $"bench {i / 6}", i % 6))),
                TeachingTable.Laboratory(Compounds) with { KindKeys = [TestTable.Dnph] },
                new HandOutRules { UnknownsPerStudent = 2, HandsOutUnidentifiable = true },
                new HandOutSeed($"{TeachingTable.Seed} {seed}", TeachingTable.Secret),
                TeachingTable.Uneven, TestContext.Current.CancellationToken).HandOut!;
            widest = Math.Max(widest, handOut.HardestTotal - handOut.EasiestTotal);
            foreach (var own in handOut.Unknowns.GroupBy(unknown => unknown.StudentKey))
            {
                var keys = own.OrderBy(unknown => unknown.Number).Select(unknown => unknown.ParentKey).ToList();
                pairs[(keys[0], keys[1])] = pairs.GetValueOrDefault((keys[0], keys[1])) + 1;
                firsts[keys[0]] = firsts.GetValueOrDefault(keys[0]) + 1;
            }
        }

        var all = (double)pairs.Values.Sum();
        var bits = pairs.Sum(pair => -pair.Value / all * Math.Log2((double)pair.Value / firsts[pair.Key.Item1]));
        var most = Math.Log2(firsts.Count - 1);
        Assert.True(bits > most / 2, $"Only {bits:0.00} of {most:0.00} bits are left in the second unknown.");
        Assert.True(widest < 0.2, $"Totals differ by {widest:0.00}.");
    }

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
                var difficulty = handOut.Shelf.ToDictionary(item => item.ParentKey, item => Math.Round(item.Difficulty, 3));
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

                // As the class states it: squared excesses over what is allowed, of students' totals and of the means of benches.
                double Unevenness(string[] held)
                {
                    var slots = held.Select((key, slot) => (Key: key, Difficulty: difficulty[key], Seat: SeatOf(slot))).ToList();
                    var mean = slots.Average(slot => slot.Difficulty);
                    var most = difficulty.Max(own => Allowed([own.Key], own.Value + ((given.Unknowns - 2) * mean), mean));
                    var farthest = difficulty.Values.Max(own => Math.Abs(own - mean));
                    return slots.GroupBy(slot => slot.Seat.StudentKey)
                            .Sum(own => SquaredExcess(
                                own.Sum(slot => slot.Difficulty - mean),
                                own.Max(slot => Allowed(
                                    own.Select(other => other.Key).Where(key => key != slot.Key),
                                    own.Sum(other => other.Difficulty) - slot.Difficulty,
                                    mean))))
                        + slots.GroupBy(slot => slot.Seat.Bench)
                            .Sum(bench => bench.Count() * SquaredExcess(
                                bench.Average(slot => slot.Difficulty) - mean, Math.Max(0.1, Math.Max(most, farthest) / bench.Count())));
                }

                // A tenth, or as far as the nearest half of the compounds take a student that they do not hold.
                double Allowed(IEnumerable<string> held, double others, double mean)
                {
                    var choice = difficulty.ExceptBy(held, pair => pair.Key)
                        .Select(pair => Math.Abs(pair.Value + others - (given.Unknowns * mean))).Order().ToList();
                    return Math.Max(0.1, choice[(int)Math.Ceiling(choice.Count / 2.0) - 1]);
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

    private static double SquaredExcess(double departure, double allowed) => Math.Pow(Math.Max(0, Math.Abs(departure) - allowed), 2);
}
