using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Practice.Decisions;

/// <summary>What a step not yet taken may show, and what the answer would be then.</summary>
/// <remarks>
/// How likely each outcome is comes from the forecasts of the ranking engine, "none of these" among them as an average unlisted
/// relative; what the answer would be is the engine's own to
/// the observation with a reading in the middle of the band beside it. Nothing is stored.
/// </remarks>
public sealed record StepForecast
{
    /// <summary>Version of the reference table.</summary>
    public required int TableVersion { get; init; }

    /// <summary>Version of the model.</summary>
    public required string ModelVersion { get; init; }

    /// <summary>The step.</summary>
    public required DecisionStep Step { get; init; }

    /// <summary>The answer as it stands: the leading compounds.</summary>
    public required IReadOnlyList<DecisionCandidate> Now { get; init; }

    /// <summary>Probability that it is none of these, as it stands.</summary>
    public required double NoneOfThese { get; init; }

    /// <summary>Probability that another compound will lead once the step is taken.</summary>
    public required double ChangesLeader { get; init; }

    /// <summary>What may be seen. Shape: readings from the lowest up, then the rest; rare ones left out.</summary>
    public required IReadOnlyList<ForecastOutcome> Outcomes { get; init; }

    /// <summary>The usual cautions for the step. Missing: it has none of its own.</summary>
    public string? Cautions { get; init; }
}

/// <summary>Something that may be seen, and what the answer would be.</summary>
/// <param name="Seen">What sort of thing.</param>
/// <param name="LowCelsius">Lower end of a band of readings, inside. Units: °C. Missing: no reading, or open below.</param>
/// <param name="HighCelsius">Upper end of it, outside. Units: °C. Missing: no reading, or open above.</param>
/// <param name="Words">In words.</param>
/// <param name="Probability">Its probability.</param>
/// <param name="Candidates">The leading compounds then.</param>
/// <param name="NoneOfThese">Probability that it is none of these, then.</param>
public sealed record ForecastOutcome(
    BenchOutcomeKind Seen,
    double? LowCelsius,
    double? HighCelsius,
    string Words,
    double Probability,
    IReadOnlyList<DecisionCandidate> Candidates,
    double NoneOfThese);

/// <summary>Forecasts steps.</summary>
/// <param name="engine">The engine.</param>
/// <param name="snapshot">Its table.</param>
public sealed class StepForecaster(IdentificationEngine engine, TableSnapshot snapshot)
{
    /// <summary>The sorts of steps that are forecast.</summary>
    public static IReadOnlyList<NextStepKind> Forecastable { get; } =
    [
        NextStepKind.Derivative, NextStepKind.SpotTest, NextStepKind.State, NextStepKind.BoilingPoint, NextStepKind.MeltingPoint,
    ];

    /// <summary>Outcomes less likely than this are left out. Chosen.</summary>
    private const double LeastShown = 0.005;

    /// <summary>Compounds less likely than this have no part in the forecast. Chosen.</summary>
    private const double LeastPart = 1e-4;

    private const int MostCompounds = 60;
    private const int MostNamed = 3;

    /// <summary>Forecasts.</summary>
    /// <param name="observation">What was seen so far.</param>
    /// <param name="kind">The sort of step: a derivative, a spot test, liquid or solid, boiling or melting point.</param>
    /// <param name="key">The derivative kind or spot test. Missing: null where the kind says it all.</param>
    /// <exception cref="ArgumentException">A key is not in the table, the step can't be forecast, or it was taken already.</exception>
    public StepForecast Forecast(Observation observation, NextStepKind kind, string? key)
    {
        ArgumentNullException.ThrowIfNull(observation);
        if (IsTaken(observation, kind, key))
        {
            throw new ArgumentException("The step was taken already.", nameof(kind));
        }

        var now = engine.Weigh(observation);
        int[] parents = [.. now.Order.Take(MostCompounds).Where((parent, place) => place == 0 || now.Probability[parent] >= LeastPart)];
        var total = parents.Sum(parent => now.Probability[parent]) + now.NoneOfThese;
        double[] belief = [.. parents.Select(parent => now.Probability[parent] / total), now.NoneOfThese / total];
        var steps = new BenchSteps(snapshot, parents, belief);
        var step = kind switch
        {
            NextStepKind.Derivative => steps.Derivative(snapshot.Kind(key!)),
            NextStepKind.SpotTest => steps.SpotTest(key!),
            NextStepKind.State => steps.State(),
            NextStepKind.BoilingPoint => steps.BoilingPoint(),
            NextStepKind.MeltingPoint => steps.MeltingPoint(observation.State == PhysicalState.Solid),
            _ => throw new ArgumentException($"A {kind} is not forecast.", nameof(kind)),
        };

        List<ForecastOutcome> outcomes = [];
        var changes = 0.0;
        var after = new double[belief.Length];
        for (var outcome = 0; outcome < step.Outcomes.Count; outcome++)
        {
            var share = step.Update(belief, outcome, after);
            if (share < LeastShown)
            {
                continue;
            }

            var seen = step.Outcomes[outcome];
            var then = engine.Weigh(With(observation, step.What, seen));
            changes += then.Order[0] == now.Order[0] ? 0 : share;
            outcomes.Add(new ForecastOutcome(
                seen.Kind, seen.LowCelsius, seen.HighCelsius, seen.Words, share, Leading(then), then.NoneOfThese));
        }

        return new StepForecast
        {
            TableVersion = snapshot.Table.Version,
            ModelVersion = snapshot.Settings.Version,
            Step = DecisionStep.Of(step.What),
            Now = Leading(now),
            NoneOfThese = now.NoneOfThese,
            ChangesLeader = changes,
            Outcomes = outcomes,
            Cautions = step.What.Cautions is { } caution ? Caution.ByItself(caution) : null,
        };
    }

    /// <summary>Whether the observation has what the step would show.</summary>
    public static bool IsTaken(Observation observation, NextStepKind kind, string? key)
    {
        ArgumentNullException.ThrowIfNull(observation);
        return kind switch
        {
            NextStepKind.Derivative => observation.Derivatives.Any(reading => reading.KindKey == key && (reading.Range is not null || reading.Came is Precipitate.Oil or Precipitate.None)),
            NextStepKind.SpotTest => observation.SpotTests.Any(reading => reading.TestKey == key),
            NextStepKind.State => observation.State is not null || observation.MeltingPoint is not null,
            NextStepKind.BoilingPoint => observation.BoilingPoint is not null,
            NextStepKind.MeltingPoint => observation.MeltingPoint is not null,
            _ => false,
        };
    }

    private static Observation With(Observation seen, BenchWork what, BenchOutcome outcome) =>
        (what.Kind, outcome.MeanCelsius) switch
        {
            (NextStepKind.Derivative, { } clear) => seen with
            {
                Derivatives = [.. seen.Derivatives, new DerivativeReading(what.Key!, Range(clear), Preparation.Recrystallised, null, null)],
            },
            (NextStepKind.Derivative, null) => seen with
            {
                Derivatives = [.. seen.Derivatives, new DerivativeReading(
                    what.Key!, null, Preparation.Unstated, null, outcome.Kind == BenchOutcomeKind.Oil ? Precipitate.Oil : Precipitate.None)],
            },
            (NextStepKind.SpotTest, _) => seen with
            {
                SpotTests = [.. seen.SpotTests, new SpotTestReading(
                    what.Key!, outcome.Kind == BenchOutcomeKind.Positive ? SpotTestOutcome.Positive : SpotTestOutcome.Negative)],
            },
            (_, null) when outcome.Kind == BenchOutcomeKind.Liquid => seen with { State = PhysicalState.Liquid },
            (NextStepKind.State, _) => seen with
            {
                State = outcome.Kind == BenchOutcomeKind.Solid ? PhysicalState.Solid : PhysicalState.Liquid,
            },
            (NextStepKind.BoilingPoint, { } boiling) => seen with { BoilingPoint = new BoilingPointReading(Range(boiling)) },
            (_, { } melting) => seen with { MeltingPoint = Range(melting) },
            _ => throw new ArgumentException("A reading without a temperature.", nameof(outcome)),
        };

    private static MeltingRange Range(double clear) =>
        new(clear - Ranking.Forecasts.TemperatureForecast.ExpectedSpanCelsius, clear);

    private List<DecisionCandidate> Leading(PosteriorView view) =>
    [
        .. view.Order.Take(MostNamed).Select(parent => new DecisionCandidate(
            snapshot.Parents[parent].Key, snapshot.Parents[parent].Name, view.Probability[parent])),
    ];
}
