using Derivid.Core.Teaching.HandOuts;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching.HandOuts;

public sealed class IdentifiabilityCheckTests
{
    [Fact]
    public void OneDerivativeLeavesTwoCompoundsTogetherAndSaysWhatSettlesThem()
    {
        var found = Check(["propanone", "pinacolone", "pentan-3-one"], [TestTable.Dnph]);

        var propanone = found.Single(item => item.ParentKey == "propanone");
        Assert.False(propanone.IsIdentifiable);
        Assert.InRange(propanone.Posterior, 0.4, 0.7);
        Assert.Equal(["pinacolone"], propanone.ConfusedWith);
        Assert.Equal([TestTable.Semicarbazone], propanone.SettledBy);
        Assert.Contains("cannot be told from pinacolone", propanone.Sentence, StringComparison.Ordinal);
        Assert.Contains("Offering the semicarbazone (", propanone.Sentence, StringComparison.Ordinal);
        Assert.True(found.Single(item => item.ParentKey == "pentan-3-one").IsIdentifiable);
    }

    [Fact]
    public void SecondDerivativeMakesThemIdentifiableAndEasier()
    {
        var one = Check(["propanone", "pinacolone"], [TestTable.Dnph]);
        var two = Check(["propanone", "pinacolone"], [TestTable.Dnph, TestTable.Semicarbazone]);

        Assert.All(two, item => Assert.True(item.IsIdentifiable, item.Sentence));
        Assert.All(one.Zip(two), pair => Assert.True(pair.Second.Difficulty < pair.First.Difficulty));
    }

    [Fact]
    public void NothingToDoLeavesTheShelfAlike()
    {
        var found = Check(["propanone", "benzaldehyde"], []);

        Assert.All(found, item => Assert.Equal(0.5, item.Posterior, 1e-12));
        Assert.All(found, item => Assert.Equal(0.5, item.Difficulty, 1e-12));
    }

    [Fact]
    public void KeysTheTableLacksAreRefused()
    {
        Assert.Contains("no parent 'water'", Refusal(new Laboratory { ShelfKeys = ["water"] }), StringComparison.Ordinal);
        Assert.Contains(
            "no spot test 'litmus'",
            Refusal(new Laboratory { ShelfKeys = ["propanone"], SpotTestKeys = ["litmus"] }),
            StringComparison.Ordinal);
        Assert.Contains(
            "'propanone' is named twice",
            Refusal(new Laboratory { ShelfKeys = ["propanone", "propanone"] }),
            StringComparison.Ordinal);
        Assert.Contains("names no parent", Refusal(new Laboratory { ShelfKeys = [] }), StringComparison.Ordinal);
    }

    private static IReadOnlyList<Identifiability> Check(string[] shelf, string[] kinds) =>
        new IdentifiabilityCheck(new Laboratory { ShelfKeys = shelf, KindKeys = kinds }, 0.8, TeachingTable.Five).Run(TestContext.Current.CancellationToken);

    private static string Refusal(Laboratory laboratory) =>
        Assert.Throws<ArgumentException>(() => new IdentifiabilityCheck(laboratory, 0.8, TeachingTable.Five).Run(TestContext.Current.CancellationToken)).Message;
}
