using Derivid.Core.Observations;
using Derivid.Core.Teaching.ClassView;
using Derivid.Core.Teaching.Grading;
using Derivid.Core.Tests.Ranking;
using Derivid.Core.Tests.Teaching.Grading;

namespace Derivid.Core.Tests.Teaching.ClassView;

public sealed class ClassOverviewTests
{
    private static readonly double[] Scatter = [-1, 0.5, 0, 1, -0.5];

    [Fact]
    public void ThermometerOfOneBenchIsSuggestedAndNothingElse()
    {
        // Five benches of six compounds each; bench 3 reads 4 °C low.
        var overview = Overview((bench, _) => bench == 3 ? -4 : 0);

        var suggestion = Assert.Single(overview.Suggestions);
        Assert.Equal((SuggestionKind.BenchOffset, "3"), (suggestion.Kind, suggestion.Key));
        Assert.Equal(-4, suggestion.OffsetCelsius, 0.6);
        Assert.StartsWith("6 readings of bench 3, over 6 compounds, run 3.5 °C low", suggestion.Sentence, StringComparison.Ordinal);
        Assert.Equal(5, overview.ByBench.Count);
        Assert.Equal(6, overview.ByCompound.Count);
        Assert.Equal(-4, overview.ByBench[3].MedianCelsius, 0.6);
    }

    [Fact]
    public void BatchOfOneCompoundIsSuggestedAndNothingElse()
    {
        var overview = Overview((_, compound) => compound == 2 ? -7 : 0);

        var suggestion = Assert.Single(overview.Suggestions);
        Assert.Equal((SuggestionKind.BadBatch, "ketone-02"), (suggestion.Kind, suggestion.Key));
        Assert.Equal(-7, suggestion.OffsetCelsius, 0.6);
    }

    [Fact]
    public void BothAtOnceAreToldApartAndAWildReadingMovesNeither()
    {
        var overview = Overview((bench, compound) =>
            (bench == 1 ? 5 : 0) + (compound == 4 ? -6 : 0) + (bench == 0 && compound == 0 ? 40 : 0));

        Assert.Equal(["1", "ketone-04"], overview.Suggestions.Select(suggestion => suggestion.Key));
    }

    [Fact]
    public void OrdinaryScatterSuggestsNothing() => Assert.Empty(Overview((_, _) => 0).Suggestions);

    [Fact]
    public void HarderItemsComeFirstAndDiscriminationLooksAtTheRest()
    {
        // Worked: three reports on ketone-00 (two right) and two on ketone-01 (one right); only the width varies beside.
        var reports = new[]
        {
            Graded("a", 0, 0, 1), Graded("b", 0, 0, 2), Graded("c", 0, 5, 6), Graded("d", 1, 5, 6), Graded("e", 1, 1, 1),
        };

        var items = ItemAnalysis.Of(reports);

        var compounds = items.Where(item => item.Kind == ItemAnalysisKind.Compound).ToList();
        Assert.Equal(["ketone-01", "ketone-00"], compounds.Select(item => item.Key));
        Assert.Equal(0.5, compounds[0].ShareRight);
        Assert.Equal(2 / 3.0, compounds[1].ShareRight, 1e-12);
        Assert.Equal(1, compounds[0].Discrimination!.Value, 1e-12);
        var criterion = items.Single(item => item.Key == nameof(CriterionKind.RightCompound));
        Assert.Equal((5, 0.6), (criterion.Count, criterion.ShareRight));

        // Rest (width only): right 1, 1, 1 and wrong 0, 0, so the two go together without exception.
        Assert.Equal(1, criterion.Discrimination!.Value, 1e-12);
    }

    [Fact]
    public void RangeThatIsTheListedOneIsPointedOutWithoutAVerdict()
    {
        var snapshot = TeachingTable.Five;
        Unknown unknown = new("propanone", []);
        var copied = new ClassReport("a", null, unknown, Claim("propanone", 126, 126));
        var own = new ClassReport("b", null, unknown, Claim("propanone", 125.8, 126));
        var other = new ClassReport("c", null, unknown, Claim("pinacolone", 126, 126));

        var signal = Assert.Single(CopiedRange.In([own, other, copied], snapshot));

        Assert.Equal(["a"], signal.StudentKeys);
        Assert.Contains("is to 0.1 °C the one invented lists for the compound claimed", signal.Sentence, StringComparison.Ordinal);
        Assert.Contains("by chance", signal.Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain(signal.Sentence.Split(' '), word => word is "cheated" or "dishonest" or "fraud" or "copied");
    }

    [Fact]
    public void IdenticalReadingsAreNamedOnlyWhenThereAreEnoughOfThem()
    {
        ClassReport Report(string student, string handedOut, params DerivativeReading[] readings) =>
            new(student, null, new Unknown(handedOut, []), new Report { Observation = new Observation { Derivatives = readings } });

        var signals = IdenticalReadings.In(
        [
            Report("e", "propanone", Observed.Dnph(125, 127)),
            Report("f", "propanone", Observed.Dnph(125, 127)),
            Report("b", "propanone", Observed.Dnph(125, 127), Observed.Semicarbazone(187, 189)),
            Report("a", "pinacolone", Observed.Semicarbazone(187, 189), Observed.Dnph(125, 127)),
            Report("d", "propanone", Observed.Dnph(125.3, 127)),
            Report("c", "propanone", Observed.Dnph(125.3, 127)),
            Report("g", "propanone"),
            Report("h", "propanone"),
        ]);

        Assert.Equal(2, signals.Count);
        Assert.Equal(["a", "b"], signals[0].StudentKeys);
        Assert.Contains("2 different compounds", signals[0].Sentence, StringComparison.Ordinal);
        Assert.Equal(["c", "d"], signals[1].StudentKeys);
        Assert.Contains("the same compound", signals[1].Sentence, StringComparison.Ordinal);
    }

    private static Report Claim(string key, double onset, double clearPoint) =>
        new()
        {
            ClaimedParentKey = key,
            Observation = new Observation { Derivatives = [Observed.Dnph(onset, clearPoint)] },
        };

    private static ClassOverview Overview(Func<int, int, double> off) =>
        ClassOverview.Of(
            [.. Enumerable.Range(0, 30).Select(i =>
            {
                var (bench, compound) = (i / 6, i % 6);
                var clearPoint = 60 + (9 * compound) + off(bench, compound) + Scatter[(bench + (2 * compound)) % 5];
                return new ClassReport(
                    $"s{i:00}",
                    $"{bench}",
                    new Unknown($"ketone-0{compound}", []),
                    new Report { Observation = new Observation { Derivatives = [Observed.Dnph(clearPoint - 1.5, clearPoint)] } });
            })],
            TeachingTable.Many);

    /// <summary>A report on one compound that claims another one, with a range as wide as given.</summary>
    private static ClassReport Graded(string student, int handedOut, int claimed, double spanCelsius)
    {
        var unknown = new Unknown($"ketone-0{handedOut}", []);
        var clearPoint = 60 + (9 * handedOut);
        var report = Claim($"ketone-0{claimed}", clearPoint - spanCelsius, clearPoint);
        var rubric = new Rubric
        {
            Name = "Two",
            RightCompound = Rubrics.Full.RightCompound,
            RangeWidth = Rubrics.Full.RangeWidth,
        };
        return new ClassReport(student, null, unknown, report, Grader.Grade(report, unknown, rubric, TeachingTable.Many));
    }
}
