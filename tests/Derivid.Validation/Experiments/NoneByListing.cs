using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Experiments;

/// <summary>
/// How well absent compounds are told from present ones, by whether the table lists all that was read of the present one.
/// </summary>
/// <param name="Name">Which present compounds.</param>
/// <param name="Present">How many students had one.</param>
/// <param name="Engine">AUROC of the engine's "none of these" against all absent ones.</param>
/// <param name="Untold">The same for an ideal observer who is not told which compound is missing.</param>
public sealed record NoneByListing(string Name, int Present, double Engine, double Untold)
{
    /// <summary>Place of the largest share of absent unknowns, with all of them.</summary>
    private static readonly int Share = BenchParameters.AbsentShares.Count - 1;

    /// <summary>Measures on one row, which has a semicarbazone and a boiling or melting point.</summary>
    public static IReadOnlyList<NoneByListing> Of(
        BenchTable table, BenchParameters parameters, BenchResults results, StudentGroup group, int row)
    {
        var bench = new Bench(table, parameters);
        var semicarbazones = table.Records(BenchTable.SemicarbazoneKey);
        var isAsTaken = EvidenceSets.Rows[row].HasFlag(EvidenceSet.OwnConstant);
        var isListed = Enumerable.Range(0, group.Count)
            .Select(number => bench.Student(group.Seed, number))
            .Select(student => semicarbazones[student.Truth].Length > 0
                && ((isAsTaken && student.IsSolid) || table.BoilingPoints[student.Truth].Length > 0))
            .ToArray();
        NoneByListing Measure(string name, Func<bool, bool> isKept)
        {
            double Area(Method method) => Auroc.Of([.. results.Of(row, method, Share)
                .Where((score, number) => score.IsAbsent || isKept(isListed[number]))]);
            var present = results.Of(row, Method.Engine, Share).Where((score, number) => !score.IsAbsent && isKept(isListed[number])).Count();
            return new NoneByListing(name, present, Area(Method.Engine), Area(Method.IdealUntold));
        }

        return
        [
            Measure("all", _ => true),
            Measure("everything read is listed", listed => listed),
            Measure("something read is not listed", listed => !listed),
        ];
    }
}
