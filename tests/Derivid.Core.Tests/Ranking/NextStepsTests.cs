using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Tests.Ranking;

/// <summary>What to do next, and how much it is expected to tell.</summary>
public sealed class NextStepsTests
{
    private static readonly TableSnapshot Five = TestTable.Five();
    private static readonly IdentificationEngine Engine = new(Five);

    [Fact]
    public void MixedMeltingPointIsWorthWhatTheArithmeticDoneByHandSays()
    {
        var answer = Engine.Identify(new Observation
        {
            Derivatives = [Observed.Dnph(125, 127)],
            Prior = Shelf("propanone", "pinacolone"),
        });

        // Mixed with the same compound the range stays in 97 of 100 trials, with another one in 5: mutual information of
        // "same" and "unchanged", in nats.
        var same = answer.Candidates[0].Posterior;
        var unchanged = (0.97 * same) + (0.05 * (1 - same));
        var byHand = Entropy(unchanged) - (same * Entropy(0.97)) - ((1 - same) * Entropy(0.05));
        var step = Step(answer, NextStepKind.MixedMeltingPoint)!;
        Assert.Equal(byHand, step.ExpectedInformation, 1e-12);
        Assert.Equal(TestTable.Dnph, step.Key);
        Assert.Contains($"authentic {TestTable.Dnph} of propanone", step.Sentence, StringComparison.Ordinal);
        // By hand, 127 and 126 °C one to one: 400.15/(1 + 8.3145·ln 2/56.5) is 363.1 K; the entropies down and up by 1.47.
        Assert.Contains("to about 127 °C, means the same compound", step.Sentence, StringComparison.Ordinal);
        Assert.Contains("with which it would be expected to clear at about 90 °C (75 to 101 °C).", step.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void MixedMeltingPointNeedsAShelfAndADerivative()
    {
        var melted = new Observation { Derivatives = [Observed.Dnph(125, 127)] };

        Assert.Null(Step(Engine.Identify(melted), NextStepKind.MixedMeltingPoint));
        Assert.Null(Step(
            Engine.Identify(new Observation { Prior = Shelf("propanone", "pinacolone") }), NextStepKind.MixedMeltingPoint));
    }

    [Fact]
    public void SpotTestIsWorthWhatTheArithmeticDoneByHandSays()
    {
        var answer = Engine.Identify(new Observation { Prior = Shelf("propanone", "pentan-3-one") with { NoneOfThese = 0 } });

        // Iodoform, a methyl ketone and another one alike in the prior, with a contrary sample in 50.
        var methyl = (0.98 * 0.95) + (0.02 * 0.05);
        var other = (0.98 * 0.05) + (0.02 * 0.95);
        var byHand = Entropy((methyl + other) / 2) - ((Entropy(methyl) + Entropy(other)) / 2);
        var step = answer.NextSteps.Single(step => step.Key == "iodoform");
        Assert.Equal(byHand, step.ExpectedInformation, 1e-12);
        Assert.Equal(
            "Run the iodoform; expected: pentan-3-one negative, propanone positive.", step.Sentence);
        Assert.Equal((5, Hazard.Low, Caution.ByItself("Caution for iodoform.")), (step.Minutes, step.Hazard, step.Cautions));
    }

    [Theory]
    [InlineData("Run the iodoform; expected: acetophenone positive, pinacolone positive, propanone positive; the other outcome would speak against them all.", "propanone", "pinacolone", "acetophenone")]
    [InlineData("Run the iodoform; expected: propanone positive.", "propanone")]
    public void TestThatPartsNoLeadersSaysWhatTheOtherOutcomeWouldSay(string sentence, params string[] shelf) =>
        Assert.Equal(
            sentence,
            Engine.Identify(new Observation { Prior = Shelf(shelf) with { NoneOfThese = 0.4 } }).NextSteps.Single(step => step.Key == "iodoform").Sentence);

    [Fact]
    public void SecondTestOfAQuestionTellsLessThanTheFirst()
    {
        double Information(params SpotTestReading[] read) =>
            Engine.Identify(new Observation { SpotTests = read }).NextSteps
                .Where(step => step.Key == "schiff").Sum(step => step.ExpectedInformation);

        Assert.True(Information() > Information(Observed.Positive("tollens")));
    }

    [Fact]
    public void SecondTestOfAQuestionIsWorthWhatTheArithmeticDoneByHandSays()
    {
        var step = Engine.Identify(new Observation
        {
            SpotTests = [Observed.Positive("tollens")],
            Prior = Shelf("benzaldehyde", "pentan-3-one") with { NoneOfThese = 0 },
        }).NextSteps.Single(step => step.Key == "schiff");

        // Tollens positive: the aldehyde 0.98·0.96 as it should and 0.02·0.05 contrary; the ketone 0.98·0.04 and 0.02·0.95.
        // So much is left of either for Schiff's test, which turns in 0.96 or 0.05, and in 0.04 or 0.95.
        var (aldehyde, ketone) = ((0.98 * 0.96) + (0.02 * 0.05), (0.98 * 0.04) + (0.02 * 0.95));
        var ofAldehyde = ((0.98 * 0.96 * 0.96) + (0.02 * 0.05 * 0.05)) / aldehyde;
        var ofKetone = ((0.98 * 0.04 * 0.04) + (0.02 * 0.95 * 0.95)) / ketone;
        var share = aldehyde / (aldehyde + ketone);
        Assert.Equal(
            Entropy((share * ofAldehyde) + ((1 - share) * ofKetone)) - (share * Entropy(ofAldehyde)) - ((1 - share) * Entropy(ofKetone)),
            step.ExpectedInformation,
            1e-12);
    }

    [Theory]
    [InlineData("iodoform", 0.2)]
    [InlineData(null, 0.0)]
    public void UnlistedCompoundMayAnswerAReagentsTestAsNoCarbonylCompound(string? reagentsTest, double notCarbonyl)
    {
        var step = WithKind(Five.Table, TestTable.Dnph, kind => kind with { TestKey = reagentsTest })
            .Identify(new Observation { Prior = Shelf("propanone", "pentan-3-one") with { NoneOfThese = 0.4 } })
            .NextSteps.Single(step => step.Key == "iodoform");

        // Three of the five parents are methyl ketones, and an unlisted compound is like any of them, unless it is no
        // carbonyl compound and turns in 0.05: a fifth, of a test with a derivative's own reagent.
        var methyl = (0.98 * 0.95) + (0.02 * 0.05);
        var other = (0.98 * 0.05) + (0.02 * 0.95);
        var none = (notCarbonyl * 0.05) + ((1 - notCarbonyl) * ((3 * methyl) + (2 * other)) / 5);
        Assert.Equal(
            Entropy((0.3 * methyl) + (0.3 * other) + (0.4 * none))
                - (0.3 * Entropy(methyl)) - (0.3 * Entropy(other)) - (0.4 * Entropy(none)),
            step.ExpectedInformation,
            1e-12);
    }

    [Fact]
    public void RecrystallisingIsWorthWhatIsDoubtedOfAnotherRange()
    {
        var wetToo = TestTable.Settings with { Depression = TestTable.Settings.Depression with { WetShare = 0.2 } };
        var snapshot = TableSnapshot.Build(Five.Table, wetToo);
        var engine = new IdentificationEngine(snapshot);
        var melted = new Observation { Derivatives = [Observed.Dnph(119, 126)] };

        // Impure and wet crystals alike may melt elsewhere once recrystallised and dried.
        var purity = wetToo.Depression.PurityOf(7, Preparation.Recrystallised);
        var view = engine.Weigh(melted);
        var step = engine.Identify(melted).NextSteps.Single(step => step.Kind == NextStepKind.Recrystallisation);
        Assert.True(purity.LowShare > 0.1);
        Assert.Equal(
            (purity.ImpureShare + purity.LowShare)
                * snapshot.Kind(TestTable.Dnph).Forecast.ExpectedInformation(new([.. view.Probability], view.NoneOfThese)),
            step.ExpectedInformation,
            1e-12);
    }

    [Fact]
    public void StepWithoutACautionOfItsOwnHasNone()
    {
        var steps = Engine.Identify(new Observation()).NextSteps;

        Assert.Null(steps.Single(step => step.Kind == NextStepKind.State).Cautions);
        Assert.StartsWith(
            "Many carbonyl compounds are flammable", steps.Single(step => step.Kind == NextStepKind.BoilingPoint).Cautions, StringComparison.Ordinal);
    }

    [Fact]
    public void TestNotDoneIsStillProposedAndADoubtfulOneIsNot()
    {
        bool IsProposed(SpotTestOutcome outcome) =>
            Engine.Identify(new Observation { SpotTests = [new SpotTestReading("iodoform", outcome)] })
                .NextSteps.Any(step => step.Key == "iodoform");

        Assert.True(IsProposed(SpotTestOutcome.NotDone));
        Assert.False(IsProposed(SpotTestOutcome.Doubtful));
        Assert.False(IsProposed(SpotTestOutcome.Negative));
    }

    [Theory]
    [InlineData(Precipitate.Crystals, true)]
    [InlineData(Precipitate.Oil, false)]
    [InlineData(Precipitate.None, false)]
    public void DerivativeThatCameAsCrystalsIsStillToBeMelted(Precipitate came, bool isProposed)
    {
        var answer = Engine.Identify(new Observation { Derivatives = [Observed.Came(TestTable.Semicarbazone, came)] });

        Assert.Equal(isProposed, answer.NextSteps.Any(step => step.Key == TestTable.Semicarbazone));
    }

    [Fact]
    public void StepsComeByInformationAMinuteAndThoseThatTellNothingAreLeftOut()
    {
        // The aldehyde tests and the semicarbazone can't part two ketones of one semicarbazone.
        var snapshot = TestTable.Snapshot(("a", "CC(C)=O", [126], [188]), ("b", "CCC(=O)CC", [156], [188]));

        var steps = new IdentificationEngine(snapshot)
            .Identify(new Observation
            {
                Prior = Shelf("a", "b") with { NoneOfThese = 0 },
                State = PhysicalState.Liquid,
                BoilingPoint = new BoilingPointReading(new MeltingRange(77, 78)),
            }).NextSteps;

        // The derivative tells more, and takes an hour and a class of hazard; the test takes five minutes.
        Assert.Equal(["iodoform", TestTable.Dnph], steps.Select(step => step.Key));
        Assert.True(steps[0].ExpectedInformation < steps[1].ExpectedInformation);
    }

    [Fact]
    public void HazardCostsTheMinutesThatAreAskedFor()
    {
        // The semicarbazone takes an hour and a class of hazard; Tollens five minutes and none.
        double PlaceOf(string key, double hazardMinutes) => Engine
            .Identify(new Observation { State = PhysicalState.Liquid, HazardMinutes = hazardMinutes }).NextSteps
            .Select((step, place) => (step.Key, Rate: step.ExpectedInformation / (step.Minutes + (hazardMinutes * (int)step.Hazard)), place))
            .First(step => step.Key == key).Rate;

        Assert.True(PlaceOf(TestTable.Semicarbazone, 0) > PlaceOf(TestTable.Semicarbazone, 60));
        Assert.Equal(PlaceOf("tollens", 0), PlaceOf("tollens", 60));
        foreach (var minutes in new[] { 0.0, 10, 240 })
        {
            var rates = Engine.Identify(new Observation { HazardMinutes = minutes }).NextSteps
                .Select(step => step.ExpectedInformation / (step.Minutes + (minutes * (int)step.Hazard)))
                .ToList();
            Assert.Equal(rates.OrderDescending(), rates);
        }
    }

    [Theory]
    [InlineData(119.0, Preparation.Crude, true)]
    [InlineData(119.0, Preparation.Recrystallised, true)]
    [InlineData(125.5, Preparation.Recrystallised, false)]
    public void DoubtfulCrystalsAreRecrystallisedAndGoodOnesAreNot(double onset, Preparation preparation, bool isProposed)
    {
        var steps = Engine.Identify(new Observation
        {
            Derivatives = [new DerivativeReading(TestTable.Dnph, new MeltingRange(onset, 126), preparation)],
        }).NextSteps;

        Assert.Equal(isProposed, steps.Any(step => step is { Kind: NextStepKind.Recrystallisation, Key: TestTable.Dnph }));
    }

    [Theory]
    [InlineData(null, true)]
    [InlineData(PhysicalState.Liquid, false)]
    public void WhetherItIsALiquidIsLookedAtOnce(PhysicalState? seen, bool isProposed) =>
        Assert.Equal(
            isProposed,
            Engine.Identify(new Observation { State = seen }).NextSteps.Any(step => step.Kind == NextStepKind.State));

    [Fact]
    public void StepOfTheLeadersSaysWhatEachIsListedWith()
    {
        var table = TestTable.Table(
            ("a", "CC(C)=O", [126, 128], [188]), ("b", "CCC(=O)CC", [156], [139]), ("c", "CC(=O)CC", [], [140]),
            ("d", "CC(=O)CCC", [150], [110]));
        var snapshot = TableSnapshot.Build(
            table with
            {
                Constants = [TestTable.Constant("a", ParentProperty.BoilingPoint, 55, 57)],
            },
            TestTable.Settings);

        var steps = new IdentificationEngine(snapshot).Identify(new Observation()).NextSteps;

        Assert.Contains(
            "a 126–128 °C, b 156 °C, c has none listed.",
            steps.Single(step => step.Key == TestTable.Dnph).Sentence,
            StringComparison.Ordinal);
    }

    [Fact]
    public void KnownBoilingPointIsNotProposedAgain()
    {
        var engine = BoilingAt(156, 256);

        var boiled = engine.Identify(new Observation { BoilingPoint = new BoilingPointReading(new MeltingRange(205, 206)) });
        var melted = engine.Identify(new Observation { MeltingPoint = new MeltingRange(4, 5) });
        var solid = engine.Identify(new Observation { MeltingPoint = new MeltingRange(54, 55) });

        Assert.Null(Step(boiled, NextStepKind.BoilingPoint));
        Assert.NotNull(Step(boiled, NextStepKind.MeltingPoint));
        Assert.NotNull(Step(melted, NextStepKind.BoilingPoint));
        Assert.Null(Step(melted, NextStepKind.MeltingPoint));
        Assert.Null(Step(solid, NextStepKind.BoilingPoint));
        Assert.Contains("a 156 °C, b 256 °C", Step(melted, NextStepKind.BoilingPoint)!.Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(109.9, false)]
    [InlineData(110.1, true)]
    public void WhatBoilsBelow110DegreesIsALiquidWithoutMeltingPoint(double boilsAt, bool isProposed)
    {
        var answer = BoilingAt(60, 160).Identify(
            new Observation { BoilingPoint = new BoilingPointReading(new MeltingRange(boilsAt - 1, boilsAt)) });

        Assert.Equal(isProposed, Step(answer, NextStepKind.MeltingPoint) is not null);
    }

    [Fact]
    public void TestWithTheReagentIsKnownOnceCrystalsOfItsDerivativeCame()
    {
        // The reagent of the 2,4-dinitrophenylhydrazone is made that of the iodoform test here, which only its name minds.
        var engine = WithKind(Five.Table, TestTable.Dnph, kind => kind with { TestKey = "iodoform" });
        bool IsProposed(params DerivativeReading[] made) =>
            engine.Identify(new Observation { Derivatives = made }).NextSteps.Any(step => step.Key == "iodoform");

        Assert.True(IsProposed());
        Assert.True(IsProposed(Observed.Came(TestTable.Semicarbazone, Precipitate.Crystals)));
        Assert.False(IsProposed(Observed.Came(TestTable.Dnph, Precipitate.Crystals)));
        Assert.False(IsProposed(Observed.Dnph(125, 127)));
    }

    [Theory]
    [InlineData(0.74, true)]
    [InlineData(0.76, false)]
    public void DerivativeIsProposedOnlyIfACandidateAmongThreeQuartersOfTheProbabilityFormsIt(double ketone, bool isProposed)
    {
        var table = TestTable.Table(("ketone", "CC(C)=O", [126], []), ("aldehyde", "O=Cc1ccccc1", [237], [222]));
        var engine = WithKind(table, TestTable.Semicarbazone, kind => kind with { AppliesTo = "aldehyde" });
        var shelf = new Dictionary<string, double>(StringComparer.Ordinal) { ["ketone"] = ketone, ["aldehyde"] = 1 - ketone };

        var steps = engine.Identify(new Observation { Prior = new PriorChoice { Weights = shelf } }).NextSteps;

        Assert.Equal(isProposed, steps.Any(step => step.Key == TestTable.Semicarbazone));
        Assert.Contains(steps, step => step.Key == TestTable.Dnph);
        Assert.All(
            steps.Where(step => step.Key == TestTable.Semicarbazone),
            step => Assert.Contains("ketone does not form it, aldehyde 222 °C.", step.Sentence, StringComparison.Ordinal));
    }

    private static IdentificationEngine WithKind(ReferenceTable table, string key, Func<DerivativeKind, DerivativeKind> change) =>
        new(TableSnapshot.Build(
            table with { Kinds = [.. table.Kinds.Select(kind => kind.Key == key ? change(kind) : kind)] }, TestTable.Settings));

    /// <summary>Two ketones of the same derivatives that melt at 30 and 80 °C.</summary>
    private static IdentificationEngine BoilingAt(double a, double b)
    {
        var table = TestTable.Table(("a", "CC(C)=O", [126], [188]), ("b", "CCC(=O)CC", [126], [188]));
        return new IdentificationEngine(TableSnapshot.Build(
            table with
            {
                Constants =
                [
                    TestTable.Constant("a", ParentProperty.BoilingPoint, a), TestTable.Constant("b", ParentProperty.BoilingPoint, b),
                    TestTable.Constant("a", ParentProperty.MeltingPoint, 30), TestTable.Constant("b", ParentProperty.MeltingPoint, 80),
                ],
            },
            TestTable.Settings));
    }

    private static PriorChoice Shelf(params string[] parents) => PriorChoice.OfShelf(parents);

    private static NextStep? Step(Identification answer, NextStepKind kind) =>
        answer.NextSteps.SingleOrDefault(step => step.Kind == kind);

    private static double Entropy(double probability) =>
        -(probability * Math.Log(probability)) - ((1 - probability) * Math.Log(1 - probability));
}
