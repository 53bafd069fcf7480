using Derivid.Core.Observations;
using Derivid.Core.Practice.Decisions;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Decisions;

/// <summary>Unknowns from a shelf, with what every step would show of each.</summary>
/// <param name="bench">The shelf.</param>
/// <param name="state">Place of what the unknowns are, a liquid or a solid, among the outcomes of the first look.</param>
/// <param name="prior">Probabilities of the compounds once that is known.</param>
/// <param name="unknowns">Shape: any number.</param>
public sealed class ShelfUnknowns(ShelfBench bench, int state, double[] prior, IReadOnlyList<ShelfUnknown> unknowns)
{
    /// <summary>The steps.</summary>
    public IReadOnlyList<BenchStep> Steps { get; } = bench.StepsAfter(state);

    /// <summary>Place of the state.</summary>
    public int State { get; } = state;

    /// <summary>Probabilities to begin with.</summary>
    public double[] Prior { get; } = prior;

    /// <summary>The unknowns.</summary>
    public IReadOnlyList<ShelfUnknown> Unknowns { get; } = unknowns;

    /// <summary>Draws unknowns by the forecasts of the engine.</summary>
    /// <param name="bench">The shelf.</param>
    /// <param name="count">How many, liquids and solids together.</param>
    /// <param name="seed">Seed.</param>
    public static IReadOnlyList<ShelfUnknowns> Foreseen(ShelfBench bench, int count, int seed)
    {
        var random = new Random(seed);
        return Gathered(bench, Enumerable.Range(0, count).Select(number =>
        {
            var truth = number % bench.Parents.Count;
            var state = Drawn(bench.State!, truth, random);
            return (state, new ShelfUnknown(truth, [.. bench.StepsAfter(state).Select(step => Drawn(step, truth, random))]));
        }));
    }

    /// <summary>Lets the students of a bench take every step, and draws by the forecasts only what nobody has printed.</summary>
    /// <param name="bench">The shelf.</param>
    /// <param name="students">The bench.</param>
    /// <param name="table">Its table.</param>
    /// <param name="count">How many, liquids and solids together.</param>
    /// <param name="seed">Seed.</param>
    public static IReadOnlyList<ShelfUnknowns> Met(ShelfBench bench, Bench students, BenchTable table, int count, int seed)
    {
        var random = new Random(seed);
        var places = table.Parents.Index().ToDictionary(parent => parent.Item.Key, parent => parent.Index, StringComparer.Ordinal);
        return Gathered(bench, Enumerable.Range(0, count).Select(number =>
        {
            var truth = number % bench.Parents.Count;
            var student = students.StudentWith(seed, number, places[bench.Parents[truth].Key]);
            var state = bench.State!.Of(student.IsSolid ? BenchOutcomeKind.Solid : BenchOutcomeKind.Liquid);
            return (state, new ShelfUnknown(
                truth, [.. bench.StepsAfter(state).Select(step => Seen(step, student) ?? Drawn(step, truth, random))]));
        }));
    }

    private static List<ShelfUnknowns> Gathered(ShelfBench bench, IEnumerable<(int State, ShelfUnknown Unknown)> drawn) =>
        [.. drawn.GroupBy(each => each.State, each => each.Unknown).OrderBy(group => group.Key).Select(group =>
        {
            var prior = new double[bench.Prior.Length];
            bench.State!.Update(bench.Prior, group.Key, prior);
            return new ShelfUnknowns(bench, group.Key, prior, [.. group]);
        })];

    /// <summary>Missing: null, the student has no reading of it.</summary>
    private static int? Seen(BenchStep step, Student student) => step.What.Kind switch
    {
        NextStepKind.Derivative => student.Derivatives.GetValueOrDefault(step.What.Key!) switch
        {
            { Range: { } range } => step.Of(range.ClearPointCelsius),
            { Precipitate: Precipitate.Oil } => step.Of(BenchOutcomeKind.Oil),
            { Precipitate: Precipitate.None } => step.Of(BenchOutcomeKind.Nothing),
            _ => null,
        },
        NextStepKind.SpotTest => student.SpotTests.GetValueOrDefault(step.What.Key!)?.Outcome switch
        {
            SpotTestOutcome.Positive => step.Of(BenchOutcomeKind.Positive),
            SpotTestOutcome.Negative => step.Of(BenchOutcomeKind.Negative),
            _ => null,
        },
        NextStepKind.BoilingPoint => student.BoilingPoint is { } boiling ? step.Of(boiling.ClearPointCelsius) : null,
        NextStepKind.MeltingPoint => student.MeltingPoint is { } melting ? step.Of(melting.ClearPointCelsius) : null,
        _ => throw new ArgumentException($"Nobody takes a {step.What.Kind} here.", nameof(step)),
    };

    private static int Drawn(BenchStep step, int truth, Random random)
    {
        var left = random.NextDouble();
        for (var outcome = 0; outcome < step.Outcomes.Count; outcome++)
        {
            left -= step.SharesOf(outcome)[truth];
            if (left < 0)
            {
                return outcome;
            }
        }

        return step.Outcomes.Count - 1;
    }
}

/// <summary>One unknown.</summary>
/// <param name="Truth">Place of its compound on the shelf.</param>
/// <param name="Outcomes">What each step would show: places among the step's outcomes.</param>
public sealed record ShelfUnknown(int Truth, IReadOnlyList<int> Outcomes);
