using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using static Derivid.Core.Tests.Curation.CuratedTable;

namespace Derivid.Core.Tests.Curation;

/// <summary>Where the table needs work first.</summary>
public sealed class CoverageTests
{
    // Three ketones that answer every test alike and give both an oxime and a semicarbazone.
    private static readonly ReferenceTable Ketones = Sound with
    {
        Parents =
        [
            Parent("a", "CCC(=O)CC", "96-22-0", ParentKind.Ketone), Parent("b", "CCC(=O)CCC", "589-38-8", ParentKind.Ketone),
            Parent("c", "CCCC(=O)CCC", "123-19-3", ParentKind.Ketone),
        ],
        Constants = [],
        Derivatives =
        [
            Derivative("a", "oxime", 100), Derivative("b", "oxime", 105), Derivative("c", "oxime", 110.1),
            Derivative("a", "semicarbazone", 150),
        ],
    };

    [Fact]
    public void PairIsSeparatedByMoreThanFiveDegreesInAKindListedForBoth() =>
        Assert.Equal(["a b"], Pairs(Ketones));

    [Fact]
    public void OneCloseListedValueIsEnoughToLeaveThePairInDoubt()
    {
        var table = Ketones.Add(RecordKinds.Derivatives, Derivative("c", "oxime", 96, "other-journal"));

        Assert.Equal(["a b", "a c"], Pairs(table));
    }

    [Fact]
    public void OneKindThatSeparatesIsEnough()
    {
        var table = Ketones.Add(RecordKinds.Derivatives, Derivative("b", "semicarbazone", 160));

        Assert.Empty(Pairs(table));
        Assert.Equal(["a b"], Pairs(Ketones.Add(RecordKinds.Derivatives, Derivative("b", "semicarbazone", 155))));
    }

    [Fact]
    public void RangesAreApartByTheirNearestEnds()
    {
        ReferenceTable Range(double low, double high) => Ketones.Change<Derivative>(
            RecordKinds.Derivatives, "b-oxime", row => row.Melting(low, high));

        Assert.Equal(["a b", "b c"], Pairs(Range(80, 140)));
        Assert.Equal(["a b"], Pairs(Range(90, 95)));
        Assert.Empty(Pairs(Range(90, 94.9)));
    }

    [Fact]
    public void PairWithoutAKindInCommonIsInDoubt()
    {
        var table = Ketones.Remove(RecordKinds.Derivatives, "c-oxime");
        var pairs = Coverage.Of(table).InseparablePairs;

        Assert.Equal(["a b", "a c", "b c"], pairs.Select(pair => $"{pair.First} {pair.Second}"));
        Assert.Equal(["oxime"], pairs[0].SharedKinds);
        Assert.Empty(pairs[1].SharedKinds);
    }

    [Fact]
    public void TestThatTheTwoAnswerDifferentlySeparates()
    {
        // Pentanal beside pentan-3-one: an aldehyde reacts with Tollens' reagent.
        var table = Ketones.Change<Parent>(RecordKinds.Parents, "b", _ => Parent("b", "CCCCC=O", "110-62-3", ParentKind.Aldehyde));

        Assert.Empty(Pairs(table));
    }

    [Fact]
    public void DerivativeThatOnlyOneOfThemFormsSeparates()
    {
        // A kind of aldehydes only, met with a ketone all the same: the record says that it forms.
        var table = Ketones.Add(RecordKinds.Derivatives, Derivative("a", "dimedone-derivative", 120));

        Assert.Empty(Pairs(table));
    }

    [Fact]
    public void ParentsOfFewerThanTwoKindsAndRecordsNeverCrossCheckedAreListed()
    {
        var table = Ketones.Change<Derivative>(
            RecordKinds.Derivatives, "a-oxime", row => row with { Verification = Verification.CrossChecked });
        var coverage = Coverage.Of(table.Add(RecordKinds.Derivatives, Derivative("b", "oxime", 106, "other-journal")));

        Assert.Equal(["b", "c"], coverage.WithoutSecondDerivative);
        Assert.Equal(
            ["b-oxime", "c-oxime", "a-semicarbazone", "b-oxime-other-journal"], coverage.NeverCrossChecked);
    }

    private static IEnumerable<string> Pairs(ReferenceTable table) =>
        Coverage.Of(table).InseparablePairs.Select(pair => $"{pair.First} {pair.Second}");
}
