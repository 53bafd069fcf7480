using Derivid.Core.Observations;
using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
using Derivid.Validation.Experiments;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Advice;

/// <summary>Trials of every policy on the same students, and what was fitted for them.</summary>
/// <param name="Trials">Shape: one list a policy, one trial a student.</param>
/// <param name="BestOrder">The best fixed order, by name of step.</param>
/// <param name="BestOrderMinutes">Its mean minutes on the fitting students.</param>
/// <param name="MinutesPerNat">What the planner takes the entropy left to cost.</param>
public sealed record AdviceResults(
    IReadOnlyDictionary<AdvicePolicy, AdviceTrial[]> Trials,
    IReadOnlyList<string> BestOrder,
    double BestOrderMinutes,
    double MinutesPerNat);

/// <summary>Counts the minutes and hazards that students need to 95 % when they choose their steps in different ways.</summary>
/// <remarks>
/// The clock starts with an unknown of which nothing is known but that it is a liquid or a solid. All policies are judged by
/// the same engine: a student stops when any answer, "none of these" included, has 95 %, or when two afternoons are over.
/// A derivative that cannot form takes its time and shows nothing. Mixed melting points are left out: they need the answer.
/// </remarks>
public sealed class AdviceExperiment
{
    private const int LookAheadSeed = 3;

    private static readonly double[] MinutesPerNat = [20, 40, 80, 160];

    private readonly BenchTable _table;
    private readonly ModelSettings _settings;
    private readonly Bench _bench;
    private readonly Workplace _workplace;

    /// <summary>Takes table, bench and settings.</summary>
    public AdviceExperiment(BenchTable table, BenchParameters parameters, ModelSettings settings)
    {
        var withAbsent = parameters with { AbsentShare = 0.1 };
        (_table, _settings) = (table, settings);
        _bench = new Bench(table, withAbsent);
        _workplace = new Workplace(table);
    }

    /// <summary>Fits the best order and the planner, then runs every policy over the reporting students.</summary>
    /// <param name="fitting">Students to fit on.</param>
    /// <param name="reporting">Students reported.</param>
    public AdviceResults Run(StudentGroup fitting, StudentGroup reporting)
    {
        var engine = new IdentificationEngine(TableSnapshot.Build(_table.Table, _settings));
        var present = Enumerable.Range(0, fitting.Count)
            .Select(number => _bench.Student(fitting.Seed, number))
            .Where(student => !student.IsAbsent)
            .ToArray();
        var (order, minutes) = new OrderSearch(_workplace, engine, present)
            .Find([_workplace.CourseOrder(), _workplace.DerivativesFirstOrder()]);
        var planner = LookAhead.Build(
            _workplace, _bench, engine, _table.Parents.Count, LookAheadSeed, MinutesPerNat[0]);
        var some = present.Where((_, i) => i % 2 == 0).ToArray();
        var minutesPerNat = MinutesPerNat.MinBy(cost =>
        {
            var trial = planner.With(cost);
            return some.AsParallel().AsOrdered()
                .Select((student, number) => Follow(student, AdvicePolicy.Planner, engine, [], trial, new Random(number), -1).Minutes)
                .Average();
        });
        return new AdviceResults(
            Trials(reporting, order, planner.With(minutesPerNat)),
            [.. order.Select(step => _workplace.Steps[step].Key ?? "own boiling or melting point")],
            minutes,
            minutesPerNat);
    }

    private Dictionary<AdvicePolicy, AdviceTrial[]> Trials(StudentGroup reporting, int[] bestOrder, LookAhead planner)
    {
        var policies = Enum.GetValues<AdvicePolicy>();
        var trials = policies.ToDictionary(policy => policy, _ => new AdviceTrial[reporting.Count]);
        Parallel.For(0, Math.Min(reporting.Count, _table.Parents.Count), removed =>
        {
            // An engine that advises holds forecasts of some megabytes, so none is kept.
            var engine = new ReducedEngines(_table, _settings).Without(removed);
            for (var number = removed; number < reporting.Count; number += _table.Parents.Count)
            {
                var student = _bench.Student(reporting.Seed, number);
                foreach (var policy in policies)
                {
                    var order = policy switch
                    {
                        AdvicePolicy.Course => _workplace.CourseOrder(),
                        AdvicePolicy.DerivativesFirst => _workplace.DerivativesFirstOrder(),
                        _ => bestOrder,
                    };
                    trials[policy][number] = Follow(
                        student, policy, engine, order, planner, new Random(number), student.Removed);
                }
            }
        });
        return trials;
    }

    private AdviceTrial Follow(
        Student student, AdvicePolicy policy, IdentificationEngine engine, int[] order, LookAhead planner, Random random, int removed)
    {
        List<int> left = order.Length > 0 ? [.. order] : [.. Enumerable.Range(0, _workplace.Steps.Count)];
        var seen = Workplace.Start(student);
        var trial = default(AdviceTrial);
        while (true)
        {
            var view = engine.Weigh(seen);
            List<double> probability = [.. view.Probability];
            if (removed >= 0)
            {
                probability.Insert(removed, 0);
            }

            var most = Math.Max(probability.Max(), view.NoneOfThese);
            if (most >= Workplace.Enough || trial.Minutes >= Workplace.MostMinutes || left.Count == 0)
            {
                var top = view.NoneOfThese >= most ? -1 : probability.IndexOf(most);
                return trial with
                {
                    Minutes = most >= Workplace.Enough ? trial.Minutes : Workplace.MostMinutes,
                    IsReached = most >= Workplace.Enough,
                    IsRight = top == (student.IsAbsent ? -1 : student.Truth),
                };
            }

            var next = policy switch
            {
                AdvicePolicy.Service => Advised(engine, seen, left, student),
                AdvicePolicy.ServicePerMinute => Advised(engine, seen with { HazardMinutes = 0 }, left, student),
                AdvicePolicy.Planner => planner.Choose(probability, view.NoneOfThese, left, student.IsSolid, random),
                _ => left[0],
            };
            left.Remove(next);
            var step = _workplace.Steps[next];
            seen = Workplace.After(seen, step, student);
            trial = trial with
            {
                Minutes = trial.Minutes + Workplace.MinutesOf(step, student.IsSolid),
                Steps = trial.Steps + 1,
                HighHazards = trial.HighHazards + (step.Hazard == Hazard.High ? 1 : 0),
                ModerateHazards = trial.ModerateHazards + (step.Hazard == Hazard.Moderate ? 1 : 0),
            };
        }
    }

    /// <summary>The first of the service's steps that can be taken.</summary>
    private int Advised(IdentificationEngine engine, Observation seen, List<int> left, Student student)
    {
        var steps = engine.Identify(seen, 1).NextSteps
            .Select(step => left.FindIndex(at => Matches(_workplace.Steps[at], step, student)))
            .Where(at => at >= 0)
            .ToList();
        return steps.Count > 0 ? left[steps[0]] : left[0];
    }

    private static bool Matches(AdviceStep own, NextStep step, Student student) =>
        own.Key is null
            ? step.Kind == (student.IsSolid ? NextStepKind.MeltingPoint : NextStepKind.BoilingPoint)
            : own.Kind == step.Kind && own.Key == step.Key;
}
