using CsCheck;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Tests.Ranking;

public sealed class IdentificationEngineTests
{
    private static readonly TableSnapshot Five = TestTable.Five();
    private static readonly IdentificationEngine Engine = new(Five);

    private static readonly string?[] Colours = ["yellow", "orange", "red", null];
    private static readonly string[] Tests = ["tollens", "schiff", "fehling", "iodoform"];

    private static readonly Gen<Observation> AnyObservation =
        from dnph in Gen.Double[20, 340]
        from span in Gen.Double[0, 12]
        from semicarbazone in Gen.Double[20, 340].Nullable()
        from came in Gen.Enum<Precipitate>()
        from colour in Gen.Int[0, 3].Select(i => Colours[i])
        from tests in Gen.Int[0, 3].HashSet[0, 4]
        from outcomes in Gen.Enum<SpotTests.SpotTestOutcome>().Array[4]
        from preparation in Gen.Enum<Preparation>()
        from state in Gen.Enum<PhysicalState>().Nullable()
        select new Observation
        {
            State = state,
            Derivatives =
            [
                Observed.Dnph(dnph, dnph + span, preparation, colour),
                .. semicarbazone is { } s ? new[] { Observed.Semicarbazone(s, s + 1) } : new[] { Observed.Came(TestTable.Semicarbazone, came) },
            ],
            SpotTests = [.. tests.Order().Select(test => new SpotTestReading(Tests[test], outcomes[test]))],
        };

    [Fact]
    public void WorkedIdentificationMatchesTheArithmeticDoneByHand()
    {
        var snapshot = TestTable.Snapshot(
            ("propanone", "CC(C)=O", [126], [188]), ("pentan-3-one", "CCC(=O)CC", [156], [139]));
        var view = new IdentificationEngine(snapshot).Weigh(new Observation
        {
            Derivatives = [Observed.Dnph(125, 127)],
            SpotTests = [Observed.Positive("iodoform")],
        });

        // Width 2 °C, recrystallised: pure exp(−2/1.2)/1.2, impure 2·exp(−2/2.5)/6.25, prior 0.3; τ = 1 + 0.7·2 = 2.4 °C.
        var pure = 0.7 * Math.Exp(-2 / 1.2) / 1.2;
        var impure = 0.3 * 2 * Math.Exp(-0.8) / 6.25;
        var impureShare = impure / (pure + impure);
        var core = Math.Sqrt((1.3 * 1.3) + (1.2 * 1.2));
        var wide = Math.Sqrt((core * core) + 81);
        double Own(double deviation) =>
            (0.83 * (1 - impureShare) * NormalDensity.At(deviation, core))
            + (0.83 * impureShare * new DepressedNormal(core, 2.4).At(deviation))
            + (0.13 * NormalDensity.At(deviation, wide))
            + (0.04 / 360);
        double Relative(double deviation) => (0.15 / 360) + (0.85 * NormalDensity.At(deviation, 30));

        // Iodoform positive: 0.98·0.95 + 0.02·0.05 for the methyl ketone, 0.98·0.05 + 0.02·0.95 for the other.
        var propanone = 0.45 * Own(1) * ((0.98 * 0.95) + (0.02 * 0.05));
        var pentanone = 0.45 * Own(-29) * ((0.98 * 0.05) + (0.02 * 0.95));
        var none = 0.1 * 0.5 * ((Relative(1) * ((0.98 * 0.95) + (0.02 * 0.05)))
            + (Relative(-29) * ((0.98 * 0.05) + (0.02 * 0.95))));
        var total = propanone + pentanone + none;

        Assert.Equal(propanone / total, view.ProbabilityOf(snapshot, "propanone"), 1e-12);
        Assert.Equal(pentanone / total, view.ProbabilityOf(snapshot, "pentan-3-one"), 1e-12);
        Assert.Equal(none / total, view.NoneOfThese, 1e-12);
    }

    [Fact]
    public void ProbabilitiesSumToOneWithNoneOfThese() =>
        AnyObservation.Sample(observation =>
        {
            var view = Engine.Weigh(observation);
            Assert.Equal(1, view.Probability.Sum() + view.NoneOfThese, 1e-12);
            Assert.All(view.Probability, p => Assert.InRange(p, 0, 1));
        });

    [Fact]
    public void OrderOfEvidenceDoesNotMatter() =>
        AnyObservation.Sample(observation =>
        {
            var reversed = observation with
            {
                Derivatives = [.. observation.Derivatives.Reverse()],
                SpotTests = [.. observation.SpotTests.Reverse()],
            };
            Assert.Equal(Engine.Weigh(observation).Probability, Engine.Weigh(reversed).Probability);
        });

    [Fact]
    public void ReadingCloserToACandidateNeverLowersIt() =>
        Gen.Select(Gen.Double[20, 340], Gen.Double[0, 1], Gen.Double[0, 12], Gen.Enum<Preparation>())
            .Sample((far, share, span, preparation) =>
            {
                var near = double.Lerp(far, 126, share);

                // All else equal: the other candidates keep theirs, so compare the candidate's own likelihood.
                double LogLikelihood(double clearPoint)
                {
                    var reading = Observed.Dnph(clearPoint - span, clearPoint, preparation);
                    var view = Engine.Weigh(new Observation { Derivatives = [reading] });
                    return view.LogRatioOf(Five, "propanone") + LogReference(reading.Range!.Value, preparation);
                }

                // The widths of two readings differ by rounding, which moves the likelihood in the ninth digit.
                Assert.True(LogLikelihood(near) >= LogLikelihood(far) - 1e-9);
            }, iter: 20 * Check.Iter);

    [Fact]
    public void FarCandidateNeverReordersTheOthers()
    {
        var wider = new IdentificationEngine(TestTable.Snapshot(
            ("propanone", "CC(C)=O", [126], [188]),
            ("pinacolone", "CC(=O)C(C)(C)C", [125], [157]),
            ("pentan-3-one", "CCC(=O)CC", [156], [139]),
            ("acetophenone", "CC(=O)c1ccccc1", [240], [199]),
            ("benzaldehyde", "O=Cc1ccccc1", [237], [222]),
            ("zz-far", "O=C(c1ccccc1)c1ccccc1", [330], [330])));
        AnyObservation.Sample(observation =>
        {
            // Of what is listed: an estimate is learnt from all that a table holds, and moves a little with it.
            observation = observation with { State = null, BoilingPoint = null, MeltingPoint = null };
            var before = Order(Engine.Identify(observation, 5));
            var after = Order(wider.Identify(observation, 6)).Where(key => key != "zz-far");
            Assert.Equal(before, after);
        }, iter: 2 * Check.Iter);
    }

    [Fact]
    public void UpdatingInTwoStepsEqualsUpdatingInOne()
    {
        var melting = new Observation { Derivatives = [Observed.Dnph(125, 127)], Prior = Closed() };
        var first = Engine.Weigh(melting);
        var second = Engine.Weigh(new Observation
        {
            Derivatives = [Observed.Semicarbazone(186, 188)],
            Prior = new PriorChoice
            {
                Weights = Five.Parents.Select((p, i) => (p.Key, first.Probability[i])).ToDictionary(),
                NoneOfThese = 0,
            },
        });
        var both = Engine.Weigh(melting with { Derivatives = [Observed.Dnph(125, 127), Observed.Semicarbazone(186, 188)] });

        Assert.All(both.Probability.Zip(second.Probability), pair => Assert.Equal(pair.First, pair.Second, 1e-12));
    }

    [Fact]
    public void RepeatedReadingOfOneKindIsNoSecondEvidence()
    {
        var once = Engine.Identify(new Observation { Derivatives = [Observed.Dnph(125, 127)] });
        var twice = Engine.Identify(new Observation
        {
            Derivatives = [Observed.Dnph(117, 124, Preparation.Crude), Observed.Dnph(125, 127)],
        });

        Assert.Equal(once.Candidates[0].Posterior, twice.Candidates[0].Posterior);
        Assert.Contains(twice.Warnings, warning => warning.Contains("carries no weight", StringComparison.Ordinal));
    }

    [Fact]
    public void NoEvidenceChangesNothing()
    {
        var answer = Engine.Identify(new Observation());

        Assert.All(answer.Candidates, candidate => Assert.Equal(0.18, candidate.Posterior, 1e-12));
        Assert.Equal(0.1, answer.NoneOfThese.Posterior, 1e-12);
        Assert.Empty(answer.Groups);
        Assert.Equal(["acetophenone", "benzaldehyde"], answer.Candidates.Take(2).Select(c => c.Parent.Key));
    }

    [Fact]
    public void EvidenceAddsUpToTheCandidatesRatio() =>
        AnyObservation.Sample(observation =>
        {
            var answer = Engine.Identify(observation, 5);
            Assert.All(answer.Candidates, candidate =>
            {
                Assert.Equal(candidate.LogLikelihoodRatio, candidate.Evidence.Sum(e => e.LogLikelihoodRatio), 1e-9);

                // The reader can redo the sum: posterior odds against the leader from priors and ratios alone.
                var leader = answer.Candidates[0];
                var odds = candidate.Prior / leader.Prior
                    * Math.Exp(candidate.LogLikelihoodRatio - leader.LogLikelihoodRatio);
                Assert.Equal(odds, candidate.Posterior / leader.Posterior, 1e-9);
            });
        });

    [Fact]
    public void ShelfListKeepsTheOthersOutAndOffersAMixedMeltingPoint()
    {
        var answer = Engine.Identify(new Observation
        {
            Derivatives = [Observed.Dnph(125, 127)],
            Prior = new PriorChoice
            {
                Weights = new Dictionary<string, double> { ["propanone"] = 1, ["pinacolone"] = 1 },
            },
        });

        Assert.Equal(2, answer.CandidatesConsidered);
        Assert.Contains(answer.NextSteps, step => step.Kind == NextStepKind.MixedMeltingPoint);
        Assert.Equal(["propanone", "pinacolone"], answer.Groups[0].ParentKeys);
        Assert.Equal(TestTable.Semicarbazone, answer.Groups[0].SeparatedBy?.Key);
    }

    [Fact]
    public void UnknownKeysAreRefused()
    {
        Assert.Throws<ArgumentException>(() => Engine.Weigh(new Observation
        {
            Derivatives = [new DerivativeReading("hydrazide", new MeltingRange(1, 2))],
        }));
        Assert.Throws<ArgumentException>(() => Engine.Weigh(new Observation { SpotTests = [Observed.Positive("litmus")] }));
        Assert.Throws<ArgumentException>(() => Engine.Weigh(new Observation
        {
            Prior = new PriorChoice { Weights = new Dictionary<string, double> { ["water"] = 1 } },
        }));
    }

    [Fact]
    public void NoneOfTheseRisesWhenReadingsPullApart()
    {
        // A share of 0.2 for readings that do not belong together: each as likely as from any parent for it alone.
        var settings = TestTable.Settings with { OpenSet = TestTable.Settings.OpenSet with { MixedShare = 0.2 } };
        var engine = new IdentificationEngine(TableSnapshot.Build(Five.Table, settings));
        var torn = new Observation { Derivatives = [Observed.Dnph(125, 126), Observed.Semicarbazone(221, 222)] };

        var (with, without) = (engine.Weigh(torn), Engine.Weigh(torn));
        Assert.Equal(
            Math.Log((0.8 * Math.Exp(without.NoneLogLikelihoodRatio)) + 0.2), with.NoneLogLikelihoodRatio, 1e-12);
        Assert.True(with.NoneOfThese > 0.5);

        // A single reading can't disagree with itself, nor does a spot test make two of it.
        var single = new Observation { Derivatives = [Observed.Dnph(125, 126)] };
        Assert.Equal(Engine.Weigh(single).NoneOfThese, engine.Weigh(single).NoneOfThese, 1e-12);
        var tested = single with { SpotTests = [Observed.Negative("tollens")] };
        Assert.Equal(Engine.Weigh(tested).NoneOfThese, engine.Weigh(tested).NoneOfThese, 1e-12);

        // Beside readings of two compounds a molar mass still is of one, listed or not.
        var massed = new Observation { MolarMass = new MolarMassReading(130, 5) };
        var both = torn with { MolarMass = massed.MolarMass };
        var mass = Engine.Weigh(massed).NoneLogLikelihoodRatio;
        Assert.True(mass > 1);
        Assert.Equal(
            Math.Log((0.8 * Math.Exp(Engine.Weigh(both).NoneLogLikelihoodRatio)) + (0.2 * Math.Exp(mass))),
            engine.Weigh(both).NoneLogLikelihoodRatio,
            1e-12);
    }

    private static PriorChoice Closed() => new() { NoneOfThese = 0 };

    private static IEnumerable<string> Order(Identification answer) => answer.Candidates.Select(c => c.Parent.Key);

    /// <summary>Logarithm of the mean likelihood over the five, to turn a ratio back into a likelihood.</summary>
    private static double LogReference(MeltingRange range, Preparation preparation)
    {
        var noise = new ReadingNoise(
            TestTable.Settings.DerivativeMelting,
            1,
            new ReadingError(1.2, TestTable.Settings.Depression.PurityOf(
                range.SpanCelsius > 0 ? range.SpanCelsius : null, preparation)));
        return Math.Log(new[] { 125.0, 126, 156, 237, 240 }.Average(listed =>
            noise.At(range.ClearPointCelsius - listed, new ListedTemperature(
                listed, listed, false, Compounds.Verification.Read, null, "invented", 1))));
    }
}
