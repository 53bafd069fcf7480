using Derivid.Core.Observations;
using Derivid.Core.Practice.Decisions;
using Derivid.Core.Ranking;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Practice.Decisions;

/// <summary>What a step not yet taken would show.</summary>
public sealed class StepForecasterTests
{
    private static readonly TableSnapshot Five = TestTable.Five();
    private static readonly IdentificationEngine Engine = new(Five);

    private static Observation Seen { get; } = new() { Derivatives = [Observed.Dnph(124, 126)], Prior = new() { IsUniform = true } };

    // Two 2,4-dinitrophenylhydrazones melt alike; their semicarbazones are listed at 157 and 188 °C.
    [Fact]
    public void ASecondDerivativeIsForetoldToPartThem()
    {
        var forecast = new StepForecaster(Engine, Five).Forecast(Seen, NextStepKind.Derivative, TestTable.Semicarbazone);

        Assert.Equal("propanone", LedBy(forecast, 188));
        Assert.Equal("pinacolone", LedBy(forecast, 157));
        Assert.InRange(forecast.ChangesLeader, 0.2, 0.7);
        Assert.InRange(forecast.Outcomes.Sum(outcome => outcome.Probability), 0.95, 1 + 1e-9);
    }

    // What is foretold is what the engine answers once it is read.
    [Fact]
    public void WhatIsForetoldIsWhatTheEngineThenAnswers()
    {
        var forecast = new StepForecaster(Engine, Five).Forecast(Seen, NextStepKind.SpotTest, "tollens");
        var positive = forecast.Outcomes.Single(outcome => outcome.Seen == BenchOutcomeKind.Positive);
        var view = Engine.Weigh(Seen with { SpotTests = [Observed.Positive("tollens")] });

        Assert.Equal(view.NoneOfThese, positive.NoneOfThese, tolerance: 1e-12);
        Assert.Equal(view.ProbabilityOf(Five, positive.Candidates[0].Key), positive.Candidates[0].Probability, tolerance: 1e-12);
    }

    [Fact]
    public void AStepAlreadyTakenIsNotForetold()
    {
        Assert.True(StepForecaster.IsTaken(Seen, NextStepKind.Derivative, TestTable.Dnph));
        Assert.False(StepForecaster.IsTaken(Seen, NextStepKind.Derivative, TestTable.Semicarbazone));
        Assert.Throws<ArgumentException>(() => new StepForecaster(Engine, Five).Forecast(Seen, NextStepKind.Derivative, TestTable.Dnph));
        Assert.Throws<ArgumentException>(() => new StepForecaster(Engine, Five).Forecast(Seen, NextStepKind.MixedMeltingPoint, null));
    }

    [Theory]
    [InlineData(NextStepKind.State, null)]
    [InlineData(NextStepKind.BoilingPoint, null)]
    [InlineData(NextStepKind.MeltingPoint, null)]
    public void PhysicalConstantsAreForetoldToo(NextStepKind kind, string? key)
    {
        var forecast = new StepForecaster(Engine, Five).Forecast(new Observation(), kind, key);

        Assert.NotEmpty(forecast.Outcomes);
        Assert.All(forecast.Outcomes, outcome => Assert.InRange(outcome.Candidates.Sum(candidate => candidate.Probability) + outcome.NoneOfThese, 0, 1 + 1e-9));
    }

    // What is solid on the bench can't be found a liquid when it is melted.
    [Fact]
    public void ASolidIsNotForetoldToBeALiquid()
    {
        var forecaster = new StepForecaster(Engine, Five);
        var unseen = forecaster.Forecast(new Observation(), NextStepKind.MeltingPoint, null);
        var solid = forecaster.Forecast(new Observation { State = PhysicalState.Solid }, NextStepKind.MeltingPoint, null);

        Assert.Contains(unseen.Outcomes, outcome => outcome.Seen == BenchOutcomeKind.Liquid);
        Assert.DoesNotContain(solid.Outcomes, outcome => outcome.Seen == BenchOutcomeKind.Liquid);
        Assert.InRange(solid.Outcomes.Sum(outcome => outcome.Probability), 0.95, 1 + 1e-6);
    }

    private static string LedBy(StepForecast forecast, double celsius) => forecast.Outcomes
        .First(outcome => outcome.Seen == BenchOutcomeKind.Reading && !(celsius < outcome.LowCelsius) && !(celsius >= outcome.HighCelsius))
        .Candidates[0].Key;
}
