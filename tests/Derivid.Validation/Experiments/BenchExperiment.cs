using Derivid.Core.Ranking;
using Derivid.Validation.Ideal;
using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Experiments;

/// <summary>Ranks simulated students' unknowns by every method, row by row, on one bench.</summary>
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

    /// <summary>Takes table and bench.</summary>
    public BenchExperiment(BenchTable table, BenchParameters parameters)
    {
        _table = table;
        _parameters = parameters;
        _bench = new Bench(table, parameters);
    }

    /// <summary>Ranks.</summary>
    /// <param name="engines">The engines.</param>
    /// <param name="rules">The hand rules.</param>
    /// <param name="observers">The ideal observers.</param>
    /// <param name="reporting">Students reported on.</param>
    public BenchResults Run(ReducedEngines engines, BenchRules rules, BenchObservers observers, StudentGroup reporting)
    {
        var rows = EvidenceSets.Rows;
        var results = new BenchResults(rows.Count, reporting.Count);
        Parallel.For(0, _table.Parents.Count, removed =>
        {
            var engine = engines.Without(removed);
            for (var number = removed; number < reporting.Count; number += _table.Parents.Count)
            {
                var student = _bench.Student(reporting.Seed, number);
                var benches = observers.Likelihoods(student, TestKeys, rows);
                var (own, blind) = (benches[_parameters.Name], BenchLikelihoods.Mean([.. benches.Values]));
                for (var row = 0; row < rows.Count; row++)
                {
                    results.Set(row, Method.Engine, number, Score(Ask(engine, student, rows[row]), student));
                    for (var share = 0; share < BenchParameters.AbsentShares.Count; share++)
                    {
                        void Set(Method method, double[] listed, double ofNone) => results.Set(
                            row, method, number, Score(Posterior(listed, ofNone, student, share), student), share);
                        Set(Method.Ideal, own.Listed[row], own.Listed[row][student.Removed]);
                        Set(Method.IdealUntold, own.Listed[row], own.Unlisted[row]);
                        Set(Method.IdealBlind, blind.Listed[row], blind.Unlisted[row]);
                    }

                    foreach (var rule in new[] { Method.Nearest, Method.Window, Method.WindowAndTests })
                    {
                        results.Set(row, rule, number, Score(rules.Answer(student, row, rule), student));
                    }
                }
            }
        });
        return results;
    }

    /// <summary>The engine's answer, with the parent taken out put back at probability 0.</summary>
    public static MethodReply Ask(IdentificationEngine engine, Student student, EvidenceSet row)
    {
        var view = engine.Weigh(student.Observe(row, TestKeys));
        return new MethodReply(
            [.. view.Probability.Take(student.Removed), 0, .. view.Probability.Skip(student.Removed)], view.NoneOfThese);
    }

    private static CaseScore Score(MethodReply reply, Student student) =>
        CaseScore.Of(reply, student.Truth, student.IsAbsent);

    private static MethodReply Posterior(double[] likelihood, double ofNone, Student student, int share)
    {
        var absent = BenchParameters.AbsentShares[share];
        var prior = (1 - absent) / (likelihood.Length - 1);
        var none = absent * ofNone;
        var joint = likelihood.Select((at, parent) => parent == student.Removed ? 0 : prior * at).ToArray();
        var total = joint.Sum() + none;
        return new MethodReply([.. joint.Select(at => at / total)], none / total);
    }
}
