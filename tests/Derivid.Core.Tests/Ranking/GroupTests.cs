using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Ranking;

/// <summary>Candidates the evidence cannot tell apart.</summary>
public sealed class GroupTests
{
    [Fact]
    public void ThirtyAlikeAreOneGroupThoughEachHasThreeInAHundred()
    {
        var snapshot = TestTable.Snapshot([.. Enumerable.Range(0, 30).Select(i =>
            ($"ketone-{i:00}", $"CC(=O){new string('C', i + 1)}", new double[] { 126 }, new double[] { 100 + i }))]);

        var answer = new IdentificationEngine(snapshot).Identify(new Observation { Derivatives = [Observed.Dnph(125, 126)] });

        Assert.InRange(answer.Candidates[0].Posterior, 0.02, 0.04);
        var group = Assert.Single(answer.Groups);
        Assert.Equal(30, group.ParentKeys.Count);
        Assert.Contains("and 26 more cannot be told apart", group.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void UnlikelyCandidatesAreNotGrouped()
    {
        // Two alike 114 °C away share less than one in a hundred between them.
        var snapshot = TestTable.Snapshot(
            ("near", "CC(C)=O", [126], [188]),
            ("far", "CC(=O)c1ccccc1", [240], [199]),
            ("far-too", "CC(=O)c1ccc(C)cc1", [240], [205]));

        var answer = new IdentificationEngine(snapshot).Identify(new Observation { Derivatives = [Observed.Dnph(125, 126)] });

        Assert.True(answer.Candidates[1].Posterior < 0.01);
        Assert.Empty(answer.Groups);
    }

    [Fact]
    public void GroupsFollowOneAnotherByRankAndNoCandidateStandsInTwo()
    {
        var snapshot = TestTable.Snapshot(
            ("a", "CC(C)=O", [126], [188]),
            ("b", "CC(C)=O", [126], [188]),
            ("c", "CCC(=O)CC", [134], [139]),
            ("d", "CC(=O)CCC", [134], [110]));

        var answer = new IdentificationEngine(snapshot).Identify(new Observation { Derivatives = [Observed.Dnph(127, 128)] });

        Assert.Equal(["a b", "c d"], answer.Groups.Select(group => string.Join(' ', group.ParentKeys)));
        Assert.Null(answer.Groups[0].SeparatedBy);
        Assert.EndsWith("Nothing in the table would separate them.", answer.Groups[0].Sentence, StringComparison.Ordinal);
        Assert.Equal(TestTable.Semicarbazone, answer.Groups[1].SeparatedBy?.Key);
    }

    [Theory]
    [InlineData(2, "c0 and c1 cannot")]
    [InlineData(4, "c0, c1, c2 and c3 cannot")]
    [InlineData(5, "c0, c1, c2, c3 and one more cannot")]
    [InlineData(6, "c0, c1, c2, c3 and 2 more cannot")]
    public void FourNamesAreWrittenOut(int count, string names)
    {
        var snapshot = TestTable.Snapshot([.. Enumerable.Range(0, count).Select(i =>
            ($"c{i}", $"CC(=O){new string('C', i + 1)}", new double[] { 126 }, new double[] { 100 + (9 * i) }))]);

        var answer = new IdentificationEngine(snapshot).Identify(new Observation { Derivatives = [Observed.Dnph(125, 126)] });

        Assert.StartsWith(names, Assert.Single(answer.Groups).Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void GroupNamesAStepOfTheBenchThoughABoilingPointWouldTellMore()
    {
        // The two differ by 100 °C in boiling and, by little, in the semicarbazone.
        var table = TestTable.Table(("a", "CC(C)=O", [126], [150]), ("b", "CC(=O)CC", [126], [153]));
        var snapshot = TableSnapshot.Build(
            table with
            {
                Constants = [.. new[] { ("a", 60.0), ("b", 160.0) }.Select(item => TestTable.Constant(
                    item.Item1, Core.Compounds.ParentProperty.BoilingPoint, item.Item2))],
            },
            TestTable.Settings);

        var answer = new IdentificationEngine(snapshot).Identify(new Observation { Derivatives = [Observed.Dnph(125, 126)] });

        Assert.Equal(NextStepKind.BoilingPoint, answer.NextSteps[0].Kind);
        Assert.Equal(TestTable.Semicarbazone, Assert.Single(answer.Groups).SeparatedBy?.Key);
    }
}
