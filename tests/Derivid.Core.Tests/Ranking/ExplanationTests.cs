using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Ranking;

public sealed class ExplanationTests
{
    private static readonly IdentificationEngine Engine = new(TestTable.Five());

    [Fact]
    public void NeighboursFormAGroupWithTheStepThatSeparatesThem()
    {
        var answer = Engine.Identify(new Observation { Derivatives = [Observed.Dnph(124.5, 125.5)] });

        // 125.5 °C lies as far below 126 as above 125, and a reading is oftener low than high.
        var group = answer.Groups[0];
        Assert.Equal(["propanone", "pinacolone"], group.ParentKeys);
        Assert.Equal(TestTable.Semicarbazone, group.SeparatedBy?.Key);
        Assert.Contains("cannot be told apart", group.Sentence, StringComparison.Ordinal);
        Assert.Contains("propanone 188 °C", group.Sentence, StringComparison.Ordinal);
        Assert.Equal(answer.Candidates.Take(2).Sum(c => c.Posterior), group.Posterior, 1e-12);
    }

    [Fact]
    public void NextStepsAreRankedByInformationAndLeaveOutWhatWasDone()
    {
        var answer = Engine.Identify(new Observation
        {
            Derivatives = [Observed.Dnph(125, 127)],
            SpotTests = [Observed.Positive("iodoform")],
        });

        Assert.Equal(TestTable.Semicarbazone, answer.NextSteps[0].Key);
        Assert.Equal(
            answer.NextSteps.OrderByDescending(step => step.ExpectedInformation).Select(step => step.Name),
            answer.NextSteps.Select(step => step.Name));
        Assert.DoesNotContain(answer.NextSteps, step => step.Key is TestTable.Dnph or "iodoform");
    }

    [Fact]
    public void WindowSaysInsideOrOutsideOnClearPointAndOnWholeRange()
    {
        var answer = Engine.Identify(new Observation
        {
            Derivatives = [Observed.Dnph(117, 124, Preparation.Crude)],
            WindowCelsius = 2,
        });

        var window = answer.Candidates.Single(c => c.Parent.Key == "propanone").Windows.Single();
        Assert.Equal(-2, window.DeviationCelsius);
        Assert.True(window.IsClearPointInside);
        Assert.False(window.IsWholeRangeInside);
        var far = answer.Candidates.Single(c => c.Parent.Key == "pentan-3-one").Windows.Single();
        Assert.False(far.IsClearPointInside);
        Assert.Equal(-32, far.DeviationCelsius);
    }

    [Fact]
    public void WideRangeAsksForRecrystallising()
    {
        var answer = Engine.Identify(new Observation { Derivatives = [Observed.Dnph(117, 124, Preparation.Crude)] });

        Assert.Contains(answer.Warnings, w => w.Contains("melted over 7 °C", StringComparison.Ordinal));
    }

    [Fact]
    public void ContradictoryTestsAreNamed()
    {
        var answer = Engine.Identify(new Observation
        {
            Derivatives = [Observed.Dnph(236, 237)],
            SpotTests = [Observed.Positive("tollens"), Observed.Negative("schiff")],
        });

        Assert.Contains(answer.Warnings, w => w.Contains("schiff, tollens", StringComparison.Ordinal));
    }

    [Fact]
    public void ReadingsAreShownAsReadAndAsUsed()
    {
        var answer = Engine.Identify(new Observation
        {
            Derivatives = [Observed.Dnph(123, 125)],
            Thermometer = new ThermometerCorrection([new CalibrationPoint(120.35, 122.35)]),
        });

        var reading = Assert.Single(answer.Readings);
        Assert.Equal(125, reading.AsRead.ClearPointCelsius);
        Assert.Equal(127, reading.AsUsed.ClearPointCelsius, 1e-12);
    }

    [Fact]
    public void CautionsCoverWhatWasDoneAndWhatIsProposedAndDeferToLocalRules()
    {
        var answer = Engine.Identify(new Observation { Derivatives = [Observed.Dnph(125, 127)] });

        Assert.Contains($"Caution for the {TestTable.Dnph}.", answer.Cautions);
        Assert.Contains($"Caution for the {TestTable.Semicarbazone}.", answer.Cautions);
        Assert.Contains("local rules", answer.Cautions[^1], StringComparison.Ordinal);
    }

    [Fact]
    public void CautionsOfTestsThatWereRunAreTold()
    {
        var cautions = Engine.Identify(new Observation
        {
            Derivatives = [Observed.Dnph(125, 127), Observed.Semicarbazone(187, 188)],
            SpotTests = [Observed.Positive("iodoform"), Observed.Negative("tollens")],
        }).Cautions;

        Assert.Contains("Caution for iodoform.", cautions);
        Assert.Contains("Caution for tollens.", cautions);
        Assert.Distinct(cautions);
    }

    [Fact]
    public void HazardsOfTheLeadingCandidatesAreToldAndDeferToLocalRulesOnce()
    {
        var table = TestTable.Five().Table;
        var engine = new IdentificationEngine(TableSnapshot.Build(
            table with
            {
                Parents = [.. table.Parents.Select(parent => parent.Key switch
                {
                    "propanone" => parent with { Hazards = "Highly flammable" },
                    "benzaldehyde" => parent with { Hazards = "Harmful if swallowed" },
                    _ => parent,
                })],
            },
            TestTable.Settings));

        var cautions = engine.Identify(new Observation { Derivatives = [Observed.Dnph(125, 127)] }).Cautions;

        Assert.Contains("If it is propanone: highly flammable.", cautions);
        Assert.DoesNotContain(cautions, caution => caution.Contains("benzaldehyde", StringComparison.Ordinal));
        Assert.Single(cautions, caution => caution.Contains("local rules", StringComparison.Ordinal));
        Assert.DoesNotContain(
            engine.Identify(new Observation()).Cautions, caution => caution.StartsWith("If it is", StringComparison.Ordinal));
    }

    [Fact]
    public void ReadingFarFromEverythingIsNoneOfThese()
    {
        var answer = Engine.Identify(new Observation { Derivatives = [Observed.Dnph(59, 60)] });

        Assert.True(answer.NoneOfThese.Posterior > answer.Candidates[0].Posterior);
        // Nothing listed fits, and nothing tells the listed ones apart: together they have more than none of them.
        var together = Assert.Single(answer.Groups).Posterior;
        Assert.Equal(answer.NoneOfThese.Posterior > together, answer.NoneOfThese.Leads);
        Assert.Contains("No single compound stands out", answer.Summary, StringComparison.Ordinal);
        Assert.Contains(FormattableString.Invariant($"{together:0.00} together"), answer.Summary, StringComparison.Ordinal);
    }
}
