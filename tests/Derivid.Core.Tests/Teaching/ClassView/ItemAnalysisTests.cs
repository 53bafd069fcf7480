using Derivid.Core.Observations;
using Derivid.Core.Teaching.ClassView;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Tests.Teaching.ClassView;

/// <summary>The class's unknowns and criteria looked at as items of an examination.</summary>
public sealed class ItemAnalysisTests
{
    [Fact]
    public void ReportsNotGradedAndDeductionsAreNoItems()
    {
        var items = ItemAnalysis.Of([Report("a", "x", "x", (CriterionKind.RangeWidth, 4, 4), (CriterionKind.Lateness, -3, 0)), Report("b", "x", "x")]);

        Assert.Equal(["x", "RangeWidth"], items.Select(item => item.Key));
        Assert.All(items, item => Assert.Equal((1, 1.0, null), (item.Count, item.ShareRight, item.Discrimination)));
    }

    [Fact]
    public void CriterionIsRightWhenItEarnsAllItsPoints()
    {
        var item = ItemAnalysis.Of(
            [
                Report("a", "x", "x", (CriterionKind.RangeWidth, 4, 4)), Report("b", "x", "x", (CriterionKind.RangeWidth, 3.5m, 4)),
                Report("c", "x", "x", (CriterionKind.RangeWidth, 0, 4)), Report("d", "x", "x", (CriterionKind.RangeWidth, 4, 4)),
            ]).Single(item => item.Kind == ItemAnalysisKind.Criterion);

        Assert.Equal((4, 0.5), (item.Count, item.ShareRight));
    }

    [Fact]
    public void DiscriminationIsAgainstTheShareOfTheOtherPoints()
    {
        // Right on the width: the rest earns 8 and 6 of 8; wrong: 4 and 2 of 8. Shares 1, 0.75, 0.5, 0.25: mean 0.625,
        // deviation √(0.3125/4) = 0.27951; (0.875 − 0.375)/0.27951 · 0.5 = 0.89443.
        var items = ItemAnalysis.Of(
            [
                Report("a", "x", "x", (CriterionKind.RangeWidth, 4, 4), (CriterionKind.RangeDistance, 8, 8)),
                Report("b", "x", "x", (CriterionKind.RangeWidth, 4, 4), (CriterionKind.RangeDistance, 6, 8)),
                Report("c", "x", "x", (CriterionKind.RangeWidth, 1, 4), (CriterionKind.RangeDistance, 4, 8)),
                Report("d", "x", "x", (CriterionKind.RangeWidth, 1, 4), (CriterionKind.RangeDistance, 2, 8)),
            ]);

        Assert.Equal(0.89443, items.Single(item => item.Key == nameof(CriterionKind.RangeWidth)).Discrimination!.Value, 1e-5);
    }

    [Fact]
    public void HardestComesFirstAndEqualOnesByKey()
    {
        var items = ItemAnalysis.Of(
            [
                Report("a", "b", "x", (CriterionKind.RangeWidth, 4, 4)), Report("b", "a", "x", (CriterionKind.RangeWidth, 4, 4)),
                Report("c", "c", "c", (CriterionKind.RangeWidth, 4, 4)),
            ]);

        Assert.Equal(["a", "b", "c"], items.Where(item => item.Kind == ItemAnalysisKind.Compound).Select(item => item.Key));
        Assert.Equal([0, 0, 1.0], items.Take(3).Select(item => item.ShareRight));
    }

    private static ClassReport Report(
        string student, string handedOut, string claimed, params (CriterionKind Criterion, decimal Points, decimal Maximum)[] lines) =>
        new(
            student,
            null,
            new Unknown(handedOut, []),
            new Report { Observation = new Observation(), ClaimedParentKey = claimed },
            lines.Length == 0 ? null : new Grade
            {
                RubricName = "r",
                TableVersion = 1,
                ModelVersion = "m",
                Lines = [.. lines.Select(line => new GradeLine(line.Criterion, line.Points, line.Maximum, "", false))],
            });
}
