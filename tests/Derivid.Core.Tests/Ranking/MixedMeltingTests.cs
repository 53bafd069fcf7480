using CsCheck;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Ranking;

/// <summary>A mixed melting as evidence.</summary>
public sealed class MixedMeltingTests
{
    private static readonly TableSnapshot Five = TestTable.Five();
    private static readonly IdentificationEngine Engine = new(Five);

    private static readonly Observation Melted = new() { Derivatives = [Observed.Dnph(124.5, 126)] };

    [Fact]
    public void UnchangedMixtureRaisesItsPartnerByAboutNineteenToOne()
    {
        var (before, after) = (Engine.Weigh(Melted), Engine.Weigh(Mixed(Melted, "propanone", 124.5, 126, 125)));

        Assert.True(after.ProbabilityOf(Five, "propanone") > 0.9);
        Assert.InRange(Odds(after, "propanone", "pinacolone") / Odds(before, "propanone", "pinacolone"), 10, 0.97 / 0.05);
    }

    [Theory]
    [InlineData(20)]
    [InlineData(30)]
    public void MixtureThatMeltsLowerAllButRulesItsPartnerOut(double lower)
    {
        var (before, after) = (Engine.Weigh(Melted), Engine.Weigh(Mixed(Melted, "propanone", 110 - lower, 126 - lower, 125)));

        Assert.InRange(Odds(before, "propanone", "pinacolone") / Odds(after, "propanone", "pinacolone"), 15, 0.95 / 0.03);
        Assert.True(after.ProbabilityOf(Five, "propanone") < 0.05);
    }

    [Fact]
    public void WhatItCountsIsWhatTheNextStepForesees()
    {
        // Where two compounds hardly ever clear as high as the sample alone, 0.97 stands against 0.05, but for errors of reading.
        var sharp = Melted with { Derivatives = [Observed.Dnph(126, 126)] };
        var ratio = Engine.Weigh(Mixed(sharp, "propanone", 126, 126, 126)).LogRatioOf(Five, "propanone")
            - Engine.Weigh(sharp).LogRatioOf(Five, "propanone");
        var other = Engine.Weigh(Mixed(sharp, "propanone", 126, 126, 126)).LogRatioOf(Five, "benzaldehyde")
            - Engine.Weigh(sharp).LogRatioOf(Five, "benzaldehyde");

        Assert.InRange(ratio - other, Math.Log(0.97 / 0.05) - 0.2, Math.Log(0.97 / 0.05));
    }

    [Fact]
    public void SumsToOneAndOrderDoesNotCount() =>
        Gen.Select(Gen.Double[20, 340], Gen.Double[0, 20], Gen.Int[0, 4], Gen.Bool, Gen.Bool).Sample((clear, span, partner, isMelted, isBeside) =>
        {
            var (one, other) = (Five.Parents[partner].Key, Five.Parents[(partner + 1) % 5].Key);
            var seen = isMelted ? Melted : new Observation();
            var readings = new[]
            {
                Reading(one, Math.Max(0, clear - span), clear, isBeside ? 130 : null),
                Reading(other, 100, 126, null),
                new MixedMeltingReading(null, other, new MeltingRange(40, 45)),
            };
            var forward = Engine.Weigh(seen with { MixedMeltings = readings });
            var backward = Engine.Weigh(seen with { MixedMeltings = [.. readings.Reverse()] });

            Assert.Equal(1, forward.Probability.Sum() + forward.NoneOfThese, 1e-12);
            Assert.Equal(forward.Probability, backward.Probability);
            Assert.Equal(forward.NoneOfThese, backward.NoneOfThese);
        });

    [Fact]
    public void NoneOfTheseIsAnUnlikeCompound()
    {
        var (before, after) = (Engine.Weigh(Melted), Engine.Weigh(Mixed(Melted, "propanone", 80, 100, 125)));

        // As much as any other compound that is not the partner.
        Assert.Equal(
            after.LogRatioOf(Five, "benzaldehyde") - before.LogRatioOf(Five, "benzaldehyde"),
            after.NoneLogLikelihoodRatio - before.NoneLogLikelihoodRatio,
            1e-9);
        Assert.True(after.NoneOfThese > before.NoneOfThese);
    }

    [Fact]
    public void WithoutAReadingOfTheCrystalsEachCandidatesListedValueStandsIn()
    {
        // Authentic semicarbazone at 188 °C: with one at 222 °C the mixture clears higher than with one at 139 °C.
        var seen = new Observation
        {
            MixedMeltings = [new MixedMeltingReading(TestTable.Semicarbazone, "propanone", new MeltingRange(150, 175))],
        };
        var after = Engine.Weigh(seen);

        Assert.True(after.LogRatioOf(Five, "benzaldehyde") > after.LogRatioOf(Five, "propanone"));
        Assert.True(after.LogRatioOf(Five, "benzaldehyde") > after.LogRatioOf(Five, "pentan-3-one"));
    }

    [Fact]
    public void PartnerWithNothingListedIsWeighedByItsEstimateOrItsOwnSample()
    {
        var unlisted = TestTable.Snapshot(
            ("propanone", "CC(C)=O", [126], [188]), ("bare", "CC(=O)CC", [], []), ("pentan-3-one", "CCC(=O)CC", [156], [139]));
        var engine = new IdentificationEngine(unlisted);
        double Against(Observation seen) =>
            engine.Weigh(seen).LogRatioOf(unlisted, "bare") - engine.Weigh(seen).LogRatioOf(unlisted, "propanone");

        Assert.InRange(Against(Mixed(Melted, "bare", 125, 126, 126)) - Against(Melted), 2, Math.Log(0.97 / 0.05));
        Assert.InRange(Against(Mixed(Melted, "bare", 125, 126, null)) - Against(Melted), 0.5, Math.Log(0.97 / 0.05));
        Assert.InRange(Against(Mixed(Melted, "bare", 90, 100, 126)) - Against(Melted), Math.Log(0.03 / 0.95), -2);
    }

    [Fact]
    public void ThermometerErrorDropsOutBesideAReading()
    {
        // The authentic sample read 3 °C high as well: unchanged. Against the listed value alone the reading is 3 °C off.
        var high = new Observation { MixedMeltings = [Reading("propanone", 128, 129, 129)] };
        var alone = new Observation { MixedMeltings = [Reading("propanone", 128, 129, null)] };

        Assert.True(Engine.Weigh(high).LogRatioOf(Five, "propanone") > Engine.Weigh(alone).LogRatioOf(Five, "propanone"));
    }

    [Fact]
    public void SentencesSayWhatWasSeenAndWhatWasExpected()
    {
        var answer = Engine.Identify(Mixed(Melted, "propanone", 124.5, 126, 126));

        Assert.StartsWith(
            $"The mixture with authentic {TestTable.Dnph} of propanone cleared at 126 °C, unchanged beside the authentic sample's 126 °C, as that of propanone with itself would.",
            Sentence(answer, "propanone"),
            StringComparison.Ordinal);
        // By hand, both at 399.15 K: 399.15/(1 + 8.3145·ln 2/56.5) is 362.2 K; the entropies up and down by 1.47.
        Assert.StartsWith(
            $"The mixture with authentic {TestTable.Dnph} of propanone cleared at 126 °C; if the unknown is benzaldehyde, it would be expected to clear at about 89 °C (74 to 100 °C).",
            Sentence(answer, "benzaldehyde"),
            StringComparison.Ordinal);
        Assert.StartsWith(
            $"The mixture with authentic {TestTable.Dnph} of propanone cleared at 100 °C, lowered and wider beside the authentic sample's 126 °C; that of propanone with itself would be unchanged.",
            Sentence(Engine.Identify(Mixed(Melted, "propanone", 85, 100, 126)), "propanone"),
            StringComparison.Ordinal);
        Assert.Contains(
            "cleared at 136 °C, raised beside the authentic sample's 126 °C;",
            Sentence(Engine.Identify(Mixed(Melted, "propanone", 135, 136, 126)), "propanone"),
            StringComparison.Ordinal);
    }

    [Fact]
    public void OnsetIsTheEutecticsWhereTheTwoMeltFarApart() =>
        // By hand: 237 °C clears at 510.15/1.102 = 462.9 K; with 126 °C the eutectic lies where both curves meet, 118.2 °C.
        Assert.Contains(
            "if the unknown is benzaldehyde, it would be expected to begin to melt near 118 °C and to clear at about 190 °C",
            Sentence(Engine.Identify(Mixed(new Observation(), "propanone", 120, 126, null)), "benzaldehyde"),
            StringComparison.Ordinal);

    [Fact]
    public void ReadingIsListedAsUsed()
    {
        var answer = Engine.Identify(Mixed(Melted, "propanone", 124.5, 126, 126));

        Assert.Equal((EvidenceKind.MixedMelting, TestTable.Dnph), (answer.Readings[^1].Kind, answer.Readings[^1].Subject));
        Assert.Equal(new MeltingRange(124.5, 126), answer.Readings[^1].AsUsed);
    }

    [Fact]
    public void UnchangedMixtureIsToldToBeNoProof() =>
        Assert.Contains(
            Engine.Identify(Mixed(Melted, "propanone", 124.5, 126, 126)).Warnings,
            warning => warning.Contains("no proof: some pairs of compounds", StringComparison.Ordinal));

    [Theory]
    [InlineData(126, 140, "melted higher than either alone")]
    [InlineData(140, 126, "make sure that it is what its label says")]
    public void OddReadingsAreWarnedOf(double authentic, double mixture, string warning) =>
        Assert.Contains(
            Engine.Identify(Mixed(Melted, "propanone", mixture - 1, mixture, authentic)).Warnings,
            each => each.Contains(warning, StringComparison.Ordinal));

    [Fact]
    public void MixtureReadIsNotProposedAgain()
    {
        var shelf = Melted with { Prior = PriorChoice.OfShelf(["propanone", "pinacolone"]) };

        Assert.Contains(Engine.Identify(shelf).NextSteps, step => step.Kind == NextStepKind.MixedMeltingPoint);
        var leader = Engine.Identify(shelf).Candidates[0].Parent.Key;
        Assert.DoesNotContain(
            Engine.Identify(Mixed(shelf, leader, 124.5, 126, 126)).NextSteps, step => step.Kind == NextStepKind.MixedMeltingPoint);
    }

    [Fact]
    public void MixtureOfTheUnknownItselfIsWeighedByItsMeltingPoint()
    {
        var snapshot = TableSnapshot.Build(
            TestTable.Table(("one", "O=Cc1ccccc1", [126], [188]), ("two", "O=Cc1ccccc1C", [126], [188])) with
            {
                Constants =
                [
                    TestTable.Constant("one", Compounds.ParentProperty.MeltingPoint, 48),
                    TestTable.Constant("two", Compounds.ParentProperty.MeltingPoint, 47),
                ],
            },
            TestTable.Settings);
        var engine = new IdentificationEngine(snapshot);
        var seen = new Observation { MeltingPoint = new MeltingRange(47, 48) };
        MixedMeltingReading mixed = new(null, "one", new MeltingRange(47, 48), new MeltingRange(47.5, 48));

        Assert.InRange(
            engine.Weigh(seen with { MixedMeltings = [mixed] }).LogRatioOf(snapshot, "one")
                - engine.Weigh(seen with { MixedMeltings = [mixed] }).LogRatioOf(snapshot, "two")
                - (engine.Weigh(seen).LogRatioOf(snapshot, "one") - engine.Weigh(seen).LogRatioOf(snapshot, "two")),
            2.3,
            Math.Log(0.97 / 0.05));
    }

    [Fact]
    public void UnknownPartnerIsRefused() =>
        Assert.Throws<ArgumentException>(() => Engine.Weigh(Mixed(Melted, "nobody", 100, 110, null)));

    private static Observation Mixed(Observation seen, string partner, double onset, double clear, double? authentic) =>
        seen with { MixedMeltings = [Reading(partner, onset, clear, authentic)] };

    private static MixedMeltingReading Reading(string partner, double onset, double clear, double? authentic) => new(
        TestTable.Dnph, partner, new MeltingRange(onset, clear), authentic is { } read ? new MeltingRange(read - 0.5, read) : null);

    private static double Odds(PosteriorView view, string one, string other) =>
        Math.Exp(view.LogRatioOf(Five, one) - view.LogRatioOf(Five, other));

    private static string Sentence(Identification answer, string parent) => answer.Candidates
        .Single(candidate => candidate.Parent.Key == parent)
        .Evidence.Single(evidence => evidence.Kind == EvidenceKind.MixedMelting).Sentence;
}
