using CsCheck;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Ranking;

/// <summary>A derivative that did not form, as evidence and as forecast.</summary>
public sealed class PrecipitateTests
{
    private static readonly Precipitate[] Outcomes = Enum.GetValues<Precipitate>();

    private static readonly TableSnapshot Six = TestTable.Snapshot(
        ("propanone", "CC(C)=O", [126], [188]),
        ("hindered", "CC(C)C(=O)C(C)C", [95], [160]),
        ("diketone", "CC(=O)CC(C)=O", [], [122]),
        ("low-melting", "CCC(=O)CC", [40], [139]),
        ("high-melting", "CC(=O)c1ccccc1", [240], [199]),
        ("aldehyde", "O=Cc1ccccc1", [237], [222]));

    private static readonly IdentificationEngine Engine = new(Six);

    [Fact]
    public void OutcomesOfEveryParentSumToOne()
    {
        foreach (var kind in Six.Kinds)
        {
            Assert.Equal(1, Outcomes.Sum(kind.Precipitates.OfNotCarbonyl), 1e-12);
            for (var parent = 0; parent < Six.Parents.Count; parent++)
            {
                Assert.Equal(1, Outcomes.Sum(outcome => kind.Precipitates.Of(outcome)[parent]), 1e-12);
                Assert.All(Outcomes, outcome => Assert.InRange(kind.Precipitates.Of(outcome)[parent], 1e-9, 1));
            }
        }
    }

    [Fact]
    public void RatesFollowFromTheSettings()
    {
        var rates = Six.Kind(TestTable.Dnph).Precipitates;

        // Settings of the test table: works 0.95, 0.6 if slow, 0.3 if a ring closes; a failed mixing gives oil in 0.2.
        Assert.Equal(0.05 * 0.8, rates.Of(Precipitate.None)[IndexOf("propanone")], 1e-12);
        Assert.Equal(0.4 * 0.8, rates.Of(Precipitate.None)[IndexOf("hindered")], 1e-12);
        Assert.Equal(0.7 * 0.8, rates.Of(Precipitate.None)[IndexOf("diketone")], 1e-12);
        Assert.Equal(0.96 * 0.8, rates.OfNotCarbonyl(Precipitate.None), 1e-12);
        // Oils: half of the products at 20 °C, e times fewer every 40 °C higher.
        Assert.Equal(
            (0.95 * 0.5 * Math.Exp(-(126.0 - 20) / 40)) + (0.05 * 0.2),
            rates.Of(Precipitate.Oil)[IndexOf("propanone")],
            1e-12);
    }

    [Theory]
    [InlineData("CCCCCCCCC(C)=O", "C10H20O", true)] // decan-2-one
    [InlineData("CCCCCCCCC=O", "C9H18O", true)] // nonanal
    [InlineData("CCCCCCC(C)=O", "C8H16O", false)] // octan-2-one, short
    [InlineData("O=C1CCCCCCCCC1", "C10H18O", false)] // cyclodecanone, no open chain
    [InlineData("CCCCCCCC(=O)CO", "C9H18O2", false)] // 1-hydroxynonan-2-one, another oxygen
    [InlineData("CCCCCCCCCC(=O)CCl", "C11H21ClO", false)] // a chlorine
    [InlineData("CCCCCCCCC(C)=O", "", false)] // no formula to tell by
    public void LongOpenChainIsSlow(string smiles, string formula, bool isSlow)
    {
        var table = TestTable.Table(("chain", smiles, [126], [188]));
        var snapshot = TableSnapshot.Build(
            table with { Parents = [.. table.Parents.Select(parent => parent with { Formula = formula })] }, TestTable.Settings);

        Assert.Equal(
            (isSlow ? 0.4 : 0.05) * 0.8, snapshot.Kind(TestTable.Dnph).Precipitates.Of(Precipitate.None)[0], 1e-12);
    }

    [Fact]
    public void RatesOfAReagentWithASpotTestAreThatTests()
    {
        var table = TestTable.Table(
            ("methyl-ketone", "CC(C)=O", [126], []), ("other-ketone", "CCC(=O)CC", [156], []), ("aldehyde", "O=Cc1ccccc1", [237], [222]));
        var snapshot = TableSnapshot.Build(
            table with
            {
                Kinds = [.. table.Kinds.Select(kind => kind with
                {
                    TestKey = "iodoform",
                    AppliesTo = kind.Key == TestTable.Semicarbazone ? "aldehyde" : "any",
                })],
                Responses = [.. table.Responses.Select(row =>
                    row is { TestKey: "iodoform", Order: 1 } ? row with { SourceKey = "rates" } : row)
                    .Where(row => row is not { TestKey: "iodoform", Order: 2 })],
            },
            TestTable.Settings);
        double Nothing(string kind, string parent) => snapshot.TryFindParent(parent, out var index)
            ? snapshot.Kind(kind).Precipitates.Of(Precipitate.None)[index]
            : double.NaN;
        IReadOnlyList<string> Sources(string kind, string parent) => new IdentificationEngine(snapshot)
            .Identify(new Observation { Derivatives = [Observed.Came(kind, Precipitate.None)] })
            .Candidates.Single(candidate => candidate.Parent.Key == parent).Evidence.Single().SourceKeys;

        // A contrary sample in 50; where the reaction fails, nothing comes in 0.8. A ketone forms no semicarbazone here: 0.04.
        Assert.Equal((1 - ((0.98 * 0.95) + (0.02 * 0.05))) * 0.8, Nothing(TestTable.Dnph, "methyl-ketone"), 1e-12);
        Assert.Equal((1 - ((0.98 * 0.05) + (0.02 * 0.95))) * 0.8, Nothing(TestTable.Dnph, "other-ketone"), 1e-12);
        Assert.Equal(0.96 * 0.8, Nothing(TestTable.Semicarbazone, "methyl-ketone"), 1e-12);
        snapshot.TryFindParent("methyl-ketone", out var methylKetone);
        Assert.Equal(0.96 * 0.2, snapshot.Kind(TestTable.Semicarbazone).Precipitates.Of(Precipitate.Oil)[methylKetone], 1e-12);
        Assert.Equal(["rates"], Sources(TestTable.Dnph, "methyl-ketone"));
        Assert.Equal(["invented"], Sources(TestTable.Dnph, "other-ketone"));
        Assert.Empty(Sources(TestTable.Semicarbazone, "methyl-ketone"));
        Assert.Empty(Engine.Identify(Came(Precipitate.None)).Candidates[0].Evidence.Single().SourceKeys);
    }

    [Fact]
    public void OilsGrowFewerTheHigherADerivativeMelts() =>
        Gen.Double[-50, 400].Array[2].Sample(celsius =>
        {
            Array.Sort(celsius);
            var settings = TestTable.Settings.Precipitate;
            Assert.InRange(settings.OilsAt(celsius[1]), 0, settings.OilsAt(celsius[0]));
            Assert.InRange(settings.OilsAt(celsius[0]), 0, settings.LowMeltingOilShare);
        });

    [Fact]
    public void NothingRaisesWhatReactsBadlyAndLowersWhatReactsReadily()
    {
        var view = Engine.Weigh(Came(Precipitate.None));

        Assert.True(view.LogRatioOf(Six, "diketone") > view.LogRatioOf(Six, "hindered"));
        Assert.True(view.LogRatioOf(Six, "hindered") > 0);
        Assert.True(view.LogRatioOf(Six, "propanone") < 0);
        Assert.True(view.NoneOfThese > TestTable.Settings.OpenSet.Prior);
    }

    [Fact]
    public void WorkedFailureMatchesTheArithmeticDoneByHand()
    {
        var view = Engine.Weigh(Came(Precipitate.None));

        // Four ready parents, a slow one, a ring; six alike in the prior; a fifth of the unlisted is no carbonyl compound.
        var listed = 0.8 * ((4 * 0.05) + 0.4 + 0.7);
        var none = 0.1 * ((0.2 * 0.96 * 0.8) + (0.8 * listed / 6));
        var total = (0.9 * listed / 6) + none;
        Assert.Equal(none / total, view.NoneOfThese, 1e-12);
        Assert.Equal(0.9 / 6 * 0.7 * 0.8 / total, view.ProbabilityOf(Six, "diketone"), 1e-12);
    }

    [Fact]
    public void OilRaisesTheLowMeltingDerivativeAboveTheHighMeltingOne()
    {
        var view = Engine.Weigh(Came(Precipitate.Oil));

        Assert.True(view.LogRatioOf(Six, "low-melting") > 0);
        Assert.True(view.LogRatioOf(Six, "low-melting") > view.LogRatioOf(Six, "propanone"));
        Assert.True(view.LogRatioOf(Six, "propanone") > view.LogRatioOf(Six, "high-melting"));
    }

    [Fact]
    public void TwoReagentsThatFailGoTogetherForNoneOfThese()
    {
        var both = Engine.Weigh(new Observation
        {
            Derivatives =
            [
                Observed.Came(TestTable.Semicarbazone, Precipitate.None),
                Observed.Came(TestTable.Dnph, Precipitate.None),
            ],
        });

        // Joint for each relative: 0.2·(0.96·0.8)² + 0.8·(own rate)², both kinds having the same rates here.
        double[] rates = [0.04, 0.04, 0.04, 0.04, 0.32, 0.56];
        var listed = rates.Sum(rate => rate * rate) / 6;
        var none = 0.1 * ((0.2 * 0.768 * 0.768) + (0.8 * listed));
        Assert.Equal(none / (none + (0.9 * listed)), both.NoneOfThese, 1e-12);
    }

    [Fact]
    public void CrystalsOfAnotherKindTakeTheDoubtOfACarbonylAway()
    {
        var failed = Engine.Weigh(Came(Precipitate.None)).NoneLogLikelihoodRatio;
        var alone = Engine.Weigh(new Observation { Derivatives = [Observed.Semicarbazone(187, 188)] });
        var both = Engine.Weigh(new Observation
        {
            Derivatives = [Observed.Semicarbazone(187, 188), Observed.Came(TestTable.Dnph, Precipitate.None)],
        });

        Assert.True(both.NoneLogLikelihoodRatio - alone.NoneLogLikelihoodRatio < failed);
    }

    [Fact]
    public void DoubtIsTakenAwayByAsMuchAsTheCrystalsOfAnotherKindTell()
    {
        var view = Engine.Weigh(new Observation
        {
            Derivatives =
            [
                Observed.Came(TestTable.Dnph, Precipitate.None), Observed.Came(TestTable.Semicarbazone, Precipitate.Crystals),
            ],
        });

        // Of the relatives of each parent a fifth is no carbonyl compound, and gives crystals of a semicarbazone in 0.04; what
        // is left of that fifth after the crystals counts for the failure.
        var crystals = Six.Kind(TestTable.Semicarbazone).Precipitates.Of(Precipitate.Crystals).ToArray();
        var nothing = Six.Kind(TestTable.Dnph).Precipitates.Of(Precipitate.None).ToArray();
        var relatives = crystals.Zip(nothing, (came, failed) =>
        {
            var left = 0.2 * 0.04 / ((0.2 * 0.04) + (0.8 * came));
            return (left * 0.96 * 0.8) + ((1 - left) * failed);
        });
        Assert.Equal(Math.Log(relatives.Average() / nothing.Average()), view.NoneLogLikelihoodRatio, 1e-12);
    }

    [Fact]
    public void CrystalsCarryNoWeightOfTheirOwn()
    {
        var melted = new Observation { Derivatives = [Observed.Dnph(125, 126)] };
        var told = new Observation { Derivatives = [Observed.Dnph(125, 126) with { Precipitate = Precipitate.Crystals }] };

        Assert.Equal(Engine.Weigh(melted).Probability, Engine.Weigh(told).Probability);
        Assert.All(Engine.Weigh(Came(Precipitate.Crystals)).LogLikelihoodRatio, ratio => Assert.Equal(0, ratio));
    }

    [Fact]
    public void BestOfSeveralAttemptsCounts()
    {
        var melted = Engine.Weigh(new Observation { Derivatives = [Observed.Dnph(125, 126)] });
        var second = Engine.Weigh(new Observation
        {
            Derivatives = [Observed.Came(TestTable.Dnph, Precipitate.None), Observed.Dnph(125, 126)],
        });
        var oil = Engine.Weigh(new Observation
        {
            Derivatives = [Observed.Came(TestTable.Dnph, Precipitate.None), Observed.Came(TestTable.Dnph, Precipitate.Oil)],
        });

        Assert.Equal(melted.Probability, second.Probability);
        Assert.Equal(Engine.Weigh(Came(Precipitate.Oil)).Probability, oil.Probability);
    }

    [Fact]
    public void AnswerSaysWhatIsUsualWhatToCheckAndWhatItMayBeInstead()
    {
        var answer = Engine.Identify(Came(Precipitate.None));

        Assert.Contains("may close to a pyrazole", SentenceOf(answer, "diketone"), StringComparison.Ordinal);
        Assert.Contains("not unusual, since hindered is slow", SentenceOf(answer, "hindered"), StringComparison.Ordinal);
        Assert.Contains("unusual, since propanone gives", SentenceOf(answer, "propanone"), StringComparison.Ordinal);
        Assert.EndsWith(
            "no aldehyde or ketone at all: acids, esters and alcohols give none either.",
            answer.NoneOfThese.Sentence,
            StringComparison.Ordinal);
        Assert.Contains(answer.Warnings, warning => warning.Contains("scratch the glass", StringComparison.Ordinal));
        Assert.DoesNotContain(answer.NextSteps, step => step.Key == TestTable.Dnph);
    }

    [Fact]
    public void OilIsToldWhetherItIsUsualAndWhatElseItMayBe()
    {
        var answer = Engine.Identify(Came(Precipitate.Oil));

        // Half of what melts at 20 °C comes as an oil, e times less every 40 °C higher: a tenth at 84 °C.
        Assert.StartsWith("An oil came with reagent: not unusual", SentenceOf(answer, "low-melting"), StringComparison.Ordinal);
        Assert.Contains($"since the {TestTable.Dnph} of low-melting melts low", SentenceOf(answer, "low-melting"), StringComparison.Ordinal);
        Assert.Contains(": unusual, since the 2-4-dinitrophenylhydrazone of propanone crystallises readily", SentenceOf(answer, "propanone"), StringComparison.Ordinal);
        Assert.Contains("not unusual, since hindered does not always give crystals", SentenceOf(answer, "hindered"), StringComparison.Ordinal);
    }

    [Fact]
    public void ReagentOfAldehydesThatFailsSaysNothingAgainstACarbonylGroup()
    {
        var table = TestTable.Table(("ketone", "CC(C)=O", [126], []), ("aldehyde", "O=Cc1ccccc1", [237], [222]));
        var engine = new IdentificationEngine(TableSnapshot.Build(
            table with
            {
                Kinds = [.. table.Kinds.Select(kind => kind.Key == TestTable.Semicarbazone ? kind with { AppliesTo = "aldehyde" } : kind)],
            },
            TestTable.Settings));

        var none = engine.Identify(new Observation { Derivatives = [Observed.Came(TestTable.Semicarbazone, Precipitate.None)] });
        var oil = engine.Identify(new Observation { Derivatives = [Observed.Came(TestTable.Semicarbazone, Precipitate.Oil)] });

        Assert.Contains("expected, since ketone forms no semicarbazone", SentenceOf(none, "ketone"), StringComparison.Ordinal);
        Assert.DoesNotContain("at all", none.NoneOfThese.Sentence, StringComparison.Ordinal);
        Assert.Contains(
            "ketone forms no semicarbazone, so it would be the unknown itself that separated", SentenceOf(oil, "ketone"), StringComparison.Ordinal);
        Assert.DoesNotContain("so it would be", SentenceOf(oil, "aldehyde"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void UnlistedCompoundAnswersAReagentsTestAsItsRelativeOrAsNoCarbonylCompound(bool isPositive)
    {
        var view = WithReagentOf("iodoform").Weigh(new Observation
        {
            SpotTests = [isPositive ? Observed.Positive("iodoform") : Observed.Negative("iodoform")],
        });

        // Three of six are methyl ketones. A fifth of the unlisted is no carbonyl compound and turns in 0.05.
        double Outcome(double rate) => isPositive ? rate : 1 - rate;
        var methyl = (0.98 * Outcome(0.95)) + (0.02 * Outcome(0.05));
        var other = (0.98 * Outcome(0.05)) + (0.02 * Outcome(0.95));
        var listed = (methyl + other) / 2;
        Assert.Equal(
            Math.Log(((0.2 * Outcome(0.05)) + (0.8 * listed)) / listed), view.NoneLogLikelihoodRatio, 1e-12);
    }

    [Fact]
    public void ReagentsTestAmongOthersOfItsQuestionSpeaksForThemAll()
    {
        var view = WithReagentOf("tollens")
            .Weigh(new Observation { SpotTests = [Observed.Negative("schiff"), Observed.Negative("tollens")] });

        // One aldehyde among six; what is no carbonyl compound answers neither of the two in 0.95.
        var aldehyde = (0.98 * 0.04 * 0.04) + (0.02 * 0.95 * 0.95);
        var ketone = (0.98 * 0.96 * 0.96) + (0.02 * 0.05 * 0.05);
        var listed = (aldehyde + (5 * ketone)) / 6;
        Assert.Equal(Math.Log(((0.2 * 0.95 * 0.95) + (0.8 * listed)) / listed), view.NoneLogLikelihoodRatio, 1e-12);
    }

    [Fact]
    public void ReagentThatFailedDoubtsTheCarbonylBesideOtherEvidenceAndAsASpotTest()
    {
        var (withIodoform, withTollens) = (WithReagentOf("iodoform"), WithReagentOf("tollens"));
        bool Doubts(IdentificationEngine engine, Observation observation) => engine.Identify(observation).NoneOfThese.Sentence
            .EndsWith("acids, esters and alcohols give none either.", StringComparison.Ordinal);

        Assert.True(Doubts(Engine, Came(Precipitate.None) with { SpotTests = [Observed.Negative("tollens")] }));
        Assert.True(Doubts(withIodoform, new Observation { SpotTests = [Observed.Negative("iodoform")] }));
        Assert.False(Doubts(withIodoform, new Observation { SpotTests = [Observed.Positive("iodoform")] }));
        Assert.False(Doubts(withIodoform, new Observation { SpotTests = [Observed.Negative("tollens")] }));
        Assert.True(Doubts(withTollens, new Observation { SpotTests = [Observed.Negative("schiff"), Observed.Negative("tollens")] }));
        Assert.False(Doubts(withTollens, new Observation { SpotTests = [Observed.Positive("schiff"), Observed.Negative("tollens")] }));
        Assert.False(Doubts(Engine, Came(Precipitate.Oil)));
        Assert.False(Doubts(Engine, new Observation
        {
            Derivatives = [Observed.Came(TestTable.Dnph, Precipitate.None), Observed.Came(TestTable.Semicarbazone, Precipitate.Oil)],
        }));
    }

    [Fact]
    public void CrystalsOfAnotherKindKeepTheAnswerFromDoubtingTheCarbonyl()
    {
        var answer = Engine.Identify(new Observation
        {
            Derivatives = [Observed.Semicarbazone(187, 188), Observed.Came(TestTable.Dnph, Precipitate.None)],
        });

        Assert.DoesNotContain("at all", answer.NoneOfThese.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void ForecastOfWhatNeverMeltsApartIsThatOfTheOutcomesAlone()
    {
        // Alike in every listed value; only the rates of a failure tell them apart.
        var alike = TestTable.Snapshot(
            ("propanone", "CC(C)=O", [126], [188]), ("hindered", "CC(C)C(=O)C(C)C", [126], [188]));
        var kind = alike.Kind(TestTable.Dnph);
        double[] weights = [0.3, 0.7];

        var expected = 0.0;
        foreach (var outcome in Outcomes)
        {
            var rates = kind.Precipitates.Of(outcome).ToArray();
            var mixture = (weights[0] * rates[0]) + (weights[1] * rates[1]);
            expected += weights.Zip(rates, (w, p) => w * p * Math.Log(p / mixture)).Sum();
        }

        Assert.Equal(expected, kind.Forecast.ExpectedInformation(new(weights, 0)), 1e-6);
    }

    /// <summary>The six, the reagent of the 2,4-dinitrophenylhydrazone made that of a test, which only its name minds.</summary>
    private static IdentificationEngine WithReagentOf(string test) =>
        new(TableSnapshot.Build(
            Six.Table with
            {
                Kinds = [.. Six.Table.Kinds.Select(kind => kind.Key == TestTable.Dnph ? kind with { TestKey = test } : kind)],
            },
            TestTable.Settings));

    private static Observation Came(Precipitate precipitate) =>
        new() { Derivatives = [Observed.Came(TestTable.Dnph, precipitate)] };

    private static int IndexOf(string parent) => Six.TryFindParent(parent, out var index) ? index : -1;

    private static string SentenceOf(Identification answer, string parent) =>
        answer.Candidates.Single(candidate => candidate.Parent.Key == parent).Evidence.Single().Sentence;
}
