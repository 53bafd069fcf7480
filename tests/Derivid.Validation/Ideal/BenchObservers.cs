using Derivid.Validation.Simulation;

namespace Derivid.Validation.Ideal;

/// <summary>What a student's readings are worth to observers who know one bench each.</summary>
/// <param name="Listed">Shape: one list a row, the likelihood from every parent.</param>
/// <param name="Unlisted">Shape: one a row, the likelihood from a compound that nobody named.</param>
public sealed record BenchLikelihoods(double[][] Listed, double[] Unlisted)
{
    /// <summary>The mean over benches: for one who does not know which it is.</summary>
    public static BenchLikelihoods Mean(IReadOnlyList<BenchLikelihoods> benches) => new(
        [.. benches[0].Listed.Select((first, row) =>
            first.Select((_, parent) => benches.Average(bench => bench.Listed[row][parent])).ToArray())],
        [.. benches[0].Unlisted.Select((_, row) => benches.Average(bench => bench.Unlisted[row]))]);
}

/// <summary>The ideal observers of every bench.</summary>
/// <remarks>Thread safety: immutable.</remarks>
public sealed class BenchObservers
{
    private readonly Dictionary<string, (IdealObserver Listed, UnlistedObserver Unlisted)> _byBench;

    /// <summary>Works their tables out.</summary>
    public BenchObservers(BenchTable table)
    {
        _byBench = new(StringComparer.Ordinal);
        foreach (var parameters in BenchParameters.All)
        {
            var densities = new BenchDensities(table, parameters);
            _byBench.Add(parameters.Name, (new IdealObserver(densities), new UnlistedObserver(densities)));
        }
    }

    /// <summary>Likelihoods of a student's readings, by name of the bench they might be from.</summary>
    public Dictionary<string, BenchLikelihoods> Likelihoods(
        Student student, IReadOnlyList<string> testKeys, IReadOnlyList<EvidenceSet> rows) => _byBench.ToDictionary(
        bench => bench.Key,
        bench => new BenchLikelihoods(
            bench.Value.Listed.Likelihoods(student, testKeys, rows),
            bench.Value.Unlisted.Likelihoods(student, testKeys, rows)),
        StringComparer.Ordinal);
}
