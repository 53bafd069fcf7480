using Derivid.Core.Observations;

namespace Derivid.Core.Tests.Ranking;

public sealed class SpotTestFamilyTests
{
    [Fact]
    public void ThreeTestsOfOneQuestionFollowTheLatentAnswer()
    {
        var snapshot = TestTable.Five();
        var engine = new Core.Ranking.IdentificationEngine(snapshot);
        var view = engine.Weigh(new Observation
        {
            SpotTests = [Observed.Positive("tollens"), Observed.Positive("schiff"), Observed.Positive("fehling")],
        });

        // By hand, contrary rate 0.02. Aldehyde: 0.98·0.96³ + 0.02·0.05³ = 0.8670338.
        // Ketone: 0.98·0.04³ + 0.02·0.95³ = 0.0172102, where three independent tests would give 0.04³ = 0.000064.
        var aldehyde = (0.98 * Math.Pow(0.96, 3)) + (0.02 * Math.Pow(0.05, 3));
        var ketone = (0.98 * Math.Pow(0.04, 3)) + (0.02 * Math.Pow(0.95, 3));
        Assert.Equal(
            Math.Log(aldehyde / ketone),
            view.LogRatioOf(snapshot, "benzaldehyde") - view.LogRatioOf(snapshot, "propanone"),
            1e-12);
    }

    [Fact]
    public void NegativeTestsOfOneQuestionFollowTheLatentAnswerToo()
    {
        var snapshot = TestTable.Five();
        double LogRatio(params SpotTestReading[] read)
        {
            var view = new Core.Ranking.IdentificationEngine(snapshot).Weigh(new Observation { SpotTests = read });
            return view.LogRatioOf(snapshot, "benzaldehyde") - view.LogRatioOf(snapshot, "propanone");
        }

        // By hand, as above, a negative being what is left of a positive.
        Assert.Equal(
            Math.Log(((0.98 * 0.04 * 0.04) + (0.02 * 0.95 * 0.95)) / ((0.98 * 0.96 * 0.96) + (0.02 * 0.05 * 0.05))),
            LogRatio(Observed.Negative("tollens"), Observed.Negative("schiff")),
            1e-12);
        Assert.Equal(
            Math.Log(((0.98 * 0.04 * 0.96) + (0.02 * 0.95 * 0.05)) / ((0.98 * 0.96 * 0.04) + (0.02 * 0.05 * 0.95))),
            LogRatio(Observed.Negative("tollens"), Observed.Positive("schiff")),
            1e-12);
    }

    [Fact]
    public void DoubtfulAndNotDoneCarryNoWeight()
    {
        var engine = new Core.Ranking.IdentificationEngine(TestTable.Five());
        var without = engine.Weigh(new Observation { Derivatives = [Observed.Dnph(125, 127)] });
        var with = engine.Weigh(new Observation
        {
            Derivatives = [Observed.Dnph(125, 127)],
            SpotTests =
            [
                new SpotTestReading("tollens", SpotTests.SpotTestOutcome.Doubtful),
                new SpotTestReading("iodoform", SpotTests.SpotTestOutcome.NotDone),
            ],
        });

        Assert.Equal(without.Probability, with.Probability);
    }
}
