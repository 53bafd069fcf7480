using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;

namespace Derivid.SeedTables.Tests.Identification;

/// <summary>Mixed meltings and times to the crystals, against the whole seed table and the shipped settings.</summary>
public sealed class MixedMeltingTests
{
    private const string Dnph = "2-4-dinitrophenylhydrazone";

    private static readonly TableSnapshot Snapshot = TableSnapshot.Build(
        Store.Seeding.SeedTables.Load(), ModelSettingsReader.BuiltIn());

    private static readonly IdentificationEngine Engine = new(Snapshot);

    private static readonly Observation Melted = new()
    {
        Derivatives = [new(Dnph, new MeltingRange(124.5, 126), Preparation.Recrystallised)],
        Prior = PriorChoice.OfShelf(["propanone", "3-3-dimethylbutan-2-one", "butanal", "benzaldehyde"]) with { NoneOfThese = 0.1 },
    };

    [Fact]
    public void UnchangedMixtureMakesItsPartnerLead()
    {
        foreach (var partner in new[] { "propanone", "3-3-dimethylbutan-2-one", "butanal" })
        {
            var after = Engine.Weigh(Mixed(partner, 124.5, 126, 126.5));

            Assert.Equal(partner, Snapshot.Parents[after.Order[0]].Key);
            Assert.Equal(1, after.Probability.Sum() + after.NoneOfThese, 1e-12);
        }
    }

    [Fact]
    public void MixtureThatMeltsTwentyDegreesLowerAllButRulesItsPartnerOut()
    {
        var (before, after) = (Engine.Weigh(Melted), Engine.Weigh(Mixed("propanone", 95, 106, 126.5)));

        Assert.True(ProbabilityOf(before, "propanone") > 0.2);
        Assert.True(ProbabilityOf(after, "propanone") < 0.05, $"{ProbabilityOf(after, "propanone")}");
        Assert.True(after.NoneOfThese > before.NoneOfThese);
        Assert.Equal(1, after.Probability.Sum() + after.NoneOfThese, 1e-12);
    }

    /// <summary>How much a mixture counts for the partner, sharp recrystallised crystals and an authentic sample beside it.</summary>
    [Fact]
    public void TheLowerAMixtureMeltsTheLessItCountsForItsPartner()
    {
        int[] lowered = [0, 1, 3, 5, 8, 12, 20];
        var factors = lowered.Select(low => Factor(188 - low, 189 - low)).ToList();
        var told = string.Join(' ', factors);

        Assert.True(factors.Zip(factors.Skip(1)).All(pair => pair.First > pair.Second), told);
        Assert.True(factors[0] > 12, told);
        Assert.True(factors[1] > 6, told);
        Assert.True(factors[2] is > 0.3 and < 1.1, told);
        Assert.True(factors[3] < 0.5, told);
        Assert.True(factors.Skip(4).All(factor => factor is > 0.03 / 0.95 and < 0.1), told);
    }

    [Theory]
    [InlineData(160, 188)]
    [InlineData(100, 190)]
    [InlineData(170, 189)]
    public void MixtureThatMeltsFarWiderSpeaksAgainstItsPartner(double onset, double clear)
    {
        Assert.InRange(Factor(onset, clear), 0.03 / 0.95, 0.1);

        var answer = Engine.Identify(Semicarbazone(onset, clear));
        Assert.Contains(answer.Warnings, warning => warning.Contains("wider than what was melted beside it", StringComparison.Ordinal));
        Assert.DoesNotContain(answer.Warnings, warning => warning.Contains("strong evidence", StringComparison.Ordinal));
    }

    [Fact]
    public void WordsGoWithTheFactor()
    {
        for (var low = -3.0; low <= 30; low += 0.25)
        {
            foreach (var span in new[] { 0.0, 1, 2, 5, 10, 30 })
            {
                var evidence = Engine.Identify(Semicarbazone(189 - low - span, 189 - low), maximumCandidates: 4).Candidates
                    .Single(candidate => candidate.Parent.Key == "propanone").Evidence.Single(each => each.Kind == EvidenceKind.MixedMelting);

                Assert.False(evidence.Sentence.Contains("°C, lowered", StringComparison.Ordinal) && evidence.LogLikelihoodRatio >= 0, evidence.Sentence);
                Assert.False(evidence.Sentence.Contains("°C, unchanged", StringComparison.Ordinal) && evidence.LogLikelihoodRatio <= 0, evidence.Sentence);
            }
        }
    }

    [Fact]
    public void MixtureThatClearsFarAboveTheCrystalsIsNotUnchanged()
    {
        var seen = Semicarbazone(187, 189) with { Derivatives = [new("semicarbazone", new MeltingRange(120, 122), Preparation.Recrystallised)] };
        var answer = Engine.Identify(seen);

        Assert.True(Ratio(seen) <= 1, $"{Ratio(seen)}");
        Assert.Contains(answer.Warnings, warning => warning.Contains("above the unknown's own crystals", StringComparison.Ordinal));
        Assert.DoesNotContain(answer.Warnings, warning => warning.Contains("strong evidence", StringComparison.Ordinal));
    }

    [Fact]
    public void UnchangedWithAPartnerOffTheShelfRaisesNoneOfThese()
    {
        var seen = Semicarbazone(187, 189) with { Prior = PriorChoice.OfShelf(["butanone", "cyclohexanone", "benzaldehyde"]) };
        var (before, after) = (Engine.Weigh(seen with { MixedMeltings = [] }).NoneOfThese, Engine.Weigh(seen).NoneOfThese);

        Assert.True(after > before, $"{before} {after}");
        Assert.Contains(Engine.Identify(seen).Warnings, warning => warning.Contains("not among the compounds allowed", StringComparison.Ordinal));
    }

    private static Observation Semicarbazone(double onset, double clear) => new()
    {
        Derivatives = [new("semicarbazone", new MeltingRange(188, 189), Preparation.Recrystallised)],
        MixedMeltings = [new("semicarbazone", "propanone", new MeltingRange(onset, clear), new MeltingRange(187, 189))],
        Prior = PriorChoice.OfShelf(["propanone", "butanone", "cyclohexanone", "benzaldehyde"]),
    };

    private static double Factor(double onset, double clear) => Ratio(Semicarbazone(onset, clear));

    private static double Ratio(Observation seen) => Math.Exp(
        RatioOf(Engine.Weigh(seen), "propanone") - RatioOf(Engine.Weigh(seen with { MixedMeltings = [] }), "propanone"));

    [Fact]
    public void TwoMixturesPointTheSameWayInWhateverOrder()
    {
        MixedMeltingReading[] readings =
        [
            new(Dnph, "propanone", new MeltingRange(90, 100), new MeltingRange(126, 126.5)),
            new(Dnph, "butanal", new MeltingRange(123, 124), new MeltingRange(123, 124)),
        ];
        var forward = Engine.Weigh(Melted with { MixedMeltings = readings });
        var backward = Engine.Weigh(Melted with { MixedMeltings = [readings[1], readings[0]] });

        Assert.Equal(forward.Probability, backward.Probability);
        Assert.Equal("butanal", Snapshot.Parents[forward.Order[0]].Key);
    }

    [Fact]
    public void EveryKindAndTheUnknownItselfCanBeMixed() =>
        Assert.All([.. Snapshot.Kinds.Select(kind => kind.Kind.Key), null], kind =>
        {
            var answer = Engine.Identify(new Observation
            {
                MixedMeltings = [new MixedMeltingReading(kind, "benzophenone", new MeltingRange(80, 95))],
            });

            Assert.True(answer.Candidates.All(candidate => double.IsFinite(candidate.LogLikelihoodRatio)));
            Assert.Equal(1, Engine.Weigh(new Observation { MixedMeltings = [new MixedMeltingReading(kind, "benzophenone", new MeltingRange(80, 95))] }) is var view
                ? view.Probability.Sum() + view.NoneOfThese : 0, 1e-12);
        });

    /// <summary>
    /// That semicarbazones of pinacolone and acetophenone form far more slowly than propanone's and cyclohexanone's: Conant and
    /// Bartlett 1932, Price and Hammett 1941, beside the settings.
    /// </summary>
    [Fact]
    public void SemicarbazoneAfterHoursSpeaksForHinderedAndAromaticKetones()
    {
        var view = Engine.Weigh(new Observation { Derivatives = [new("semicarbazone", null, Time: PrecipitateTime.Hours)] });

        foreach (var slow in new[] { "3-3-dimethylbutan-2-one", "acetophenone", "decan-2-one" })
        {
            foreach (var prompt in new[] { "propanone", "cyclohexanone", "butanal" })
            {
                Assert.InRange(Math.Exp(RatioOf(view, slow) - RatioOf(view, prompt)), 2, 4);
            }
        }
    }

    [Fact]
    public void TimesOfDinitrophenylhydrazonesAndSemicarbazonesAloneCarryWeight() =>
        Assert.Equal(
            [Dnph, "semicarbazone"],
            Snapshot.Kinds.Select(kind => kind.Kind.Key).Where(kind => Engine
                .Weigh(new Observation { Derivatives = [new(kind, null, Time: PrecipitateTime.Seconds)] })
                .LogLikelihoodRatio.Any(ratio => ratio != 0)));

    [Fact]
    public void NoTimeChangesTheOddsOfTwoClassesByMoreThanAFactorOfFour()
    {
        foreach (var kind in Snapshot.Kinds)
        {
            foreach (var time in Enum.GetValues<PrecipitateTime>())
            {
                var ratios = Engine.Weigh(new Observation { Derivatives = [new(kind.Kind.Key, null, Time: time)] }).LogLikelihoodRatio;

                Assert.True(Math.Exp(ratios.Max() - ratios.Min()) <= 4);
            }
        }
    }

    private static Observation Mixed(string partner, double onset, double clear, double authentic) => Melted with
    {
        MixedMeltings = [new(Dnph, partner, new MeltingRange(onset, clear), new MeltingRange(authentic - 0.5, authentic))],
    };

    private static double ProbabilityOf(PosteriorView view, string parent) =>
        Snapshot.TryFindParent(parent, out var index) ? view.Probability[index] : throw new ArgumentException(parent);

    private static double RatioOf(PosteriorView view, string parent) =>
        Snapshot.TryFindParent(parent, out var index) ? view.LogLikelihoodRatio[index] : throw new ArgumentException(parent);
}
