using Derivid.Core.Ranking;
using Derivid.Validation.Baselines;
using Derivid.Validation.Ideal;
using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Experiments;

/// <summary>Ranks simulated students' unknowns by every method, row by row.</summary>
/// <remarks>
/// Every student meets a table with one parent taken out: the true one for some, another for the rest, so that absent and
/// present unknowns are ranked against tables of the same size. Work runs in parallel over the parent taken out; results
/// do not depend on the order.
/// </remarks>
public sealed class BenchExperiment
{
    /// <summary>The three spot tests of the rows: three different questions.</summary>
    public static IReadOnlyList<string> TestKeys { get; } = ["tollens", "iodoform", "permanganate"];

    private readonly BenchTable _table;
    private readonly BenchParameters _parameters;
    private readonly Bench _bench;
    private readonly HandComparison _hand;

    /// <summary>Takes table and bench.</summary>
    public BenchExperiment(BenchTable table, BenchParameters parameters)
    {
        _table = table;
        _parameters = parameters;
        _bench = new Bench(table, parameters);
        _hand = new HandComparison(table, TestKeys);
    }

    /// <summary>Ranks.</summary>
    /// <param name="settings">The engine's settings.</param>
    /// <param name="fitting">Students the baselines' probabilities are fitted on.</param>
    /// <param name="reporting">Students reported on.</param>
    public BenchResults Run(ModelSettings settings, StudentGroup fitting, StudentGroup reporting)
    {
        var baselines = FitBaselines(fitting);
        var densities = new BenchDensities(_table, _parameters);
        var (ideal, unlisted) = (new IdealObserver(densities), new UnlistedObserver(densities));
        var rows = EvidenceSets.Rows;
        var results = new BenchResults(rows.Count, reporting.Count);
        Parallel.For(0, _table.Parents.Count, removed =>
        {
            var engine = EngineWithout(removed, settings);
            for (var number = removed; number < reporting.Count; number += _table.Parents.Count)
            {
                var student = _bench.Student(reporting.Seed, number);
                var likelihoods = ideal.Likelihoods(student, TestKeys, rows);
                var ofUnlisted = unlisted.Likelihoods(student, TestKeys, rows);
                for (var row = 0; row < rows.Count; row++)
                {
                    results.Set(row, Method.Engine, number, Score(Ask(engine, student, rows[row]), student));
                    var (listed, told) = (likelihoods[row], likelihoods[row][student.Removed]);
                    results.Set(row, Method.Ideal, number, Score(Posterior(listed, told, student), student));
                    results.Set(row, Method.IdealUntold, number, Score(Posterior(listed, ofUnlisted[row], student), student));
                    foreach (var rule in Enum.GetValues<BaselineRule>())
                    {
                        var answer = baselines[row][(int)rule].Answer(_hand.Compare(student, rows[row], rule));
                        results.Set(row, Method.Nearest + (int)rule, number, Score(answer, student));
                    }
                }
            }
        });
        return results;
    }

    /// <summary>An engine over the table without one parent.</summary>
    public IdentificationEngine EngineWithout(int removed, ModelSettings settings)
    {
        var key = _table.Parents[removed].Key;
        return new IdentificationEngine(
            TableSnapshot.Build(BenchTable.Keep(_table.Table, parent => parent != key), settings));
    }

    /// <summary>The engine's answer, with the parent taken out put back at probability 0.</summary>
    public static Answer Ask(IdentificationEngine engine, Student student, EvidenceSet row)
    {
        var view = engine.Weigh(student.Observe(row, TestKeys));
        return new Answer(
            [.. view.Probability.Take(student.Removed), 0, .. view.Probability.Skip(student.Removed)], view.NoneOfThese);
    }

    private static CaseScore Score(Answer answer, Student student) =>
        CaseScore.Of(answer, student.Truth, student.IsAbsent);

    private Answer Posterior(double[] likelihood, double ofNone, Student student)
    {
        var prior = (1 - _parameters.AbsentShare) / (likelihood.Length - 1);
        var none = _parameters.AbsentShare * ofNone;
        var joint = likelihood.Select((at, parent) => parent == student.Removed ? 0 : prior * at).ToArray();
        var total = joint.Sum() + none;
        return new Answer([.. joint.Select(at => at / total)], none / total);
    }

    private Baseline[][] FitBaselines(StudentGroup fitting)
    {
        var students = Enumerable.Range(0, fitting.Count).Select(number => _bench.Student(fitting.Seed, number)).ToList();
        return [.. EvidenceSets.Rows.AsParallel().AsOrdered().Select(row => Enum.GetValues<BaselineRule>()
            .Select(rule => Baseline.Fit([.. students.Select(student => new Baseline.FittingCase(
                _hand.Compare(student, row, rule), student.Truth, student.IsAbsent))]))
            .ToArray())];
    }
}
