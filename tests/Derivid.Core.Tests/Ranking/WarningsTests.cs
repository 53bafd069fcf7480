using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Tests.Ranking;

/// <summary>What a careful instructor would say of the observation itself.</summary>
public sealed class WarningsTests
{
    private static readonly IdentificationEngine Engine = new(WithReagentMelting(200));

    [Theory]
    [InlineData(189.9, false)]
    [InlineData(190, true)]
    [InlineData(205.5, true)]
    [InlineData(205.7, false)]
    [InlineData(210, false)]
    public void CrystalsThatMeltWithinFourDegreesOfTheReagentMayBeReagent(double clearPoint, bool isNear)
    {
        var warnings = Warnings(Observed.Dnph(clearPoint - 1, clearPoint));

        // The reagent of the table melts at 200 °C; those of by-products.csv from 194 to 201.6 °C.
        Assert.Equal(isNear, warnings.Any(w => w.StartsWith("Reagent itself melts near ", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData(3, false)]
    [InlineData(3.1, true)]
    public void RangeWiderThanThreeDegreesAsksForRecrystallising(double span, bool isWide) =>
        Assert.Equal(
            isWide,
            Warnings(Observed.Dnph(126 - span, 126)).Any(w => w.Contains("recrystallise it", StringComparison.Ordinal)));

    [Theory]
    [InlineData(180, true)]
    [InlineData(150, false)]
    public void SaltOfTheReagentMayBeAmongTheCrystals(double clearPoint, bool isNear) =>
        Assert.Equal(
            isNear,
            Warnings(Observed.Semicarbazone(clearPoint - 1, clearPoint)).Any(w =>
                w.StartsWith("Semicarbazide hydrochloride melts near ", StringComparison.Ordinal)));

    [Fact]
    public void SuspectSubstanceIsToldWithAllItsPrintedMeltingPointsAndOfItsOwnKindOnly()
    {
        // by-products.csv prints 173 to 185 °C for the salt; the reagent of the semicarbazone is listed by the table itself.
        var table = TestTable.Five().Table;
        var engine = new IdentificationEngine(TableSnapshot.Build(
            table with
            {
                Kinds = [.. table.Kinds.Select(kind =>
                    kind.Key == TestTable.Semicarbazone ? kind with { ReagentMeltingCelsius = 300 } : kind)],
            },
            TestTable.Settings));
        IReadOnlyList<string> Of(DerivativeReading reading) => engine.Identify(new Observation { Derivatives = [reading] }).Warnings;

        Assert.Contains(
            $"Semicarbazide hydrochloride melts near 173–185 °C: make sure that the crystals are the {TestTable.Semicarbazone} and not that.",
            Of(Observed.Semicarbazone(179, 180)));
        Assert.DoesNotContain(Of(Observed.Dnph(179, 180)), w => w.Contains("hydrochloride", StringComparison.Ordinal));
        Assert.Contains(
            "Reagent itself melts near 96–300 °C: make sure the crystals are not unreacted reagent.", Of(Observed.Semicarbazone(299, 300)));
    }

    [Theory]
    [InlineData("acetophenone", true)]
    [InlineData("propanone", false)]
    public void WhatOnlyOneCompoundGivesIsSuspectedWhereItLeads(string leader, bool isSuspected) =>
        Assert.Equal(
            isSuspected,
            Engine.Identify(new Observation
            {
                Derivatives = [Observed.Semicarbazone(128, 129)],
                Prior = new PriorChoice { Weights = new Dictionary<string, double> { [leader] = 1 } },
            }).Warnings.Any(w => w.StartsWith("Acetophenone azine melts near ", StringComparison.Ordinal)));

    [Theory]
    [InlineData(198.5, 200, false, Preparation.Recrystallised, false)]
    [InlineData(198, 200, false, Preparation.Recrystallised, false)]
    [InlineData(195.5, 197, false, Preparation.Recrystallised, false)]
    [InlineData(198.5, 200, false, Preparation.Crude, true)] // Not recrystallised.
    [InlineData(197.9, 200, false, Preparation.Recrystallised, true)] // Wide.
    [InlineData(198.5, 200, true, Preparation.Recrystallised, true)] // Decomposed.
    [InlineData(195.4, 196.9, false, Preparation.Recrystallised, true)] // More than 3 °C from the listed 200 °C.
    public void SharpRecrystallisedCrystalsThatMeltAsListedAreNotTakenForReagent(
        double onset, double clearPoint, bool decomposes, Preparation preparation, bool isSuspected)
    {
        // 2,4-Dinitrophenylhydrazine melts at 194 to 202 °C, and so does this derivative.
        var engine = new IdentificationEngine(TestTable.Snapshot(
            ("a", "CC(C)=O", [200], [150]), ("b", "CCC(=O)CC", [110], [139])));
        var reading = new DerivativeReading(TestTable.Dnph, new MeltingRange(onset, clearPoint, decomposes), preparation);
        bool IsSuspected(params DerivativeReading[] readings) => engine.Identify(new Observation { Derivatives = readings })
            .Warnings.Any(w => w.Contains("unreacted reagent", StringComparison.Ordinal));

        Assert.Equal(isSuspected, IsSuspected(reading));

        // What was done to the crystals of another kind excuses nothing.
        Assert.Equal(
            isSuspected, IsSuspected(reading, reading with { KindKey = TestTable.Semicarbazone, Preparation = Preparation.Recrystallised }));
    }

    [Fact]
    public void CompoundOfWhichNothingIsListedExcusesNoReagent() =>
        Assert.Contains(
            new IdentificationEngine(TestTable.Snapshot(("a", "CC(C)=O", [], [150])))
                .Identify(new Observation { Derivatives = [Observed.Dnph(199, 200)] }).Warnings,
            w => w.Contains("unreacted reagent", StringComparison.Ordinal));

    [Fact]
    public void OneMixingSeenAsDerivativeAndAsTestIsWeighedOnceAndSaidSo()
    {
        var table = TestTable.Five().Table;
        var engine = new IdentificationEngine(TableSnapshot.Build(
            table with
            {
                Kinds = [.. table.Kinds.Select(kind => kind.Key == TestTable.Dnph ? kind with { TestKey = "iodoform" } : kind)],
            },
            TestTable.Settings));
        List<string> Said(params SpotTestReading[] tests) =>
            [.. engine.Identify(new Observation { Derivatives = [Observed.Came(TestTable.Dnph, Precipitate.None)], SpotTests = tests })
                .Warnings.Where(w => w.Contains("weighed", StringComparison.Ordinal))];

        Assert.Empty(Said());
        Assert.Empty(Said(Observed.Negative("tollens")));
        Assert.Equal(
            ["The iodoform carries no weight of its own: that its reagent gave no crystals is weighed once."],
            Said(Observed.Negative("iodoform"), Observed.Negative("tollens"), Observed.Negative("iodoform")));
        Assert.Equal(
            [$"The test with reagent was positive though no {TestTable.Dnph} came: only the test is weighed; repeat both."],
            Said(Observed.Positive("iodoform")));
        Assert.Empty(Said(new SpotTestReading("iodoform", SpotTestOutcome.Doubtful)));
    }

    [Fact]
    public void ReadingsOfTwoCompoundsAreSaidNotToFitTogether()
    {
        // The first is propanone's, the second benzaldehyde's.
        var warnings = Warnings(Observed.Dnph(125, 126), Observed.Semicarbazone(221, 222));

        var misfit = Assert.Single(warnings, w => w.StartsWith("The readings do not fit together", StringComparison.Ordinal));
        Assert.Contains($"the {TestTable.Semicarbazone} points at benzaldehyde", misfit, StringComparison.Ordinal);
    }

    [Fact]
    public void ReadingThatPointsAtNoSingleCompoundIsNotSaidToPullAnywhere()
    {
        // 125.5 °C is as near to propanone as to pinacolone, so only the semicarbazone points anywhere.
        var misfit = Assert.Single(
            Engine.Identify(new Observation
            {
                Derivatives = [Observed.Dnph(124.5, 125.5), Observed.Semicarbazone(198, 199)],
                Prior = new PriorChoice { Weights = new Dictionary<string, double> { ["acetophenone"] = 1 } },
            }).Warnings,
            w => w.StartsWith("The readings do not fit together", StringComparison.Ordinal));

        Assert.Contains("explains one of them badly. One may be wrong", misfit, StringComparison.Ordinal);
    }

    [Fact]
    public void ReadingFarFromEverythingListedIsPointedOut()
    {
        Assert.Contains(
            $"None of the listed values of the {TestTable.Dnph} lies within 29 °C of the 96 °C read",
            Assert.Single(Warnings(Observed.Dnph(95, 96)), w => w.StartsWith("None of the listed", StringComparison.Ordinal)),
            StringComparison.Ordinal);
        Assert.DoesNotContain(
            Warnings(Observed.Dnph(134, 135)), w => w.StartsWith("None of the listed", StringComparison.Ordinal));
    }

    [Fact]
    public void BoilingPointUnderReducedPressureTellsItsCorrectionAndItsError()
    {
        var warnings = Engine.Identify(new Observation
        {
            BoilingPoint = new BoilingPointReading(new MeltingRange(77, 77.7), 1.33),
        }).Warnings;

        Assert.Contains(
            "read at a pressure of 1.3 kPa and is taken for ",
            Assert.Single(warnings, w => w.Contains("kPa", StringComparison.Ordinal)),
            StringComparison.Ordinal);
    }

    [Fact]
    public void WhiteProductOfAColouredKindIsPointedOut()
    {
        var table = TestTable.Five().Table;
        var engine = new IdentificationEngine(TableSnapshot.Build(
            table with { Colours = [new Colours.Colour("white", "white", null, []), .. table.Colours] }, TestTable.Settings));
        IReadOnlyList<string> Called(string kind, string? colour) => engine
            .Identify(new Observation { Derivatives = [new DerivativeReading(kind, null, ColourKey: colour, Precipitate: Precipitate.Crystals)] })
            .Warnings;

        Assert.StartsWith(
            $"A white product is unusual for a {TestTable.Dnph}, which is coloured",
            Assert.Single(Called(TestTable.Dnph, "white")),
            StringComparison.Ordinal);
        Assert.Empty(Called(TestTable.Dnph, "yellow"));
        Assert.Empty(Called(TestTable.Dnph, null));
        Assert.Empty(Called(TestTable.Semicarbazone, "white"));
    }

    [Fact]
    public void DecompositionIsPointedOut()
    {
        var decomposed = new DerivativeReading(TestTable.Dnph, new MeltingRange(125, 126, true), Preparation.Recrystallised);

        Assert.Contains(Warnings(decomposed), w => w.Contains("melted with decomposition", StringComparison.Ordinal));
        Assert.DoesNotContain(
            Warnings(Observed.Dnph(125, 126)), w => w.Contains("decomposition", StringComparison.Ordinal));
    }

    [Fact]
    public void GoodReadingsDrawNoWarning() =>
        Assert.Empty(Warnings(Observed.Dnph(125, 126), Observed.Semicarbazone(187, 188)));

    [Fact]
    public void ReadingAgainstTheLeaderIsNamedAndTheOneForItIsNot()
    {
        // Two derivatives of pentan-3-one and an iodoform test it does not give; Tollens is negative as it should be.
        var warnings = Engine.Identify(new Observation
        {
            Derivatives = [Observed.Dnph(155, 156), Observed.Semicarbazone(138, 139)],
            SpotTests = [Observed.Positive("iodoform"), Observed.Negative("tollens")],
        }).Warnings;

        var against = Assert.Single(warnings);
        Assert.StartsWith(
            "This speaks against the leading candidate: For pentan-3-one: iodoform positive, against expectation.",
            against,
            StringComparison.Ordinal);
    }

    [Fact]
    public void OilAndNothingAskForDifferentRemedies()
    {
        var warnings = Warnings(
            Observed.Came(TestTable.Dnph, Precipitate.Oil), Observed.Came(TestTable.Semicarbazone, Precipitate.None));

        Assert.Contains(warnings, w => w.StartsWith($"The {TestTable.Dnph} came as an oil", StringComparison.Ordinal));
        Assert.Contains(warnings, w => w.StartsWith("Nothing came with reagent", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(0.95, true, true, false)]
    [InlineData(0.95, false, false, false)]
    [InlineData(0.95, true, false, true)]
    [InlineData(0.05, true, false, false)]
    [InlineData(0.05, true, true, false)]
    [InlineData(0.05, false, true, true)]
    [InlineData(0.5, true, false, false)]
    public void TestsOfOneQuestionDisagreeOnlyIfOneIsPositiveAndOneNegativeAgainstExpectation(
        double fehlingRate, bool tollens, bool fehling, bool disagree)
    {
        // Tollens turns with benzaldehyde in 0.96; two derivatives keep it in the lead whatever the tests say.
        var table = TestTable.Five().Table;
        var response = new SpotTestResponse("fehling", 0, "parent:benzaldehyde", fehlingRate, true, true, "invented", null);
        var engine = new IdentificationEngine(
            TableSnapshot.Build(table with { Responses = [response, .. table.Responses] }, TestTable.Settings));

        var answer = engine.Identify(new Observation
        {
            Derivatives = [Observed.Dnph(236, 237), Observed.Semicarbazone(221, 222)],
            SpotTests =
            [
                tollens ? Observed.Positive("tollens") : Observed.Negative("tollens"),
                fehling ? Observed.Positive("fehling") : Observed.Negative("fehling"),
            ],
        });

        Assert.Equal("benzaldehyde", answer.Candidates[0].Parent.Key);
        Assert.Equal(
            disagree,
            answer.Warnings.Contains("Tests that ask one question disagree (fehling, tollens): repeat them on a fresh sample with a known positive and a known negative beside it."));
    }

    private static IReadOnlyList<string> Warnings(params DerivativeReading[] derivatives) =>
        Engine.Identify(new Observation { Derivatives = derivatives }).Warnings;

    private static TableSnapshot WithReagentMelting(double celsius)
    {
        var table = TestTable.Five().Table;
        return TableSnapshot.Build(
            table with
            {
                Kinds = [.. table.Kinds.Select(kind =>
                    kind.Key == TestTable.Dnph ? kind with { ReagentMeltingCelsius = celsius } : kind)],
            },
            TestTable.Settings);
    }
}
