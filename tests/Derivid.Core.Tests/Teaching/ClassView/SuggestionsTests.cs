using Derivid.Core.Teaching.ClassView;

namespace Derivid.Core.Tests.Teaching.ClassView;

/// <summary>When a bench or a batch is worth looking at. Deviations are made up by bench and compound.</summary>
public sealed class SuggestionsTests
{
    [Fact]
    public void OffsetBelowThreeStandardErrorsIsOrdinaryScatter()
    {
        // Rows and columns polish to zero save bench 1. Scatter: every residual is 3 °C, so 1.4826 · 3 = 4.45 °C; of four
        // readings the error of a median is 1.2533 · 4.45 / 2 = 2.79 °C. Six degrees are 2.2 of them, nine 3.2.
        Assert.Empty(Suggest(Noisy(6)));
        var suggestion = Assert.Single(Suggest(Noisy(9)));
        Assert.Equal((SuggestionKind.BenchOffset, "1"), (suggestion.Kind, suggestion.Key));
        Assert.Equal(9, suggestion.OffsetCelsius, 1e-9);
        Assert.Equal(1.2533141373155 * 1.482602218505602 * 3 / 2, suggestion.UncertaintyCelsius, 1e-9);
        Assert.Equal(4, suggestion.Count);
    }

    [Theory]
    [InlineData(1.9, false)]
    [InlineData(2, true)]
    [InlineData(-2, true)]
    public void OffsetBelowTwoDegreesIsNotWorthACheckHoweverSharp(double off, bool isSuggested)
    {
        // No scatter at all: taken for 0.5 °C, so that of four readings three errors are 0.94 °C.
        var suggestions = Suggest(Exact(5, 4, (bench, _) => bench == 2 ? off : 0));

        Assert.Equal(isSuggested ? ["2"] : [], suggestions.Select(suggestion => suggestion.Key));
        Assert.All(suggestions, suggestion => Assert.Contains(
            off > 0 ? "2.0 °C high (standard error 0.3 °C)" : "2.0 °C low (standard error 0.3 °C)",
            suggestion.Sentence,
            StringComparison.Ordinal));
    }

    [Fact]
    public void ThreeReadingsAreTooFewToBlameAThermometer()
    {
        Assert.Empty(Suggest(Exact(5, 3, (bench, _) => bench == 2 ? 8 : 0)));
        Assert.NotEmpty(Suggest(Exact(5, 4, (bench, _) => bench == 2 ? 8 : 0)));
    }

    [Fact]
    public void OfTwoBenchesNobodyCanSayWhichIsOffAndOfThreeOneCan()
    {
        Assert.DoesNotContain(
            Suggest(Exact(2, 6, (bench, _) => bench == 1 ? 8 : 0)), item => item.Kind == SuggestionKind.BenchOffset);
        Assert.Equal("1", Assert.Single(Suggest(Exact(3, 6, (bench, _) => bench == 1 ? 8 : 0))).Key);
    }

    [Fact]
    public void BenchOfOneCompoundOnlyIsNotBlamedForTheBatch()
    {
        // Bench 3 has one compound, which nobody else has: high readings there may be either's fault.
        var deviations = Exact(3, 4, (_, _) => 0)
            .Concat(Enumerable.Range(0, 4).Select(i => new Deviation($"z{i}", "3", "ketone-09", "k", 8, 1)));

        Assert.Empty(Suggest(deviations));
    }

    [Fact]
    public void ReadingsWithoutABenchSayNothing()
    {
        Assert.Empty(Suggest(Exact(5, 4, (_, compound) => compound == 1 ? 8 : 0).Select(item => item with { Bench = null })));
        Assert.Equal("1", Assert.Single(Suggest(Exact(3, 4, (bench, _) => bench == 1 ? 8 : 0)
            .Append(new Deviation("z", null, "ketone-00", "k", 99, 1)))).Key);
    }

    [Fact]
    public void BatchIsNamedWithTheWidthItMeltsOver()
    {
        var suggestion = Assert.Single(Suggest(Exact(4, 5, (_, compound) => compound == 2 ? -7 : 0)));

        Assert.Equal(SuggestionKind.BadBatch, suggestion.Kind);
        Assert.Equal(
            "4 readings of ketone-02, over 4 benches, run 7.0 °C low (standard error 0.3 °C) beside the rest of the class, over 1.5 °C in the median: check the batch handed out, and the listed values.",
            suggestion.Sentence);
    }

    [Fact]
    public void BenchesComeByKeyAndBeforeCompounds() =>
        Assert.Equal(
            ["1", "4", "ketone-00", "ketone-03"],
            Suggest(Exact(7, 7, (bench, compound) => (bench is 1 or 4 ? 8 : 0) - (compound is 0 or 3 ? 6 : 0)).Reverse())
                .Select(suggestion => suggestion.Key));

    /// <summary>Six benches of four compounds, 3 °C high and low by turns, which cancel in every median.</summary>
    private static IEnumerable<Deviation> Noisy(double bench1) =>
        Exact(6, 4, (bench, compound) => (bench == 1 ? bench1 : 0) + ((bench + compound) % 2 == 0 ? 3 : -3));

    private static IEnumerable<Deviation> Exact(int benches, int compounds, Func<int, int, double> off) =>
        from bench in Enumerable.Range(0, benches)
        from compound in Enumerable.Range(0, compounds)
        select new Deviation($"s{bench}{compound}", $"{bench}", $"ketone-{compound:00}", "k", off(bench, compound), 1.5);

    private static IReadOnlyList<Suggestion> Suggest(IEnumerable<Deviation> deviations) =>
        Suggestions.Of([.. deviations], TeachingTable.Many);
}
