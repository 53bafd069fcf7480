using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Api.Table;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Core.Practice.Decisions;
using Derivid.Core.Ranking;

namespace Derivid.Api.Practice;

/// <summary>What to do next: for a shelf of compounds before anything is done, and what a step would show.</summary>
public static class DecisionEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapDecisions(this RouteGroupBuilder api)
    {
        api.MapPost("/decision-sheets", DecideAsync)
            .WithTags("Practice")
            .WithName("planDecisions")
            .WithSummary("Plan the shortest way to a name")
            .WithDescription(
                "For 2 to 40 compounds, each equally likely, and what the laboratory has: which step to take first and which after each "
                + "outcome, so that any of them is named in the fewest minutes expected, hazard counted as minutes. By the forecasts of the "
                + "ranking engine. At most 10 points of decision, those most often come to; what is rarer goes back to the service. "
                + "Takes up to some seconds, in the sender's turn. Stores nothing.")
            .WithBody<DecisionRequest>()
            .Produces<DecisionSheet>()
            .ProducesProblems(ProblemTypes.ExaminationOpen);
        api.MapPost("/forecasts", ForecastAsync)
            .WithTags("Practice")
            .WithName("forecastStep")
            .WithSummary("Ask what a step would show")
            .WithDescription(
                "For an observation and a step not yet taken: what may be seen, how likely each outcome is, and who would lead then. "
                + "Bands of readings are as wide as they make no difference. Stores nothing.")
            .WithBody<ForecastRequest>()
            .Produces<StepForecast>()
            .ProducesProblems(
                ProblemTypes.ExaminationOpen,
                ProblemTypes.ContradictoryReadings,
                ProblemTypes.MeltingRangeReversed,
                ProblemTypes.ThermometerImplausible);
    }

    private static async Task<IResult> DecideAsync(
        HttpContext context, TableSnapshots tables, SenderTurns turns, Examinations examinations)
    {
        if (!(await JsonBody.ReadAsync<DecisionRequest>(context.Request)).Succeeded(out var request, out var problem)
            || (problem = await examinations.OfAsync(context)) is not null
            || !(await tables.FindAsync(request.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        if (!OrderOf(request, table).Succeeded(out var order, out problem))
        {
            return problem with { TableVersion = table.Table.Version };
        }

        using (await turns.TakeAsync(context))
        {
            return Reply.Json(DecisionSheet.Of(
                DecisionPlanner.Plan(order, table.Snapshot, context.RequestAborted), table.Snapshot));
        }
    }

    private static Outcome<DecisionOrder> OrderOf(DecisionRequest request, ServedTable table)
    {
        var errors = new FieldErrors();
        var shelf = Keys(request.ShelfList, table.Parents, "/shelfList", errors);
        var kinds = request.DerivativeKinds is { } made
            ? Keys(made, table.Kinds, "/derivativeKinds", errors)
            : [.. table.Table.Kinds.Select(kind => kind.Key)];
        var tests = request.SpotTests is { } run
            ? Keys(run, table.Tests, "/spotTests", errors)
            : [.. table.Table.SpotTests.Select(test => test.Key)];
        return errors.ToProblem() is { } problem
            ? problem
            : new DecisionOrder
            {
                ParentKeys = shelf,
                KindKeys = kinds,
                TestKeys = tests,
                TakesConstants = request.TakesConstants ?? true,
                HazardMinutes = request.HazardMinutes ?? Observation.DefaultHazardMinutes,
                NoneOfThese = request.NoneOfThese,
                Certainty = request.Certainty ?? DecisionOrder.DefaultCertainty,
            };
    }

    /// <summary>Keys for names, every fault told at once: one that is not known, or means the same as an earlier one.</summary>
    private static List<string> Keys(IReadOnlyList<string> names, NameIndex index, string place, FieldErrors errors)
    {
        List<string> keys = [];
        foreach (var (i, name) in names.Index())
        {
            if (index.Find(name) is not { } key)
            {
                errors.Add(JsonPointer.Item(place, i), index.Unknown(name));
            }
            else if (keys.Contains(key, StringComparer.Ordinal))
            {
                errors.Add(JsonPointer.Item(place, i), $"{Text.Quoted(name)} is {key}, which is listed already; name it once.");
            }
            else
            {
                keys.Add(key);
            }
        }

        return keys;
    }

    private static async Task<IResult> ForecastAsync(
        HttpContext context,
        TableSnapshots tables,
        RegisteredThermometers thermometers,
        SenderTurns turns,
        Examinations examinations)
    {
        const string place = "/observation";
        if (!(await JsonBody.ReadAsync<ForecastRequest>(context.Request)).Succeeded(out var request, out var problem)
            || (problem = await examinations.OfAsync(context)) is not null)
        {
            return problem;
        }

        var seen = request.Observation ?? new IdentificationRequest();
        if (!(await tables.FindAsync(seen.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem)
            || !(await thermometers.IntoAsync(seen, table, place, context.RequestAborted)).Succeeded(out seen, out problem))
        {
            return problem;
        }

        using (await turns.TakeAsync(context))
        {
            var errors = new FieldErrors();
            var observation = new CanonicalRequestReader(table, place, errors).Read(seen).Observation;
            var key = KeyOf(request.Step, table, errors);
            if (errors.Count == 0 && StepForecaster.IsTaken(observation, request.Step.Kind, key))
            {
                errors.Add("/step", "The observation has this already; a forecast is of what has not been done.");
            }
            else if (errors.Count == 0 && (observation.State, request.Step.Kind) is
                (PhysicalState.Liquid, NextStepKind.MeltingPoint) or (PhysicalState.Solid, NextStepKind.BoilingPoint))
            {
                errors.Add("/step/kind", $"The observation says that the unknown is a {WireJson.Word(observation.State!.Value)}, of which there is no {WireJson.Word(request.Step.Kind)} to take on the bench.");
            }

            return errors.ToProblem() is { } wrong
                ? wrong with { TableVersion = table.Table.Version }
                : Reply.Json(new StepForecaster(table.Engine, table.Snapshot).Forecast(observation, request.Step.Kind, key));
        }
    }

    private static string? KeyOf(StepDescribed step, ServedTable table, FieldErrors errors)
    {
        var index = step.Kind switch
        {
            NextStepKind.Derivative => table.Kinds,
            NextStepKind.SpotTest => table.Tests,
            _ => null,
        };
        if (step.Kind is NextStepKind.Recrystallisation or NextStepKind.MixedMeltingPoint)
        {
            errors.Add(
                "/step/kind",
                $"A {WireJson.Word(step.Kind)} is not forecast. Allowed: "
                + string.Join(", ", StepForecaster.Forecastable.Select(kind => WireJson.Word(kind))) + ".");
            return null;
        }

        if ((index is null) != (step.Key is null))
        {
            errors.Add("/step/key", index is null
                ? $"A {WireJson.Word(step.Kind)} has no key; leave it out."
                : "Is missing: say which one.");
            return null;
        }

        if (index is null)
        {
            return null;
        }

        if (index.Find(step.Key!) is not { } key)
        {
            errors.Add("/step/key", index.Unknown(step.Key!));
            return null;
        }

        return key;
    }
}
