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
    public void BenchesStandAsTheyAreCounted()
    {
        string?[] benches = [null, "", "B", "B1", "B3", "B03", "B10", "B10 left", "B11", "B99999999999999999998", "B99999999999999999999", "b2", "window"];

        Assert.Equal(benches, benches.Reverse().Order(BenchOrder.Instance));
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

    // a and d are one group, b and e another, c is alone. Along the bench a-b-c and d-e; d sees c as well. So the first group, under a, works beside
    // the second, by a and b and by d and e, and beside c by d; the second, under b, beside c by b.
    [Fact]
    public void GroupWorksBesideWhoeverOneOfItsMembersWorksBeside()
    {
        var roster = new Roster(
            [new Seat("a", "1", 1, "X"), new Seat("b", "1", 2, "Y"), new Seat("c", "1", 3), new Seat("d", "1", 5, "X"), new Seat("e", "1", 6, "Y")],
            [new NeighbourPair("d", "c")]);

        var grouped = roster.ByGroup();

        Assert.Equal(["a", "b", "c"], grouped.Seats.Select(seat => seat.StudentKey));
        Assert.Equal([1, 2], grouped.NeighboursOf(0));
        Assert.Equal([0, 2], grouped.NeighboursOf(1));
        Assert.Equal([0, 1], grouped.NeighboursOf(2));
        Assert.Equal(["a", "d"], roster.MembersWith("a"));
        Assert.Equal(["b", "e"], roster.MembersWith("e"));
        Assert.Equal(["c"], roster.MembersWith("c"));
    }

    // Members beside each other are no neighbours: they share what is in the vial.
    [Fact]
    public void MembersOfAGroupAreNoNeighboursOfThemselves()
    {
        var grouped = new Roster([new Seat("a", "1", 1, "X"), new Seat("b", "1", 2, "X"), new Seat("c", "2", 1, "Z")], [new NeighbourPair("b", "a")]).ByGroup();

        Assert.Equal(["a", "c"], grouped.Seats.Select(seat => seat.StudentKey));
        Assert.Empty(grouped.NeighboursOf(0));
    }

    [Fact]
    public void RosterWithoutSharedGroupsIsHandedOutByAsItIs()
    {
        var roster = new Roster([new Seat("a", "1", 1, "X"), new Seat("b", "1", 2)]);

        Assert.Same(roster, roster.ByGroup());
    }

    private static void Refused(string reason, Seat[] seats, params NeighbourPair[] pairs) =>
        Assert.Contains(
            reason, Assert.Throws<ArgumentException>(() => new Roster(seats, pairs)).Message, StringComparison.Ordinal);
}
