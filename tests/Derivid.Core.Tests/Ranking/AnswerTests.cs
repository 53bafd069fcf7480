using System.Globalization;
using System.Text.RegularExpressions;
using CsCheck;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Ranking;

/// <summary>The answer in words: summary, remarks, none of these, and likelihoods a student can read.</summary>
public sealed partial class AnswerTests
{
    private static readonly TableSnapshot Five = TestTable.Five();
    private static readonly IdentificationEngine Engine = new(Five);

    private static readonly string[] Colours = ["yellow", "orange", "red"];

    [Fact]
    public void RatioInWordsIsTheRatio() =>
        Gen.Select(Gen.Double[20, 340], Gen.Double[0, 6], Gen.Int[0, 2]).Sample((celsius, span, colour) =>
        {
            var answer = Engine.Identify(new Observation
            {
                Derivatives = [Observed.Dnph(celsius, celsius + span, Preparation.Crude, Colours[colour])],
            });

            Assert.All(answer.Candidates.SelectMany(candidate => candidate.Evidence), evidence =>
            {
                var factor = Math.Exp(Math.Abs(evidence.LogLikelihoodRatio));
                if (Times().Match(evidence.Sentence) is not { Success: true } match)
                {
                    Assert.EndsWith("This speaks neither for nor against it.", evidence.Sentence, StringComparison.Ordinal);
                    Assert.True(factor < 1.1);
                    return;
                }

                Assert.True(factor >= 1.1);
                Assert.Equal(evidence.LogLikelihoodRatio > 0 ? "as likely as" : "less likely than", match.Groups[2].Value);
                if (match.Groups[1].Value == "over 10000")
                {
                    Assert.True(factor >= 10_000);
                    return;
                }

                // Two figures, and from a hundred up whole hundreds.
                Assert.True(factor < 10_000);
                Assert.Equal(factor < 9.95, match.Groups[1].Value.Contains('.', StringComparison.Ordinal));
                var told = double.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture);
                Assert.InRange(Math.Abs(told - factor), 0, factor < 9.95 ? 0.0500001 : factor < 99.5 ? 0.500001 : 50.00001);
                Assert.True(factor < 99.5 || told % 100 == 0);
            });
        }, iter: 4 * Check.Iter);

    [Fact]
    public void SummaryNamesTheLeaderItsProbabilityAndItsGroup()
    {
        var alone = Engine.Identify(new Observation { Derivatives = [Observed.Semicarbazone(187, 188)] });
        var leader = alone.Candidates[0];

        Assert.Equal(
            string.Create(
                CultureInfo.InvariantCulture,
                $"propanone leads with probability {leader.Posterior:0.00}; none of these has {alone.NoneOfThese.Posterior:0.00}."),
            alone.Summary);
        var pair = Engine.Identify(new Observation { Derivatives = [Observed.Dnph(125, 127)] });
        Assert.EndsWith(pair.Groups[0].Sentence, pair.Summary, StringComparison.Ordinal);
        Assert.StartsWith("propanone leads", pair.Summary, StringComparison.Ordinal);
    }

    [Fact]
    public void SummaryAdmitsWhenNothingFits()
    {
        // 60 °C is far from every listed value; without a prior for it "none of these" has something, with one most.
        var far = new Observation { Derivatives = [Observed.Dnph(59, 60)], Prior = new PriorChoice { NoneOfThese = 0.5 } };

        var answer = Engine.Identify(far);

        Assert.True(answer.NoneOfThese.Posterior > 0.5);
        Assert.StartsWith("It is most probably none of the compounds considered (probability ", answer.Summary, StringComparison.Ordinal);
        Assert.Contains($"the nearest is {answer.Candidates[0].Parent.Name} (", answer.Summary, StringComparison.Ordinal);
        Assert.StartsWith("A compound that is not listed would explain", answer.NoneOfThese.Sentence, StringComparison.Ordinal);
        Assert.StartsWith(
            "A compound that is not listed explains the observations less well",
            Engine.Identify(new Observation { Derivatives = [Observed.Semicarbazone(187, 188)] }).NoneOfThese.Sentence,
            StringComparison.Ordinal);
    }

    [Fact]
    public void SummaryAdmitsWhenNothingStandsOut()
    {
        // Where several explain the reading somewhat, "none of these" may lead and still be less probable than all the others together.
        var leading = (from celsius in Enumerable.Range(100, 160)
                       from twentieth in Enumerable.Range(1, 19)
                       select Engine.Identify(new Observation { Derivatives = [Observed.Semicarbazone(celsius, celsius + 1)], Prior = new PriorChoice { NoneOfThese = twentieth / 20.0 } }) into answer
                       where answer.NoneOfThese is { Leads: true, Posterior: < 0.5 }
                       select answer).ToList();

        Assert.NotEmpty(leading);
        Assert.All(leading, answer => Assert.StartsWith("No compound considered stands out: none of these has the largest share (probability 0.", answer.Summary, StringComparison.Ordinal));

        // It may lead by its prior alone: then nothing says at once that it leads and that it explains less.
        var byPrior = leading.Where(answer => answer.NoneOfThese.LogLikelihoodRatio <= answer.Candidates[0].LogLikelihoodRatio).ToList();
        Assert.NotEmpty(byPrior);
        Assert.All(byPrior, answer => Assert.StartsWith("Each compound listed is less likely than that the unknown is not listed at all.", answer.NoneOfThese.Sentence, StringComparison.Ordinal));
        Assert.All(leading.Except(byPrior), answer => Assert.StartsWith("A compound that is not listed would explain the observations better", answer.NoneOfThese.Sentence, StringComparison.Ordinal));
    }

    [Fact]
    public void SummaryCountsTheLikeliestOfTheGroups()
    {
        // Three methyl ketones of five compounds: none of these is more probable than each, and less than the three.
        var answer = Engine.Identify(new Observation { SpotTests = [Observed.Positive("iodoform")], Prior = new PriorChoice { NoneOfThese = 0.4 } });

        Assert.Equal([3, 2], answer.Groups.Select(group => group.ParentKeys.Count));
        Assert.StartsWith(
            string.Create(CultureInfo.InvariantCulture, $"No single compound stands out: 3 that the evidence cannot tell apart have {answer.Groups[0].Posterior:0.00} together, "),
            answer.Summary,
            StringComparison.Ordinal);
    }

    [Fact]
    public void NoneOfTheseSaysWhyItCannotBeTold()
    {
        Assert.Equal(
            "Nothing was observed that could tell a compound that is not listed.",
            Engine.Identify(new Observation()).NoneOfThese.Sentence);
        Assert.Equal(
            "It was said that the compound is one of those considered.",
            Engine.Identify(new Observation
            {
                Derivatives = [Observed.Dnph(59, 60)],
                Prior = new PriorChoice { NoneOfThese = 0 },
            }).NoneOfThese.Sentence);
    }

    [Fact]
    public void SummaryWithoutEvidenceSaysSo() =>
        Assert.StartsWith("No evidence was given", Engine.Identify(new Observation()).Summary, StringComparison.Ordinal);

    [Fact]
    public void RemarksWarnOfRingsAndHindranceAndRepeatTheCuratorsNote()
    {
        var table = TestTable.Table(
            ("diketone", "CC(=O)CC(C)=O", [], [122]), ("hindered", "CC(C)(C)C(=O)C(C)(C)C", [], [160]), ("plain", "CC(C)=O", [126], [188]));
        var snapshot = TableSnapshot.Build(
            table with { Parents = [.. table.Parents.Select(parent => parent.Key == "plain" ? parent with { Note = "Flammable." } : parent)] },
            TestTable.Settings);

        var candidates = new IdentificationEngine(snapshot).Identify(new Observation()).Candidates;
        IReadOnlyList<string> Remarks(string parent) => candidates.Single(candidate => candidate.Parent.Key == parent).Remarks;

        Assert.Contains("pyrazole", Assert.Single(Remarks("diketone")), StringComparison.Ordinal);
        Assert.Contains("reacts slowly", Assert.Single(Remarks("hindered")), StringComparison.Ordinal);
        Assert.Equal(["Flammable."], Remarks("plain"));
    }

    [Fact]
    public void OnlyAsManyCandidatesAsAskedForAreExplainedAndRanked()
    {
        var answer = Engine.Identify(new Observation { Derivatives = [Observed.Dnph(125, 127)] }, 2);

        Assert.Equal(["propanone", "pinacolone"], answer.Candidates.Select(candidate => candidate.Parent.Key));
        Assert.Equal([1, 2], answer.Candidates.Select(candidate => candidate.Rank));
        Assert.Equal(5, answer.CandidatesConsidered);
        Assert.Single(Engine.Identify(new Observation(), 1).Candidates);
        Assert.Throws<ArgumentOutOfRangeException>(() => Engine.Identify(new Observation(), 0));
    }

    [Fact]
    public void PriorIsByWeightAfterTheShareOfNoneOfThese()
    {
        var answer = Engine.Identify(new Observation
        {
            Prior = new PriorChoice
            {
                Weights = new Dictionary<string, double> { ["propanone"] = 6, ["pinacolone"] = 2, ["benzaldehyde"] = 0 },
                NoneOfThese = 0.2,
            },
        });

        Assert.Equal(["propanone", "pinacolone"], answer.Candidates.Select(candidate => candidate.Parent.Key));
        Assert.Equal(0.6, answer.Candidates[0].Prior, 1e-12);
        Assert.Equal(0.2, answer.Candidates[1].Prior, 1e-12);
        Assert.Equal((0.2, 0.2), (answer.NoneOfThese.Prior, Math.Round(answer.NoneOfThese.Posterior, 12)));
        Assert.Equal(2, answer.CandidatesConsidered);
    }

    [Fact]
    public void ClosedShelfHasNoPlaceForNoneOfThese()
    {
        var answer = Engine.Identify(new Observation
        {
            Derivatives = [Observed.Dnph(59, 60)],
            Prior = new PriorChoice { NoneOfThese = 0 },
        });

        Assert.Equal(0, answer.NoneOfThese.Posterior);
        Assert.Equal(1, answer.Candidates.Sum(candidate => candidate.Posterior), 1e-12);
    }

    [Theory]
    [InlineData(0.66, "as expected", "against expectation")]
    [InlineData(0.64, "which may go either way", "which may go either way")]
    [InlineData(0.36, "which may go either way", "which may go either way")]
    [InlineData(0.34, "against expectation", "as expected")]
    public void TestIsAsExpectedOrNotOrMayGoEitherWay(double rate, string positive, string negative)
    {
        var table = Five.Table;
        var engine = new IdentificationEngine(TableSnapshot.Build(
            table with
            {
                Responses = [.. table.Responses.Select(row =>
                    row is { TestKey: "iodoform", Order: 1 } ? row with { PositiveRate = rate, SourceKey = "rates" } : row)],
            },
            TestTable.Settings));
        Evidence Of(SpotTests.SpotTestOutcome outcome) => engine
            .Identify(new Observation { SpotTests = [new SpotTestReading("iodoform", outcome)] })
            .Candidates.Single(candidate => candidate.Parent.Key == "propanone").Evidence.Single();

        Assert.StartsWith(
            $"For propanone: iodoform positive, {positive}.", Of(SpotTests.SpotTestOutcome.Positive).Sentence, StringComparison.Ordinal);
        Assert.StartsWith(
            $"For propanone: iodoform negative, {negative}.", Of(SpotTests.SpotTestOutcome.Negative).Sentence, StringComparison.Ordinal);
        Assert.Equal(["rates"], Of(SpotTests.SpotTestOutcome.Negative).SourceKeys);
    }

    [Fact]
    public void RowOfOneParentHoldsForItAlone()
    {
        var table = Five.Table;
        var snapshot = TableSnapshot.Build(
            table with
            {
                Responses =
                [
                    .. table.Responses.Where(row => row.TestKey != "iodoform"),
                    new SpotTests.SpotTestResponse("iodoform", 2, "any", 0.1, false, true, "invented", null),
                    new SpotTests.SpotTestResponse("iodoform", 1, "parent:pinacolone", 0.9, true, true, "invented", null),
                ],
            },
            TestTable.Settings);
        var view = new IdentificationEngine(snapshot).Weigh(new Observation { SpotTests = [Observed.Positive("iodoform")] });

        // Contrary samples, 0.02 of all, answer as the other class would: 0.05 and 0.95.
        Assert.Equal(
            Math.Log(((0.98 * 0.9) + (0.02 * 0.05)) / ((0.98 * 0.1) + (0.02 * 0.95))),
            view.LogRatioOf(snapshot, "pinacolone") - view.LogRatioOf(snapshot, "propanone"),
            1e-12);
    }

    [Fact]
    public void TestWithoutARowForAParentAnswersAtItsRateForNo()
    {
        var table = Five.Table;
        var snapshot = TableSnapshot.Build(
            table with { Responses = [.. table.Responses.Where(row => row is not { TestKey: "iodoform", Order: 2 })] }, TestTable.Settings);
        var view = new IdentificationEngine(snapshot).Weigh(new Observation { SpotTests = [Observed.Positive("iodoform")] });

        Assert.Equal(
            Math.Log(((0.98 * 0.95) + (0.02 * 0.05)) / ((0.98 * 0.05) + (0.02 * 0.95))),
            view.LogRatioOf(snapshot, "propanone") - view.LogRatioOf(snapshot, "pentan-3-one"),
            1e-12);
    }

    [GeneratedRegex("That is (.+) times (as likely as|less likely than) from a compound drawn at random")]
    private static partial Regex Times();
}
