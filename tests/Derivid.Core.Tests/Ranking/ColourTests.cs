using Derivid.Core.Colours;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Ranking;

/// <summary>The colour of a derivative as evidence: recorded where somebody recorded it, else expected of the structure.</summary>
public sealed class ColourTests
{
    // Two saturated ketones that only the record tells apart, and an aryl ketone.
    private static readonly TableSnapshot Three = Recorded(("propanone", "red"));

    // Calls spread by 0.8 steps along yellow, orange, red: next colour e^(−1/1.28), next but one e^(−4/1.28).
    private static readonly double Next = Math.Exp(-1 / 1.28);
    private static readonly double NextButOne = Math.Exp(-4 / 1.28);

    [Fact]
    public void RecordedColourIsWeighedByTheArithmeticDoneByHand()
    {
        var colours = Three.Kind(TestTable.Dnph).Colours!;

        // Recorded red counts 0.8, what a saturated carbonyl is expected to give, 0.8 : 0.15 : 0.05, the rest.
        Assert.Equal(Called([0.16, 0.03, 0.81], 2), colours.Probability(IndexOf("propanone"), "red"), 1e-12);
        Assert.Equal(Called([0.16, 0.03, 0.81], 0), colours.Probability(IndexOf("propanone"), "yellow"), 1e-12);
        Assert.Equal(Called([0.8, 0.15, 0.05], 2), colours.Probability(IndexOf("pentan-3-one"), "red"), 1e-12);
        Assert.Equal(Called([0.1, 0.5, 0.4], 1), colours.Probability(IndexOf("acetophenone"), "orange"), 1e-12);
        Assert.True(colours.IsRecorded(IndexOf("propanone")));
        Assert.False(colours.IsRecorded(IndexOf("pentan-3-one")));
    }

    [Fact]
    public void CallingTheRecordedColourSpeaksForTheCompoundItIsRecordedFor()
    {
        var engine = new IdentificationEngine(Three);
        var red = engine.Weigh(Observation("red"));
        var yellow = engine.Weigh(Observation("yellow"));

        Assert.True(red.LogRatioOf(Three, "propanone") > red.LogRatioOf(Three, "pentan-3-one") + 1);
        Assert.True(yellow.LogRatioOf(Three, "propanone") < yellow.LogRatioOf(Three, "pentan-3-one") - 1);
    }

    [Fact]
    public void TwoRecordedColoursShareTheWeight()
    {
        var table = Recorded(("propanone", "red"), ("propanone", "yellow"));

        Assert.Equal(
            Called([0.56, 0.03, 0.41], 0),
            table.Kind(TestTable.Dnph).Colours!.Probability(IndexOf("propanone"), "yellow"),
            1e-12);
    }

    [Fact]
    public void CallsOfEveryColourSumToOne()
    {
        var colours = Three.Kind(TestTable.Dnph).Colours!;

        Assert.All(Enumerable.Range(0, 3), parent => Assert.Equal(
            1, Three.Table.Colours.Sum(colour => colours.Probability(parent, colour.Key)), 1e-12));
        Assert.Throws<ArgumentException>(() => colours.Probability(0, "blue"));
    }

    [Fact]
    public void KindWithNoExpectationTakesEveryColourAlike()
    {
        var table = TableSnapshot.Build(Three.Table with { ColourExpectations = [] }, TestTable.Settings);
        var view = new IdentificationEngine(table).Weigh(Observation("yellow"));

        Assert.Equal(
            view.LogRatioOf(table, "acetophenone"), view.LogRatioOf(table, "pentan-3-one"), 1e-12);
        Assert.Equal(
            Called([1 / 3.0, 1 / 3.0, 1 / 3.0], 0),
            table.Kind(TestTable.Dnph).Colours!.Probability(IndexOf("acetophenone"), "yellow"),
            1e-12);
    }

    [Fact]
    public void SentenceSaysWhetherTheColourIsRecordedOrExpected()
    {
        var candidates = new IdentificationEngine(Three).Identify(Observation("red")).Candidates;
        string Sentence(string parent) => candidates.Single(c => c.Parent.Key == parent).Evidence
            .Single(evidence => evidence.Kind == EvidenceKind.DerivativeColour).Sentence;

        Assert.StartsWith(
            "Called red, weighed against the colour recorded for propanone.", Sentence("propanone"), StringComparison.Ordinal);
        Assert.StartsWith(
            "Called red, weighed against the colour expected of the structure of pentan-3-one.",
            Sentence("pentan-3-one"),
            StringComparison.Ordinal);
    }

    [Fact]
    public void ColourOfAKindWhoseColourSaysNothingIsNoEvidence()
    {
        var engine = new IdentificationEngine(Three);

        var answer = engine.Identify(new Observation
        {
            Derivatives = [new DerivativeReading(TestTable.Semicarbazone, null, ColourKey: "yellow", Precipitate: Precipitate.Crystals)],
        });

        Assert.Empty(answer.Candidates[0].Evidence);
    }

    /// <summary>White stands outside the order: it is taken, and changes nothing, not even where it is recorded.</summary>
    [Theory]
    [InlineData(TestTable.Dnph)]
    [InlineData(TestTable.Semicarbazone)]
    public void ColourOutsideTheOrderIsNoEvidence(string kind)
    {
        var table = Three.Table with
        {
            Colours = [new Colour("white", "white", null, []), .. Three.Table.Colours],
            Derivatives = [.. Three.Table.Derivatives.Select(record =>
                record.ParentKey == "acetophenone" ? record with { ColourKey = "white" } : record)],
        };
        var snapshot = TableSnapshot.Build(table, TestTable.Settings);
        var engine = new IdentificationEngine(snapshot);
        Identification Answer(string? colour) => engine.Identify(new Observation
        {
            Derivatives = [new DerivativeReading(kind, new MeltingRange(186, 188), ColourKey: colour)],
        });

        var (noted, silent) = (Answer("white"), Answer(null));
        Assert.Equal(
            silent.Candidates.Select(candidate => (candidate.Parent.Key, candidate.Posterior, candidate.Evidence.Count)),
            noted.Candidates.Select(candidate => (candidate.Parent.Key, candidate.Posterior, candidate.Evidence.Count)));

        var (before, after) = (Three.Kind(TestTable.Dnph).Colours!, snapshot.Kind(TestTable.Dnph).Colours!);
        Assert.Equal(
            before.Probability(IndexOf("acetophenone"), "orange"), after.Probability(IndexOf("acetophenone"), "orange"));
        Assert.False(after.IsRecorded(IndexOf("acetophenone")));
        Assert.False(after.Ranks("white"));
        Assert.True(after.Ranks("red"));
        Assert.Throws<ArgumentException>(() => after.Probability(0, "white"));
        Assert.Throws<ArgumentException>(() => after.Ranks("blue"));
    }

    private static TableSnapshot Recorded(params (string Parent, string Colour)[] recorded)
    {
        var table = TestTable.Table(
            ("propanone", "CC(C)=O", [126, 126], [188]),
            ("pentan-3-one", "CCC(=O)CC", [156], [139]),
            ("acetophenone", "CC(=O)c1ccccc1", [240], [199]));
        var colours = recorded.Select((item, i) => (Key: $"{item.Parent}/{TestTable.Dnph}/{i}", item.Colour))
            .ToDictionary(StringComparer.Ordinal);
        return TableSnapshot.Build(
            table with
            {
                Derivatives = [.. table.Derivatives.Select(record =>
                    record with { ColourKey = colours.GetValueOrDefault(record.Key) })],
            },
            TestTable.Settings);
    }

    private static Observation Observation(string colour) =>
        new() { Derivatives = [new DerivativeReading(TestTable.Dnph, null, ColourKey: colour, Precipitate: Precipitate.Crystals)] };

    private static int IndexOf(string parent) => Three.TryFindParent(parent, out var index) ? index : -1;

    /// <summary>Probability of calling one of three colours: near misses along their order, and a lapse in ten.</summary>
    private static double Called(double[] trueColours, int called)
    {
        double[][] near =
        [
            [1, Next, NextButOne],
            [Next, 1, Next],
            [NextButOne, Next, 1],
        ];
        return trueColours.Select((share, i) => share * ((0.9 * near[i][called] / near[i].Sum()) + (0.1 / 3))).Sum();
    }
}
