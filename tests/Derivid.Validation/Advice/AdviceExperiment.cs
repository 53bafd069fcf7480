using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Validation.Experiments;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Advice;

/// <summary>Counts the steps students need after their first derivative when they follow different orders.</summary>
/// <remarks>
/// All orders are judged by the same engine: a student stops when any answer, "none of these" included, has 95 %. Each
/// step shows what the student's own simulated reading says; a derivative that cannot form counts as a step and shows
/// nothing. The melting point of a liquid unknown is no step. Mixed melting points are left out: they need the answer.
/// </remarks>
public sealed class AdviceExperiment(BenchTable table, BenchParameters parameters, ModelSettings settings)
{
    /// <summary>Probability at which a student stops.</summary>
    public const double Enough = 0.95;

    /// <summary>Most steps anybody takes.</summary>
    public const int MostSteps = 12;

    private static readonly string[] FirstDerivatives =
        ["semicarbazone", "oxime", "4-nitrophenylhydrazone", "phenylhydrazone"];

    /// <summary>Runs every order over the same students.</summary>
    /// <returns>Shape: one list an order, one trial a student.</returns>
    public IReadOnlyDictionary<StepOrder, AdviceTrial[]> Run(StudentGroup group)
    {
        var bench = new Bench(table, parameters);
        var orders = Enum.GetValues<StepOrder>();
        var trials = orders.ToDictionary(order => order, _ => new AdviceTrial[group.Count]);
        var experiment = new BenchExperiment(table, parameters);
        Parallel.For(0, Math.Min(group.Count, table.Parents.Count), removed =>
        {
            var engine = experiment.EngineWithout(removed, settings);
            for (var number = removed; number < group.Count; number += table.Parents.Count)
            {
                var student = bench.Student(group.Seed, number);
                foreach (var order in orders)
                {
                    trials[order][number] = Follow(student, order, engine, new Random(number));
                }
            }
        });
        return trials;
    }

    private AdviceTrial Follow(Student student, StepOrder order, IdentificationEngine engine, Random random)
    {
        var left = Plan(order, student, random);
        var seen = new Observation { Derivatives = [student.Derivatives[BenchTable.HydrazoneKey]] };
        var steps = 0;
        while (true)
        {
            var view = engine.Weigh(seen);
            var most = view.NoneOfThese;
            var top = -1;
            for (var parent = 0; parent < view.Probability.Count; parent++)
            {
                if (view.Probability[parent] > most)
                {
                    (most, top) = (view.Probability[parent], parent);
                }
            }

            if (most >= Enough || steps == MostSteps || left.Count == 0)
            {
                // The engine's table lacks the parent taken out, so places after it are one lower.
                var truth = student.IsAbsent ? -1 : student.Truth - (student.Truth > student.Removed ? 1 : 0);
                return new AdviceTrial(most >= Enough ? steps : MostSteps, most >= Enough, top == truth);
            }

            var next = order == StepOrder.Service ? Advised(engine.Identify(seen, 1), left) : left[0];
            left.Remove(next);
            seen = Add(seen, next, student);
            steps++;
        }
    }

    private List<Step> Plan(StepOrder order, Student student, Random random)
    {
        var derivatives = table.Table.Kinds
            .Where(kind => kind.Key != BenchTable.HydrazoneKey)
            .Select(kind => new Step(NextStepKind.Derivative, kind.Key))
            .OrderBy(step => FirstDerivatives.Contains(step.Key) ? Array.IndexOf(FirstDerivatives, step.Key) : 9)
            .ThenBy(step => step.Key, StringComparer.Ordinal)
            .ToList();
        var tests = table.Table.SpotTests
            .Select(test => new Step(NextStepKind.SpotTest, test.Key))
            .OrderBy(step => BenchExperiment.TestKeys.Contains(step.Key!) ? 0 : 1)
            .ThenBy(step => step.Key, StringComparer.Ordinal)
            .ToList();
        List<Step> physical = [new Step(NextStepKind.BoilingPoint, null)];
        if (student.MeltingPoint is not null)
        {
            physical.Add(new Step(NextStepKind.MeltingPoint, null));
        }

        var (common, rest) = (derivatives.Take(FirstDerivatives.Length), derivatives.Skip(FirstDerivatives.Length));
        List<Step> plan = order == StepOrder.Course
            ? [.. physical, .. tests.Take(3), .. common, .. tests.Skip(3), .. rest]
            : [.. common, .. tests, .. physical, .. rest];
        if (order == StepOrder.Random)
        {
            random.Shuffle(System.Runtime.InteropServices.CollectionsMarshal.AsSpan(plan));
        }

        return plan;
    }

    private static Step Advised(Identification identification, List<Step> left) =>
        identification.NextSteps
            .Select(step => new Step(step.Kind, step.Key))
            .FirstOrDefault(left.Contains, left[0]);

    private static Observation Add(Observation seen, Step step, Student student) =>
        step.Kind switch
        {
            NextStepKind.Derivative => student.Derivatives.TryGetValue(step.Key!, out var reading)
                ? seen with { Derivatives = [.. seen.Derivatives, reading] }
                : seen,
            NextStepKind.SpotTest => seen with
            {
                SpotTests = [.. seen.SpotTests, student.SpotTests[step.Key!]],
            },
            NextStepKind.BoilingPoint => seen with { BoilingPoint = new BoilingPointReading(student.BoilingPoint) },
            _ => seen with { MeltingPoint = student.MeltingPoint },
        };

    private readonly record struct Step(NextStepKind Kind, string? Key);
}
