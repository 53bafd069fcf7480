using Derivid.Core.Learning;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Validation.Experiments;
using Derivid.Validation.Ideal;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Learning;

/// <summary>Whether three years of classes teach the true rates, and what that is worth in the fourth.</summary>
/// <remarks>
/// The fourth year's unknowns are all in the table and nobody thinks otherwise ("none of these" is 0 beforehand), so that log losses are of one question. All
/// is done again for every <see cref="Trouble"/>, on the same worlds and the same fourth year, which has none; and once on the ordinary bench, where what is
/// assumed holds and there is little to learn.
/// </remarks>
/// <param name="table">The table.</param>
/// <param name="settings">What is assumed before anything is learned.</param>
public sealed class LearningExperiment(BenchTable table, ModelSettings settings)
{
    /// <summary>The rows of evidence that are judged: a derivative with its colour and three tests, and everything.</summary>
    public static IReadOnlyList<EvidenceSet> Rows { get; } = [EvidenceSets.Rows[2], EvidenceSets.Rows[^1]];

    /// <summary>Runs.</summary>
    /// <param name="size">How much.</param>
    /// <param name="log">Told of each world done.</param>
    /// <returns>Shape: one a trouble of the strange bench, in their order, then the ordinary bench without any.</returns>
    public IReadOnlyList<LearningResult> Run(LearningSize size, Action<string> log) =>
        Run(size, Enum.GetValues<Trouble>(), andOrdinary: true, log);

    /// <summary>Runs with some troubles only.</summary>
    /// <param name="size">How much.</param>
    /// <param name="troubles">The troubles.</param>
    /// <param name="andOrdinary">Whether on the ordinary bench too.</param>
    /// <param name="log">Told of each world done.</param>
    public IReadOnlyList<LearningResult> Run(LearningSize size, IReadOnlyList<Trouble> troubles, bool andOrdinary, Action<string> log)
    {
        ArgumentNullException.ThrowIfNull(size);
        ArgumentNullException.ThrowIfNull(troubles);
        ArgumentNullException.ThrowIfNull(log);
        var snapshot = TableSnapshot.Build(table.Table, settings);
        var worlds = new List<List<WorldResult>>();
        foreach (var seed in Enumerable.Range(size.FirstSeed, size.Repeats))
        {
            var world = World(snapshot, new SimulatedClasses(table, seed, size), troubles, size);
            if (andOrdinary)
            {
                world.AddRange(World(snapshot, new SimulatedClasses(table, seed, size, isOrdinary: true), [Trouble.None], size));
            }

            worlds.Add(world);
            log($"world {seed} learned");
        }

        return [.. Enumerable.Range(0, worlds[0].Count).Select(place => new LearningResult(
            place < troubles.Count ? troubles[place] : Trouble.None,
            place == troubles.Count,
            [.. worlds.Select(world => world[place].Coverage)],
            [.. worlds.Select(world => world[place].Losses)],
            worlds.Sum(world => world[place].SetAside)))];
    }

    private List<WorldResult> World(TableSnapshot snapshot, SimulatedClasses classes, IReadOnlyList<Trouble> troubles, LearningSize size)
    {
        var truth = new TrueRates(table, classes.Parameters);
        var next = classes.NextYear();
        var before = Losses(new IdentificationEngine(snapshot), next);
        var told = truth.Told(snapshot);
        var toldLoss = Losses(new IdentificationEngine(TableSnapshot.Build(told.Table, told.Settings, snapshot.Estimates)), next);
        var ideal = Losses(new IdealObserver(new BenchDensities(table, classes.Parameters)), next);
        var sieve = new CourseSieve(snapshot);
        var readings = default(TrueReadings);
        var results = new List<WorldResult>();
        foreach (var trouble in troubles)
        {
            var courses = classes.Courses(LearningSize.Years, trouble);
            CourseTally[] tallies = [.. courses.AsParallel().AsOrdered()
                .Select(reports => sieve.Tally(new ClosedCourse(reports, hasOptedIn: true, areGradesPublished: true)))];
            var learning = ClassLearning.Of(snapshot, tallies);
            var learned = LearnedTable.Of(learning, "classes");
            var naive = NaiveLearner.Of(snapshot, courses.SelectMany(reports => reports));
            double[] With(Core.Compounds.ReferenceTable of, ModelSettings by) =>
                Losses(new IdentificationEngine(TableSnapshot.Build(of, by, snapshot.Estimates)), next);
            readings ??= truth.Readings(learning.Measured.Select(one => one.ParentKey).Distinct(StringComparer.Ordinal), classes.Calibrated, size.Sampled);
            results.Add(new WorldResult(
                CoverageCount.Of(
                    learning,
                    trouble == Trouble.CoursesDiffer ? new TrueRates(table, classes.Parameters, doCoursesDiffer: true) : truth,
                    readings,
                    snapshot),
                new WorldLosses(
                    before,
                    With(naive, settings),
                    With(learned.In(snapshot.Table), settings with { Colour = learned.Settings.Colour }),
                    With(learned.In(snapshot.Table), learned.Settings),
                    toldLoss,
                    ideal),
                tallies.Count(tally => tally.Verdict != CourseVerdict.Counts)));
        }

        return results;
    }

    /// <summary>Mean log loss of the fourth year. Shape: one a row. Units: nats.</summary>
    private static double[] Losses(IdentificationEngine engine, IReadOnlyList<Student> students) => Mean(students, student =>
        [.. Rows.Select(row => engine.Weigh(student.Observe(row, BenchExperiment.TestKeys) with
        {
            Prior = new PriorChoice { IsUniform = true, NoneOfThese = 0 },
        }).Probability[student.Truth])]);

    private static double[] Losses(IdealObserver observer, IReadOnlyList<Student> students) => Mean(students, student =>
        [.. observer.Likelihoods(student, BenchExperiment.TestKeys, Rows).Select(likelihood => likelihood[student.Truth] / likelihood.Sum())]);

    private sealed record WorldResult(CoverageCount Coverage, WorldLosses Losses, int SetAside);

    private static double[] Mean(IReadOnlyList<Student> students, Func<Student, double[]> probabilities)
    {
        var all = students.AsParallel().AsOrdered().Select(probabilities).ToList();
        return [.. Rows.Select((_, row) => all.Average(one => -Math.Log(Math.Max(one[row], 1e-300))))];
    }
}

/// <summary>What one trouble did, world by world.</summary>
/// <param name="Trouble">The trouble.</param>
/// <param name="IsOrdinary">Whether the bench is the ordinary one, where what is assumed holds.</param>
/// <param name="Coverage">Shape: one a world.</param>
/// <param name="Losses">Shape: one a world.</param>
/// <param name="SetAside">Courses that did not count, over all worlds.</param>
public sealed record LearningResult(
    Trouble Trouble, bool IsOrdinary, IReadOnlyList<CoverageCount> Coverage, IReadOnlyList<WorldLosses> Losses, int SetAside);

/// <summary>Mean log losses of the fourth year of one world. Shape: one a row of <see cref="LearningExperiment.Rows"/>. Units: nats.</summary>
/// <param name="Before">The engine as it assumes.</param>
/// <param name="Naive">With the rates and colours of <see cref="NaiveLearner"/>.</param>
/// <param name="Rates">With the rates and colours learned.</param>
/// <param name="All">With these and the settings of readings learned.</param>
/// <param name="Told">The engine told the true rates and colours.</param>
/// <param name="Ideal">The observer who knows the world in every figure, its errors of reading and their shape too.</param>
public sealed record WorldLosses(double[] Before, double[] Naive, double[] Rates, double[] All, double[] Told, double[] Ideal);
