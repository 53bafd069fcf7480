using Derivid.Core.Teaching.Grading;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching.Grading;

/// <summary>What an instructor is told of points that can't be earned.</summary>
public sealed class ReachTests
{
    private static readonly Laboratory Laboratory = new()
    {
        ShelfKeys = ["alpha", "beta", "delta", "gamma"],
        KindKeys = [TestTable.Dnph],
        SpotTestKeys = ["iodoform"],
    };

    private static readonly Rubric Rubric = Rubric.Usual;

    [Fact]
    public void WhatCannotBeEarnedOfWhichCompoundsIsToldWithWhatToChange() =>
        Assert.Equal(
            [
                "No derivative of the course has a melting range listed for delta, gamma: there the 10 points for derivatives count neither way. Offer another derivative as well, such as semicarbazone (listed for 1), or take them off the shelf.",
                "The rubric expects 2 spot tests and the course offers 1: only as many are expected. Offer more, or expect fewer.",
            ],
            Of(Laboratory));

    [Fact]
    public void KindWithNothingListedForSomeOfTheShelfIsNamed() =>
        Assert.Equal(
            [
                "No derivative of the course has a melting range listed for gamma: there the 10 points for derivatives count neither way. Take it off the shelf.",
                "2-4-dinitrophenylhydrazone has no melting range listed for delta: made of that, it counts neither way, and who makes nothing else earns none of the 10 points for derivatives. Have another made too, or leave it out of the course.",
                "semicarbazone has no melting range listed for beta: made of that, it counts neither way, and who makes nothing else earns none of the 10 points for derivatives. Have another made too, or leave it out of the course.",
                "The rubric expects 2 derivatives, and of fewer a melting range is listed for beta, delta: only as many are expected there. Offer more derivatives, or expect fewer.",
            ],
            Of(
                Laboratory with { KindKeys = [TestTable.Dnph, TestTable.Semicarbazone], SpotTestKeys = ["iodoform", "tollens"] },
                Rubric with { ExpectedDerivatives = 2 }));

    [Fact]
    public void CourseThatNamesNothingIsToldWhatCounts() =>
        Assert.Equal(
            [
                "The course names no derivative, and its rubric gives 10 points for them: whichever of the table's is reported counts. Name those that can be made.",
                "The course names no spot test, and its rubric gives 4 points for them: whichever of the table's is reported counts. Name those that can be run, or leave these criteria out of the rubric.",
            ],
            Of(new Laboratory { ShelfKeys = ["alpha", "beta"] }));

    [Fact]
    public void NothingIsToldWhereEverythingCanBeEarnedOrIsNotMarked()
    {
        Assert.Empty(Of(Laboratory with { ShelfKeys = ["alpha", "beta"], SpotTestKeys = ["iodoform", "tollens"] }));
        Assert.Empty(Of(Laboratory, new Rubric { Name = "Claim", RightCompound = new RightCompound { Points = 10 } }));
    }

    private static IReadOnlyList<string> Of(Laboratory laboratory, Rubric? rubric = null) => Reach.Of(
        rubric ?? Rubric,
        laboratory,
        TestTable.Snapshot(
            ("alpha", "CC(C)=O", [126], [188]), ("beta", "CCC(C)=O", [150], []), ("gamma", "CCCC(C)=O", [], []), ("delta", "CCCCC(C)=O", [], [200])));
}
