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
    public void ReadingsOfTwoCompoundsAreSaidNotToFitTogether()
    {
        // The first is propanone's, the second benzaldehyde's.
        var warnings = Warnings(Observed.Dnph(125, 126), Observed.Semicarbazone(221, 222));

        var misfit = Assert.Single(warnings, w => w.StartsWith("The readings do not fit together", StringComparison.Ordinal));
        Assert.Contains($"the {TestTable.Semicarbazone} points at benzaldehyde", misfit, StringComparison.Ordinal);
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
