using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Core.Tests.Teaching.HandOuts;

public sealed class RosterTests
{
    [Fact]
    public void PlacesBesideEachOtherAndPairsMakeNeighbours()
    {
        var roster = new Roster(
            [new Seat("d"), new Seat("c", "1", 4), new Seat("b", "1", 2), new Seat("a", "1", 1), new Seat("e", "2", 3)],
            [new NeighbourPair("d", "a"), new NeighbourPair("a", "b")]);

        Assert.Equal(["a", "b", "c", "d", "e"], roster.Seats.Select(seat => seat.StudentKey));
        Assert.Equal([1, 3], roster.NeighboursOf(0));
        Assert.Equal([0], roster.NeighboursOf(1));
        Assert.Empty(roster.NeighboursOf(2));
        Assert.Equal([0], roster.NeighboursOf(3));
        Assert.Empty(roster.NeighboursOf(4));
    }

    [Fact]
    public void BadRostersAreRefusedByName()
    {
        Refused("1 to 2000 students", []);
        Refused("'a' is in the roster twice", [new Seat("a"), new Seat("a", "1", 1)]);
        Refused("Place 1 of bench '1' is given to 'a' and 'b'", [new Seat("a", "1", 1), new Seat("b", "1", 1)]);
        Refused("'a' has place 3 but no bench", [new Seat("a", null, 3)]);
        Refused("1 to 64 characters", [new Seat("")]);
        Refused("no control characters", [new Seat("a\nb")]);
        Refused("'z', who is not in the roster", [new Seat("a")], new NeighbourPair("a", "z"));
        Refused("names student 'a' twice", [new Seat("a")], new NeighbourPair("a", "a"));
    }

    private static void Refused(string reason, Seat[] seats, params NeighbourPair[] pairs) =>
        Assert.Contains(
            reason, Assert.Throws<ArgumentException>(() => new Roster(seats, pairs)).Message, StringComparison.Ordinal);
}
