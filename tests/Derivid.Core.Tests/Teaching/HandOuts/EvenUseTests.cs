using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Core.Tests.Teaching.HandOuts;

/// <summary>Every compound is used as often as every other, as far as neighbours allow.</summary>
public sealed class EvenUseTests
{
    [Fact]
    public void TwoBenchesOfThreeUseTwoCompoundsThreeTimesEachWhateverTheSeed()
    {
        // A bench of three takes 2 and 1; which way round the second must take them depends on the first.
        var seats = Seats("left", 3).Concat(Seats("right", 3));

        for (var seed = 0; seed < 40; seed++)
        {
            Assert.Equal([3, 3], Uses(new Roster(seats), 2, seed));
        }
    }

    [Fact]
    public void BenchesOfUnevenLengthAreEvenedOutTogether()
    {
        // 5 + 3 + 3 + 1 seats: 3 and 2, 2 and 1, 2 and 1, 1 and 0 can add up to 6 and 6 only with two benches turned round.
        var seats = Seats("a", 5).Concat(Seats("b", 3)).Concat(Seats("c", 3)).Concat(Seats("d", 1));

        for (var seed = 0; seed < 40; seed++)
        {
            Assert.Equal([6, 6], Uses(new Roster(seats), 2, seed));
        }
    }

    [Fact]
    public void StudentsWithoutNeighboursMakeUpForAStarOfThem()
    {
        // The star takes 1 and 5, the pair 1 and 1: only if all four who sit alone take what is in the middle of the star do
        // both compounds come to 6, whoever was served first.
        var students = Enumerable.Range(0, 12).Select(i => new Seat($"s{i:00}"));
        var roster = new Roster(
            students,
            [.. Enumerable.Range(1, 5).Select(i => new NeighbourPair("s00", $"s{i:00}")), new NeighbourPair("s06", "s07")]);

        for (var seed = 0; seed < 40; seed++)
        {
            Assert.Equal([6, 6], Uses(roster, 2, seed));
        }
    }

    [Fact]
    public void StarOfNeighboursCannotBeEvenAndTheRemarkSaysSo()
    {
        // One student sits between five others: with two compounds, 1 and 5 is all there is.
        var roster = new Roster(
            Enumerable.Range(0, 6).Select(i => new Seat($"s{i}")),
            Enumerable.Range(1, 5).Select(i => new NeighbourPair("s0", $"s{i}")));

        var handOut = Draw(roster, 2, 0);

        Assert.Equal([1, 5], handOut.Uses.Values.Order());
        Assert.Contains(
            "Neighbours could only be kept apart by using one compound 5 times and another 1 times.", handOut.Remarks);
        Assert.Empty(Draw(new Roster(Seats("a", 6)), 2, 0).Remarks);
    }

    private static IEnumerable<Seat> Seats(string bench, int count) =>
        Enumerable.Range(1, count).Select(place => new Seat($"{bench}{place}", bench, place));

    private static IEnumerable<int> Uses(Roster roster, int compounds, int seed) =>
        Draw(roster, compounds, seed).Uses.Values.Order();

    private static HandOut Draw(Roster roster, int compounds, int seed) =>
        HandOutDraw.Draw(
            roster,
            TeachingTable.Laboratory(compounds),
            new HandOutRules(),
            new HandOutSeed($"{TeachingTable.Seed} {seed}", TeachingTable.Secret),
            TeachingTable.Many, TestContext.Current.CancellationToken).HandOut!;
}
