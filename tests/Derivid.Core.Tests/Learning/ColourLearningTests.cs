using Derivid.Core.Learning;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Learning;

public sealed class ColourLearningTests
{
    private static readonly ColourSettings Settings = new() { CallSteps = 0.4, LapseShare = 0.05, RecordedShare = 0.8 };

    private static readonly double[] Assumed = [0.8, 0.15, 0.05];

    [Fact]
    public void WithNothingCountedNothingIsLearned()
    {
        var learned = ColourLearning.Of([new ColourClass("any", Assumed, [])], Settings);

        Assert.Empty(learned.Classes);
        Assert.Equal(0.8, learned.RecordedShare);
    }

    [Fact]
    public void CallsAgainstWhatIsAssumedMoveTheClass()
    {
        var learned = Assert.Single(Learn([.. Enumerable.Range(0, 12).Select(i => new ColouredCompound($"{i}", [1, 1, 18], []))]).Classes);

        Assert.Equal(1, learned.Weights.Sum(), 1e-9);
        Assert.InRange(learned.Weights[2], 0.75, 1);
        Assert.Equal(0.9, learned.Calls[2].Mean, 0.05);
        Assert.True(learned.Calls[2].Holds(0.9));
        Assert.False(learned.Calls[0].Holds(0.8));
    }

    [Fact]
    public void PosteriorOfOneCallIsAsWorkedOutByHand()
    {
        // Nobody errs in calling, so what is called is what is there. One call, of the third colour: as likely as it was assumed, 0.05, whatever that is
        // worth, so every worth of 1, 2, 4, ... 256 stays as probable, and their geometric mean is the middle one, 2⁴ = 16.
        // The class has a Dirichlet(16·0.8, 16·0.15, 16·0.05) = (12.8, 2.4, 0.8); one call makes it (12.8, 2.4, 1.8), of sum 17:
        //   12.8/17 = 0.75294, 2.4/17 = 0.14118, 1.8/17 = 0.10588.
        // The most probable colours are taken by expectation and maximisation under the same prior, which with no error of calling is the same mean.
        var learned = ColourLearning.Of(
            [new ColourClass("any", Assumed, [new ColouredCompound("a", [0, 0, 1], [])])], Settings with { CallSteps = 0.01, LapseShare = 0 });
        var ofClass = Assert.Single(learned.Classes);

        Assert.Equal(16, learned.ClassWorth, 1e-6);
        Assert.Equal([0.75294, 0.14118, 0.10588], ofClass.Calls.Select(call => Math.Round(call.Mean, 5)));
        Assert.Equal([0.75294, 0.14118, 0.10588], ofClass.Weights.Select(weight => Math.Round(weight, 5)));
        Assert.Equal(1, ofClass.Counted);
    }

    [Fact]
    public void ShareOfRecordedColoursStaysWhereSettingsAreKept()
    {
        var kept = ColourLearning.Of(
            [new ColourClass("any", Assumed, [.. Enumerable.Range(0, 12).Select(i => new ColouredCompound($"{i}", [20, 0, 0], [2]))])], Settings, keepsShare: true);

        Assert.Equal(Settings.RecordedShare, kept.RecordedShare);
    }

    [Fact]
    public void RecordedColourThatIsNeverCalledIsBelievedLess()
    {
        var never = Learn([.. Enumerable.Range(0, 12).Select(i => new ColouredCompound($"{i}", [20, 0, 0], [2]))]);
        var always = Learn([.. Enumerable.Range(0, 12).Select(i => new ColouredCompound($"{i}", [0, 0, 20], [2]))]);

        Assert.InRange(never.RecordedShare, 0, Settings.RecordedShare / 2);
        Assert.InRange(always.RecordedShare, 0.8, 1);
    }

    private static ColourLearning Learn(IReadOnlyList<ColouredCompound> compounds) =>
        ColourLearning.Of([new ColourClass("any", Assumed, compounds)], Settings);
}
