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
