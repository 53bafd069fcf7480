using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Distributions;
using Derivid.Core.Ranking.Forecasts;

namespace Derivid.Core.Tests.Ranking;

/// <summary>That what is worked out once for many parents, or for the leading ones only, changes no answer.</summary>
public sealed class ManyParentsTests
{
    private static readonly string[] Structures = ["CC(C)=O", "CCC(=O)CC", "CC(=O)C(C)(C)C", "CC(=O)c1ccccc1", "O=Cc1ccccc1"];

    // More than have a row each in a forecast; values to a tenth, many of them shared, every seventh parent with two.
    private static readonly (string Key, string Smiles, double[] Dnph, double[] Semicarbazone)[] Parents =
    [
        .. Enumerable.Range(0, TemperatureForecast.MostRows + 300).Select(i => (
            $"made-up-{i:0000}",
            Structures[i % Structures.Length],
            i % 7 == 0 ? new[] { Celsius(i, 1709), Celsius(i, 1709) + 6 } : [Celsius(i, 1709)],
            new[] { Celsius(i, 907) })),
    ];

    private static readonly TableSnapshot Many = TestTable.Snapshot(Parents);

    private static IEnumerable<Observation> Observations =>
    [
        new Observation(),
        new Observation { Derivatives = [Observed.Dnph(124, 126)] },
        new Observation { Derivatives = [Observed.Dnph(124, 126), Observed.Semicarbazone(188, 190)] },
        new Observation { Derivatives = [Observed.Dnph(60, 61)], SpotTests = [Observed.Positive("iodoform"), Observed.Negative("tollens")] },
        new Observation { SpotTests = [Observed.Positive("tollens")] },
        new Observation
        {
            Derivatives = [Observed.Dnph(124, 126)],
            Prior = PriorChoice.OfShelf(Enumerable.Range(0, 40).Select(i => Parents[i * 30].Key)),
        },
    ];

    [Fact]
    public void FirstOfARankingAreTheFirstOfAllInOrder()
    {
        var engine = new IdentificationEngine(Many);
        foreach (var observation in Observations)
        {
            var view = engine.Weigh(observation);
            foreach (var count in (int[])[1, 10, 100, Parents.Length])
            {
                Assert.Equal(
                    view.Order.Take(count).Select(parent => (Many.Parents[parent], view.Probability[parent])),
                    engine.Rank(observation, count).Candidates);
            }

            // And the order is by probability, those alike by key.
            Assert.All(view.Order.Zip(view.Order.Skip(1)), pair => Assert.True(
                view.Probability[pair.First] > view.Probability[pair.Second] * (1 - 1e-9)
                && (pair.First < pair.Second || view.Probability[pair.First] > view.Probability[pair.Second] * (1 + 1e-12))));
            Assert.Equal(1, view.Probability.Sum() + view.NoneOfThese, 1e-12);
        }
    }

    [Fact]
    public void ViewIsNotTouchedByLaterAnswersNorOneAnswerByAnother()
    {
        var engine = new IdentificationEngine(Many);
        var observations = Observations.ToList();
        var views = observations.ConvertAll(observation => (View: engine.Weigh(observation), Before: engine.Weigh(observation).Probability.ToArray()));
        var alone = observations.ConvertAll(observation => Told(new IdentificationEngine(TestTable.Snapshot(Parents)).Identify(observation)));

        Parallel.For(0, 24, i => Assert.Equal(alone[i % alone.Count], Told(engine.Identify(observations[i % observations.Count]))));

        Assert.All(views, of => Assert.Equal(of.Before, of.View.Probability));

        static string Told(Identification answer) => string.Join(
            '\n',
            answer.Candidates.Select(candidate => $"{candidate.Parent.Key} {candidate.Posterior:R} {candidate.LogLikelihoodRatio:R}")
                .Concat(answer.NextSteps.Select(step => $"{step.Sentence} {step.ExpectedInformation:R}"))
                .Append(answer.Summary));
    }

    [Fact]
    public void ValuesThatAreAlikeWeighAsEachByItself()
    {
        var settings = TestTable.Settings with
        {
            DerivativeMelting = TestTable.Settings.DerivativeMelting with { ElsewhereWorth = 0.3 },
        };
        var table = TestTable.Table([.. Parents.Take(60), ("unlisted", "CCCC(=O)CCC", [], [150])]);
        var listed = TableSnapshot.Build(
            table with
            {
                Derivatives = [.. table.Derivatives.Select((record, i) => record with
                {
                    Decomposes = i % 5 == 0,
                    Verification = i % 3 == 0 ? Verification.CrossChecked : Verification.Recalled,
                })],
            },
            settings).Kind(TestTable.Dnph).Listed;
        var error = new ReadingError(1.3, settings.Depression.PurityOf(2, Preparation.Crude));
        var (density, relative) = (new double[61], new double[61]);
        foreach (var celsius in (double[])[35, 99.5, 126, 199.9, 240, 330])
        {
            listed.Weigh(celsius, error, density, relative);
            for (var parent = 0; parent < 60; parent++)
            {
                Assert.Equal(Alone(listed, parent, celsius, error, settings), (density[parent], relative[parent]));
            }

            var estimate = listed.EstimateOf(60)!.Value;
            Assert.Equal((0.96 * estimate.ReadWithin(1.3).DensityAt(celsius)) + (0.04 / 360), density[60], 1e-18);
            Assert.Equal((0.85 * estimate.ReadWithin(30).DensityAt(celsius)) + (0.15 / 360), relative[60], 1e-18);
        }
    }

    [Theory]
    [InlineData(0, 500)]
    [InlineData(40, 40)]
    [InlineData(7, 2)]
    public void ForecastOfSharedRowsIsNearThatOfARowEach(int first, int count)
    {
        var own = TestTable.Snapshot([.. Parents.Skip(first).Take(count)]);
        var exact = own.Kind(TestTable.Dnph).Forecast.ExpectedInformation(new([.. Enumerable.Repeat(1.0 / count, count)], 0));

        var weights = new double[Parents.Length];
        Array.Fill(weights, 1.0 / count, first, count);
        var shared = Many.Kind(TestTable.Dnph).Forecast.ExpectedInformation(new(weights, 0));

        Assert.InRange(shared, exact * 0.97, exact * 1.01);
    }

    [Fact]
    public void WhatAForecastLeavesOutHoldsAThousandthAtMost()
    {
        var weights = new double[50_000];
        Array.Fill(weights, 0.6 / weights.Length);
        weights[7] = 0.4 + (0.6 / weights.Length);
        Assert.Equal(weights.Length, new ForecastWeights(weights, 0).Parents.Length);

        Array.Fill(weights, 0.9 * ForecastWeights.MostLeftOut / weights.Length);
        weights[7] = 1 - weights.Skip(8).Sum() - weights.Take(7).Sum();
        Assert.Equal([7], new ForecastWeights(weights, 0).Parents.ToArray());
    }

    /// <summary>The densities of one parent with values, by what the documentation of the density says.</summary>
    private static (double Own, double Relative) Alone(
        ListedTemperatures listed, int parent, double celsius, ReadingError error, ModelSettings settings)
    {
        var (scatter, open) = (settings.DerivativeMelting, settings.OpenSet);
        var noise = new ReadingNoise(scatter, 1, error);
        var (own, spread, far) = (0.0, 0.0, 0.0);
        foreach (var value in listed.Of(parent))
        {
            far += value.Weight * listed.EstimateOf(parent)!.Value.ReadWithin(error.ReadingCelsius).UnboundedDensityAt(celsius, value.HighCelsius);
            own += value.Weight * noise.At(celsius - value.HighCelsius, value);
            spread += value.Weight * NormalDensity.At(celsius - value.HighCelsius, open.DerivativeMeltingCelsius);
        }

        var worth = listed.Of(parent).Sum(value => value.Verification == Verification.CrossChecked ? 2 : 1);
        var different = 1 + listed.Of(parent).Skip(1).Zip(listed.Of(parent)).Count(pair => pair.First.HighCelsius - pair.Second.HighCelsius > 3);
        var scaled = scatter.ElsewhereWorth * different / worth;
        far = ((1 - scatter.GrossShare) * far) + (scatter.GrossShare * noise.Even);
        return (
            own + (scaled / (scaled + worth) * (far - own)),
            ((1 - open.EvenShare) * spread) + (open.EvenShare * noise.Even));
    }

    private static double Celsius(int i, int step) => 60 + (i * step % 2200 / 10.0);
}
