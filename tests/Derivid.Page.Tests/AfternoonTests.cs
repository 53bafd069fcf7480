using System.Globalization;
using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Core.Practice.Decisions;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Core.Teaching;

namespace Derivid.Page.Tests;

/// <summary>A student's afternoon, from an empty bench to a printed page.</summary>
/// <remarks>
/// Nobody had it: the readings are made up, from what the table lists for acetophenone, by a thermometer that reads 2 °C low and
/// crystals that melt 6 °C low and wide while they are crude.
/// </remarks>
[Collection(nameof(ShownPage))]
public sealed class AfternoonTests(BrowserFixture browser, ShownPage shown)
{
    private const string Truth = "acetophenone";
    private const string Dnph = "2-4-dinitrophenylhydrazone";
    private const double ThermometerLow = 2;
    private const double CrudeLow = 6;

    private static readonly string[] Shelf =
        ["acetophenone", "benzaldehyde", "butanone", "cyclohexanone", "cyclopentanone", "hexan-2-one", "pentan-3-one", "propanone"];

    private static CancellationToken Gone => TestContext.Current.CancellationToken;

    [Fact]
    public async Task FromAnEmptyBenchToAPrintedPage()
    {
        using var client = shown.Service.ClientWith(shown.KeyOf(Role.Student));
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        var listed = await client.Table.ListDerivativesAsync(new DerivativeQuery { Parent = Truth }, Gone).ToListAsync(Gone);
        double Listed(string kind) => listed.Where(record => record.KindKey == kind).Max(record => record.HighCelsius);

        // What to do first: the shelf list is known, and there is too little of the unknown to boil it.
        var sheet = await client.Practice.DecideAsync(
            new DecisionRequest { ShelfList = Shelf, DerivativeKinds = [Dnph, "semicarbazone"], SpotTests = ["tollens", "iodoform"], TakesConstants = false }, Gone);
        Assert.InRange(sheet.Forecast.Minutes, 20, 200);
        Assert.InRange(FollowTo(Truth, sheet, Listed), 1, 4);

        // The reagent, made up for the unknown by the span of what is on the shelf: a page to take along, with its cautions.
        await reader.OpenAsync($"/prepare?kind={Dnph}&lowest=58&highest=121&milligrams=100&portions=2");
        var preparation = await reader.Page.Locator(".preparation").InnerTextAsync();
        Assert.Contains("can explode", preparation, StringComparison.Ordinal);
        Assert.Contains("What a failure looks like", preparation, StringComparison.Ordinal);

        // The first attempt fails: nothing comes. It speaks against nobody much, since a mixing may fail.
        var prior = new PriorDescribed { ShelfList = Shelf };
        var failed = await IdentifyAsync(new IdentificationRequest
        {
            Derivatives = [new DerivativeObserved { Kind = Dnph, Precipitate = Precipitate.None }],
            Prior = prior,
        });
        Assert.True(failed.Candidates[0].Posterior < 0.6, $"{failed.Candidates[0].Parent.Key} {failed.Candidates[0].Posterior}");

        // The thermometer is checked with two standards: it reads low.
        var thermometer = await client.Thermometers.RegisterAsync(new ThermometerRequest { Name = "Oil bath (invented)" }, null, Gone);
        var standards = await client.Table.ListStandardsAsync(cancellationToken: Gone).ToListAsync(Gone);
        var calibrated = await client.Thermometers.CalibrateAsync(
            thermometer.Id,
            new CalibrationRequest
            {
                Standards =
                [
                    .. standards.Where(standard => standard.Key is "benzoic-acid" or "caffeine")
                        .Select(standard => new StandardMelted { Standard = standard.Key, ReadCelsius = standard.ClearPointCelsius - ThermometerLow }),
                ],
            },
            null,
            Gone);
        Assert.Contains(calibrated.Curve!, point => Math.Abs(point.ReadCelsius - 200) < 1 && Math.Abs(point.CorrectionCelsius - ThermometerLow) < 0.2);
        var named = new ThermometerDescribed { Id = thermometer.Id };

        // The second attempt gives crystals; crude they melt low and wide.
        var crude = new DerivativeObserved
        {
            Kind = Dnph,
            MeltingRange = Read(Listed(Dnph) - CrudeLow, 7),
            Preparation = Preparation.Crude,
            Colour = "orange",
        };
        var first = await IdentifyAsync(new IdentificationRequest { Derivatives = [crude], Thermometer = named, Prior = prior });
        Assert.Contains(first.NextSteps, step => step.Kind == NextStepKind.Recrystallisation);

        // The guide says how to read the range, what the depression tells, and whether to recrystallise.
        var guide = await client.Practice.GuideReadingAsync(
            new ReadingGuideRequest
            {
                Kind = Dnph,
                Parent = Truth,
                Read = crude.MeltingRange,
                Preparation = Preparation.Crude,
                Thermometer = named,
                Observation = new IdentificationRequest { Derivatives = [crude], Thermometer = named, Prior = prior },
            },
            Gone);
        Assert.NotEmpty(guide.Steps);
        Assert.NotNull(guide.Purity);
        Assert.NotNull(guide.Recrystallisation);

        // Recrystallised, they melt higher and sharply.
        var pure = crude with { MeltingRange = Read(Listed(Dnph) - 0.5, 1.5), Preparation = Preparation.Recrystallised };
        var second = await IdentifyAsync(new IdentificationRequest { Derivatives = [crude, pure], Thermometer = named, Prior = prior });
        Assert.Contains(second.Candidates.Take(2), candidate => candidate.Parent.Key == Truth);
        Assert.True(
            second.Readings.Single().AsUsed.ClearPointCelsius - second.Readings.Single().AsRead.ClearPointCelsius > 1.5, "the reading is corrected");

        // What would a second derivative show? It is asked before an hour is spent on it, and made.
        var soFar = new IdentificationRequest { Derivatives = [pure], Thermometer = named, Prior = prior };
        var forecast = await client.Practice.ForecastAsync(
            new ForecastRequest { Observation = soFar, Step = new StepDescribed { Kind = NextStepKind.Derivative, Key = "semicarbazone" } }, Gone);
        var expected = forecast.Outcomes.Single(outcome => outcome.Seen == BenchOutcomeKind.Reading
            && !(Listed("semicarbazone") < outcome.LowCelsius) && !(Listed("semicarbazone") >= outcome.HighCelsius));
        Assert.Equal(Truth, expected.Candidates[0].Key);

        var answer = await IdentifyAsync(soFar with
        {
            Derivatives =
            [
                new DerivativeObserved { Kind = Dnph, Precipitate = Precipitate.None },
                crude,
                pure,
                new DerivativeObserved
                {
                    Kind = "semicarbazone",
                    MeltingRange = Read(Listed("semicarbazone") - 0.5, 1.5),
                    Preparation = Preparation.Recrystallised,
                },
            ],
            SpotTests = [new SpotTestObserved { Test = "iodoform", Outcome = SpotTestOutcome.Positive }],
            MixedMeltings =
            [
                new MixedMeltingObserved
                {
                    Kind = "semicarbazone",
                    Partner = Truth,
                    Range = Read(Listed("semicarbazone") - 0.7, 1.7),
                    AuthenticRange = Read(Listed("semicarbazone") - 0.5, 1.5),
                },
            ],
        });
        Assert.Equal(Truth, answer.Candidates[0].Parent.Key);
        Assert.True(answer.Candidates[0].Posterior > 0.95, $"{answer.Candidates[0].Posterior}");
        Assert.False(answer.NoneOfThese.Leads);

        // The page to hand in: one page, with the compound, both readings and the cautions.
        await reader.OpenAsync($"/identifications/{answer.Id}");
        var text = await reader.TextAsync();
        foreach (var said in new[] { "acetophenone", "semicarbazone", "2,4-dinitrophenylhydrazone", "corrected to" })
        {
            Assert.Contains(said, text, StringComparison.OrdinalIgnoreCase);
        }

        Assert.Equal(1, await reader.PagesAsync("A4"));

        async Task<IdentificationReply> IdentifyAsync(IdentificationRequest request) =>
            await client.Identifications.IdentifyAsync(request, cancellationToken: Gone);
    }

    /// <summary>Follows a sheet as a compound would that shows what is listed of it, to its name.</summary>
    /// <returns>Steps taken.</returns>
    private static int FollowTo(string truth, DecisionSheet sheet, Func<string, double> listed)
    {
        var (point, steps) = (sheet.Points[0], 0);
        while (true)
        {
            steps++;
            var step = point.Step!;
            var seen = point.Branches.Single(outcome => step.Kind == NextStepKind.Derivative
                ? outcome.Seen == BenchOutcomeKind.Reading && !(listed(step.Key!) < outcome.LowCelsius) && !(listed(step.Key!) >= outcome.HighCelsius)
                : outcome.Seen == (step.Key == "iodoform" ? BenchOutcomeKind.Positive : BenchOutcomeKind.Negative));
            if (seen.Next is not { } next)
            {
                Assert.Equal(truth, seen.Candidates[0].Key);
                Assert.NotEqual(DecisionEnd.NoneOfThese, seen.End);
                return steps;
            }

            point = sheet.Points[next - 1];
        }
    }

    // As the thermometer shows it.
    private static RangeObserved Read(double clear, double span) => string.Create(
        CultureInfo.InvariantCulture, $"{clear - span - ThermometerLow:0.0}-{clear - ThermometerLow:0.0} °C");
}
