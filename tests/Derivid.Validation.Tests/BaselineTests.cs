using Derivid.Validation.Baselines;

namespace Derivid.Validation.Tests;

public sealed class BaselineTests
{
    private static readonly (int Tier, double DistanceCelsius)[] Compared = [(0, 1), (0, 3), (1, 8), (-1, 0), (2, 40)];

    [Fact]
    public void AnswersSumToOneAndKeepTheRulesOrder()
    {
        var baseline = Baseline.Fit([.. Enumerable.Range(0, 40).Select(i =>
            new Baseline.FittingCase(Compared, i % 4 == 0 ? 2 : 0, i % 10 == 0))]);

        var answer = baseline.Answer(Compared);

        Assert.Equal(1, answer.Probability.Sum() + answer.NoneOfThese, 1e-12);
        Assert.Equal(0, answer.Probability[3]);
        Assert.True(answer.Preference![0] > answer.Preference[1]);
        Assert.True(answer.Preference[1] > answer.Preference[2]);
        Assert.True(answer.Preference[2] > answer.Preference[4]);
    }

    [Fact]
    public void StateNeverSeenIsAnsweredEvenly()
    {
        var baseline = Baseline.Fit([new Baseline.FittingCase(Compared, 0, false)]);

        var answer = baseline.Answer([(2, 4.0), (2, 4.0)]);

        Assert.Equal(0.5, answer.NoneOfThese, 1e-12);
        Assert.Equal(0.25, answer.Probability[0], 1e-12);
    }
}
