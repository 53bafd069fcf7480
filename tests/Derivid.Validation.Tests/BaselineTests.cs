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

    [Fact]
    public void SoftRuleSharesTiesAndFollowsThePrior()
    {
        double?[] distances = [1, 1, 8, null];
        var even = new SoftRule.Case([distances], [1, 1, 1, 1], 0);
        var rule = SoftRule.Fit(SoftShape.Nearest, [even, even with { Truth = 1 }]);

        var answer = rule.Answer(even);
        var weighed = rule.Answer(even with { Prior = [1, 3, 1, 1] });

        Assert.Equal(1, answer.Probability.Sum(), 1e-12);
        Assert.Equal(answer.Probability[0], answer.Probability[1]);
        Assert.True(answer.Probability[0] > answer.Probability[2]);
        Assert.Equal(3, weighed.Probability[1] / weighed.Probability[0], 1e-12);
    }

    [Fact]
    public void WindowIsFlatInsideAndKeepsItsFiveDegrees()
    {
        double?[] distances = [0, 5, 5.5, 30];
        var rule = SoftRule.Fit(SoftShape.Window, [new SoftRule.Case([distances], [1, 1, 1, 1], 0)]);

        var answer = rule.Answer(new SoftRule.Case([distances], [1, 1, 1, 1], 0));

        Assert.Equal(5, rule.Numbers[0]);
        Assert.Equal(answer.Probability[0], answer.Probability[1]);
        Assert.Equal(answer.Probability[2], answer.Probability[3]);
        Assert.True(answer.Probability[1] > answer.Probability[2]);
    }
}
