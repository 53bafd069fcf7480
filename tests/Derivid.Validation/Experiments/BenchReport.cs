using Derivid.Validation.Ideal;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Experiments;

/// <summary>One bench, measured.</summary>
/// <param name="Parameters">How people err on it.</param>
/// <param name="Results">The scores.</param>
/// <param name="Rows">Every row at every share of absent unknowns.</param>
public sealed record BenchReport(BenchParameters Parameters, BenchResults Results, IReadOnlyList<RowReport> Rows)
{
    /// <summary>Simulates and scores.</summary>
    public static BenchReport Measure(
        BenchTable table,
        BenchParameters parameters,
        ReducedEngines engines,
        BenchRules rules,
        BenchObservers observers,
        StudentGroup students)
    {
        var results = new BenchExperiment(table, parameters).Run(engines, rules, observers, students);
        return new BenchReport(parameters, results, [.. Enumerable.Range(0, EvidenceSets.Rows.Count)
            .SelectMany(row => Enumerable.Range(0, BenchParameters.AbsentShares.Count)
                .Select(share => RowReport.Build(results, row, share)))]);
    }
}
