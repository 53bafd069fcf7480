using Derivid.Validation.Simulation;

namespace Derivid.Validation.Experiments;

/// <summary>
/// How well absent compounds are told from present ones, by whether the table lists the present one's semicarbazone and
/// boiling point.
/// </summary>
/// <param name="Name">Which present compounds.</param>
/// <param name="Present">How many students had one.</param>
/// <param name="Auroc">AUROC of "none of these" against all absent ones.</param>
public sealed record NoneByListing(string Name, int Present, double Auroc)
{
    /// <summary>Measures on one row.</summary>
    public static IReadOnlyList<NoneByListing> Of(
        BenchTable table, BenchParameters parameters, BenchResults results, StudentGroup group, int row)
    {
        var bench = new Bench(table, parameters);
        var semicarbazones = table.Records(BenchTable.SemicarbazoneKey);
        var cases = Enumerable.Range(0, group.Count)
            .Select(number => (
                Score: results.Of(row, Method.Engine)[number],
                IsListed: bench.Student(group.Seed, number).Truth is var truth
                    && semicarbazones[truth].Length > 0
                    && table.BoilingPoints[truth].Length > 0))
            .ToList();
        NoneByListing Measure(string name, Func<bool, bool> isKept)
        {
            var kept = cases.Where(one => one.Score.IsAbsent || isKept(one.IsListed)).Select(one => one.Score).ToList();
            return new NoneByListing(name, kept.Count(score => !score.IsAbsent), Metrics.Auroc.Of(kept));
        }

        return
        [
            Measure("all", _ => true),
            Measure("semicarbazone and boiling point listed", listed => listed),
            Measure("one of them not listed", listed => !listed),
        ];
    }
}
