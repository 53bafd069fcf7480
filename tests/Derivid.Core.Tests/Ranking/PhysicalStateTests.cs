using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Tests.Ranking;

/// <summary>Liquid or solid as evidence. Compounds are real, melting points invented round figures near the real ones.</summary>
public sealed class PhysicalStateTests
{
    private static readonly TableSnapshot Four = TableSnapshot.Build(
        TestTable.Table(
            ("propanone", "CC(C)=O", [126], [188]),
            ("acetophenone", "CC(=O)c1ccccc1", [240], [199]),
            ("benzophenone", "O=C(c1ccccc1)c1ccccc1", [239], [165]),
            ("pentan-3-one", "CCC(=O)CC", [156], [139])) with
        {
            Constants =
            [
                Constant("propanone", ParentProperty.MeltingPoint, -95),
                Constant("acetophenone", ParentProperty.MeltingPoint, 20),
                Constant("benzophenone", ParentProperty.MeltingPoint, 48),
                Constant("pentan-3-one", ParentProperty.MeltingPoint, 20),
                Constant("propanone", ParentProperty.BoilingPoint, 56),
                Constant("acetophenone", ParentProperty.BoilingPoint, 202),
            ],
        },
        TestTable.Settings);

    private static readonly IdentificationEngine Engine = new(Four);

    /// <summary>Source: Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.1.</summary>
    [Theory]
    [InlineData(0, 0.5)]
    [InlineData(1, 0.841344746)]
    [InlineData(-1, 0.158655254)]
    [InlineData(1.96, 0.975002105)]
    [InlineData(-3, 0.001349898)]
    public void ShareBelowIsThePrintedOne(double deviations, double share)
    {
        Assert.Equal(share, NormalDensity.Below(deviations, 1), 1e-9);
        Assert.Equal(share, NormalDensity.Below(7 * deviations, 7), 1e-9);
    }

    [Fact]
    public void SolidIsWeighedByTheArithmeticDoneByHand()
    {
        var view = Engine.Weigh(new Observation { State = PhysicalState.Solid });

        // Room 20 °C, spread 4 °C, mistakes 0.02: far below room 0.02, at it 0.5, far above it 0.98.
        double[] solid = [0.02, 0.5, 0.98, 0.5];
        var mean = solid.Average();
        Assert.Equal(Math.Log(solid[0] / mean), view.LogRatioOf(Four, "propanone"), 1e-9);
        Assert.Equal(Math.Log(solid[1] / mean), view.LogRatioOf(Four, "acetophenone"), 1e-9);
        Assert.Equal(Math.Log(solid[2] / mean), view.LogRatioOf(Four, "benzophenone"), 1e-9);
        Assert.Equal(Math.Log(solid[3] / mean), view.LogRatioOf(Four, "pentan-3-one"), 1e-9);
    }

    [Fact]
    public void LiquidAndSolidShareWhatThereIs()
    {
        double Of(PhysicalState state, string parent)
        {
            var view = Engine.Weigh(new Observation { State = state });
            return Math.Exp(view.LogRatioOf(Four, parent));
        }

        // Ratios are against the table's mean, which is 0.5 for either here.
        Assert.All(Four.Parents, parent =>
            Assert.Equal(2, Of(PhysicalState.Liquid, parent.Key) + Of(PhysicalState.Solid, parent.Key), 1e-9));
    }

    [Theory]
    [InlineData(PhysicalState.Solid)]
    [InlineData(PhysicalState.Liquid)]
    public void UnlistedCompoundMeltsAboutItsRelativeOrLikeAny(PhysicalState state)
    {
        // Relatives lie 35 °C about the listed melting point, and with the spread of 4 °C of a bench; 0.15 are like any.
        var spread = Math.Sqrt((4 * 4) + (35 * 35));
        double[] above = [.. new double[] { -115, 0, 28, 0 }.Select(celsius => NormalDensity.Below(celsius, spread))];
        double[] solid = [.. above
            .Select(share => (0.85 * share) + (0.15 * above.Average()))
            .Select(share => (0.98 * share) + (0.02 * (1 - share)))];

        string[] parents = ["propanone", "acetophenone", "benzophenone", "pentan-3-one"];
        Assert.All(parents.Zip(solid), of =>
        {
            Assert.True(Four.TryFindParent(of.First, out var parent));
            Assert.Equal(of.Second, Four.Solids.OfRelative(parent), 1e-12);
        });
        var seen = state == PhysicalState.Solid ? solid.Average() : 1 - solid.Average();
        Assert.Equal(
            Math.Log(seen / 0.5), Engine.Weigh(new Observation { State = state }).NoneLogLikelihoodRatio, 1e-9);
    }

    [Fact]
    public void MeltingPointTellsTwoLiquidsApartByNothing()
    {
        // Nobody melts at −90 or −40 °C at a bench: either is seen to be a liquid. At 40 and 90 °C the two are told apart.
        double Information(double one, double other) => TableSnapshot.Build(
            TestTable.Table(("a", "CC(C)=O", [126], [188]), ("b", "CCC(=O)CC", [156], [139])) with
            {
                Constants = [Constant("a", ParentProperty.MeltingPoint, one), Constant("b", ParentProperty.MeltingPoint, other)],
            },
            TestTable.Settings).MeltingForecast.ExpectedInformation(new([0.5, 0.5], 0));

        Assert.InRange(Information(-90, -40), 0, 0.01);
        Assert.InRange(Information(40, 90), 0.8 * Math.Log(2), Math.Log(2));
    }

    [Fact]
    public void TwoListedMeltingPointsCountHalfEach()
    {
        // One of 20 °C, where half is solid, and one far above.
        var snapshot = TableSnapshot.Build(
            TestTable.Table(("a", "CC(=O)c1ccccc1", [240], [199])) with
            {
                Constants = [Constant("a", ParentProperty.MeltingPoint, 20), Constant("a", ParentProperty.MeltingPoint, 80)],
            },
            TestTable.Settings);

        Assert.Equal((0.98 * 0.75) + (0.02 * 0.25), snapshot.Solids.Of(0), 1e-9);
    }

    [Fact]
    public void UnknownIsASolidByWhatIsBelievedOfItAndOfUnlistedOnes()
    {
        // Half propanone, a quarter benzophenone; a quarter unlisted, like acetophenone. Room 20 °C.
        double[] weights = Weights(("propanone", 0.5), ("benzophenone", 0.25));
        Four.TryFindParent("acetophenone", out var acetophenone);

        Assert.Equal(
            (0.5 * 0.02) + (0.25 * 0.98) + (0.25 * Four.Solids.OfRelative(acetophenone)),
            Four.Solids.Of(new(weights, 0.25), Four.Solids.OfRelatives(Weights(("acetophenone", 1)))),
            1e-9);

        double[] Weights(params (string Parent, double Weight)[] given) =>
            [.. Four.Parents.Select(parent => given.Where(of => of.Parent == parent.Key).Sum(of => of.Weight))];
    }

    [Theory]
    [InlineData(0.07, false)]
    [InlineData(0.2, true)]
    public void MeltingPointIsWorthTakingOnlyOfWhatMayBeASolid(double benzophenone, bool isProposed)
    {
        // A solid with probability 0.98·0.07 + 0.02·0.93 = 0.09 or 0.98·0.2 + 0.02·0.8 = 0.21; a tenth is asked for.
        bool IsProposed(PhysicalState? state) => Engine.Identify(new Observation
        {
            State = state,
            Prior = new PriorChoice
            {
                Weights = new Dictionary<string, double> { ["propanone"] = 1 - benzophenone, ["benzophenone"] = benzophenone },
                NoneOfThese = 0,
            },
        }).NextSteps.Any(step => step.Kind == NextStepKind.MeltingPoint);

        Assert.Equal(isProposed, IsProposed(null));
    }

    [Fact]
    public void MeltingRangeOfTheUnknownSaysItAll()
    {
        var melted = new Observation { MeltingPoint = new MeltingRange(47, 48) };

        Assert.Equal(
            Engine.Weigh(melted).Probability, Engine.Weigh(melted with { State = PhysicalState.Solid }).Probability);
    }

    [Theory]
    [InlineData(null, true, true)]
    [InlineData(PhysicalState.Liquid, true, false)]
    [InlineData(PhysicalState.Solid, false, true)]
    public void LiquidIsNotSentToTheMeltingBlockNorSolidToTheStill(PhysicalState? state, bool boils, bool melts)
    {
        var steps = Engine.Identify(new Observation { State = state }).NextSteps;

        Assert.Equal(boils, steps.Any(step => step.Kind == NextStepKind.BoilingPoint));
        Assert.Equal(melts, steps.Any(step => step.Kind == NextStepKind.MeltingPoint));
    }

    [Fact]
    public void SentenceNamesTheMeltingPoint()
    {
        var answer = Engine.Identify(new Observation { State = PhysicalState.Solid });
        string Sentence(string parent) => answer.Candidates.Single(c => c.Parent.Key == parent).Evidence
            .Single(evidence => evidence.Kind == EvidenceKind.State).Sentence;

        Assert.StartsWith("The unknown is a solid; benzophenone melts at 48 °C.", Sentence("benzophenone"), StringComparison.Ordinal);
        answer = Engine.Identify(new Observation { State = PhysicalState.Liquid });
        Assert.StartsWith("The unknown is a liquid; propanone melts at −95 °C.", Sentence("propanone"), StringComparison.Ordinal);
    }

    private static ParentConstant Constant(string parent, ParentProperty property, double celsius) =>
        TestTable.Constant(parent, property, celsius) with { Verification = Verification.Recalled };
}
