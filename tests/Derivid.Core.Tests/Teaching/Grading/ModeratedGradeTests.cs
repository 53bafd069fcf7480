using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Tests.Teaching.Grading;

/// <summary>Grades changed by hand, the arithmetic written out.</summary>
public sealed class ModeratedGradeTests
{
    // 10 of 10, 1.5 of 4 and 2 points taken: 9.5 of 14. The reasoning is not marked yet and counts neither way.
    private static readonly Grade Worked = new()
    {
        RubricName = "by hand",
        TableVersion = 1,
        ModelVersion = "m",
        Lines =
        [
            new GradeLine(CriterionKind.RightCompound, 10, 10, "Right.", true),
            new GradeLine(CriterionKind.RangeWidth, 1.5m, 4, "Wide.", false),
            new GradeLine(CriterionKind.WrittenReasoning, 0, 0, "By hand.", false) { ByHand = 5 },
            new GradeLine(CriterionKind.Attempts, -2, 0, "Twice.", false),
        ],
    };

    [Fact]
    public void NothingChangedIsTheGradeAsWorkedOut()
    {
        var moderated = ModeratedGrade.Of(Worked, []);

        Assert.Equal((9.5m, 14m), (moderated.Total, moderated.Maximum));
        Assert.Equal((Worked.Total, Worked.Maximum), (moderated.Total, moderated.Maximum));
        Assert.Null(moderated.Comment);
        Assert.All(moderated.Lines, line => Assert.False(line.IsOutdated));
    }

    [Fact]
    public void PointsGivenTakeThePlaceOfThoseWorkedOut()
    {
        // 10 + 3.5 − 0.5 = 13 of 14.
        var moderated = ModeratedGrade.Of(
            Worked, [Given(CriterionKind.RangeWidth, 3.5m, 1.5m), Given(CriterionKind.Attempts, -0.5m, -2)]);

        Assert.Equal((13m, 14m), (moderated.Total, moderated.Maximum));
        Assert.Equal([10m, 3.5m, 0m, -0.5m], moderated.Lines.Select(line => line.Points));
        Assert.Equal([null, "why", null, "why"], moderated.Lines.Select(line => line.Moderation?.Reason));
    }

    [Fact]
    public void CriterionMarkedByHandCountsOnceItIsMarked()
    {
        // 10 + 1.5 + 4 − 2 = 13.5 of 14 + 5 = 19.
        var moderated = ModeratedGrade.Of(Worked, [Given(CriterionKind.WrittenReasoning, 4, 0)]);

        Assert.Equal((13.5m, 19m), (moderated.Total, moderated.Maximum));
        Assert.Equal("By hand.", ModeratedGrade.Of(Worked, []).Lines[2].Sentence);
        Assert.Equal($"This is marked by hand: {moderated.Lines[2].Points} of 5 points.", moderated.Lines[2].Sentence);
    }

    [Fact]
    public void PointsThatTheCriterionNoLongerAllowsAreToBeLookedAtAgain()
    {
        // Worked out are 1.5 as before, but of 2 only: of the 4 given 2 are left.
        var moderated = ModeratedGrade.Of(
            Worked with { Lines = [new GradeLine(CriterionKind.RangeWidth, 1.5m, 2, "Wide.", false)] },
            [Given(CriterionKind.RangeWidth, 4, 1.5m)]);

        Assert.Equal((2m, true), (moderated.Lines[0].Points, moderated.Lines[0].IsOutdated));
    }

    [Fact]
    public void LastOneOfACriterionHoldsAndOneWithoutPointsTakesTheOthersBack()
    {
        Moderation[] history = [Given(CriterionKind.RangeWidth, 4, 1.5m), Given(CriterionKind.RangeWidth, 2, 1.5m)];

        Assert.Equal(2, ModeratedGrade.Of(Worked, history).Lines[1].Points);
        var back = ModeratedGrade.Of(Worked, [.. history, new Moderation(CriterionKind.RangeWidth, null, null, 1.5m)]);
        Assert.Equal(1.5m, back.Lines[1].Points);
        Assert.Null(back.Lines[1].Moderation);
        var again = ModeratedGrade.Of(
            Worked, [.. history, new Moderation(CriterionKind.RangeWidth, null, null, 1.5m), Given(CriterionKind.RangeWidth, 3, 1.5m)]);
        Assert.Equal(3, again.Lines[1].Points);
    }

    // The range earns 1.5. The group is given 3, one of it 0: for them 10 + 0 - 2 = 8 of 14, for the others 10 + 3 - 2 = 11. The group is given 4
    // later: the others have 12, and whoever was given their own keeps 8, until that is taken back and theirs is 12 too.
    [Fact]
    public void WhatIsForOneMemberStandsOverWhatIsForTheGroupUntilItIsTakenBack()
    {
        var group = Given(CriterionKind.RangeWidth, 3, 1.5m);
        var own = Given(CriterionKind.RangeWidth, 0, 1.5m) with { IsOfOne = true };
        var later = Given(CriterionKind.RangeWidth, 4, 1.5m);

        Assert.Equal(8, ModeratedGrade.Of(Worked, [group, own]).Total);
        Assert.Equal(8, ModeratedGrade.Of(Worked, [own, group]).Total);
        Assert.Equal(11, ModeratedGrade.Of(Worked, [group]).Total);
        Assert.Equal(8, ModeratedGrade.Of(Worked, [group, own, later]).Total);
        Assert.Equal(12, ModeratedGrade.Of(Worked, [group, later]).Total);
        Assert.Equal(12, ModeratedGrade.Of(Worked, [group, own, later, new Moderation(CriterionKind.RangeWidth, null, null, 1.5m) { IsOfOne = true }]).Total);

        // The group's being taken back leaves the member's own.
        Assert.Equal(8, ModeratedGrade.Of(Worked, [own, group, new Moderation(CriterionKind.RangeWidth, null, null, 1.5m)]).Total);
    }

    [Fact]
    public void CommentForOneMemberStandsInPlaceOfTheGroups()
    {
        Moderation shared = new(null, null, "Well argued", null);
        var own = new Moderation(null, null, "You weren't there", null) { IsOfOne = true };

        Assert.Equal("You weren't there", ModeratedGrade.Of(Worked, [shared, own, shared]).Comment);
        Assert.Equal("Well argued", ModeratedGrade.Of(Worked, [shared, own, own with { Reason = null }]).Comment);
    }

    [Fact]
    public void LastCommentHoldsAndAnEmptyOneTakesItBack()
    {
        Moderation[] history = [new(null, null, "first", null), new(null, null, "second", null)];

        Assert.Equal("second", ModeratedGrade.Of(Worked, history).Comment);
        Assert.Null(ModeratedGrade.Of(Worked, [.. history, new Moderation(null, null, null, null)]).Comment);
    }

    [Fact]
    public void AnotherRubricKeepsWhatItCanAndSaysWhereToLookAgain()
    {
        // Under the new rules the range earns 1 of 2 and attempts cost nothing: given were 3.5, of which 2 are left.
        var regraded = Worked with
        {
            Lines = [new GradeLine(CriterionKind.RangeWidth, 1, 2, "Stricter.", false), new GradeLine(CriterionKind.RightCompound, 10, 10, "Right.", true)],
        };
        var moderated = ModeratedGrade.Of(
            regraded, [Given(CriterionKind.RangeWidth, 3.5m, 1.5m), Given(CriterionKind.RightCompound, 9, 10), Given(CriterionKind.Attempts, 0, -2)]);

        Assert.Equal([2m, 9m], moderated.Lines.Select(line => line.Points));
        Assert.Equal([true, false], moderated.Lines.Select(line => line.IsOutdated));
        Assert.Equal((11m, 12m), (moderated.Total, moderated.Maximum));
    }

    [Fact]
    public void TotalIsNeverBelowZero()
    {
        var moderated = ModeratedGrade.Of(
            Worked, [Given(CriterionKind.RightCompound, 0, 10), Given(CriterionKind.Attempts, -50, -2)]);

        Assert.Equal(0, moderated.Total);
    }

    [Theory]
    [InlineData(0, 0, 10)]
    [InlineData(1, 0, 4)]
    [InlineData(2, 0, 5)]
    [InlineData(3, -1000, 0)]
    public void PointsAllowedFollowFromTheLine(int line, int least, int most) =>
        Assert.Equal(((decimal)least, (decimal)most), ModeratedGrade.Of(Worked, []).Lines[line].Allowed);

    private static Moderation Given(CriterionKind criterion, decimal points, decimal computed) => new(criterion, points, "why", computed);
}
