using System.Globalization;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Experiments;

/// <summary>A parent the engine finds seldom, and what it names instead.</summary>
/// <param name="Name">The parent, with its listed 2,4-dinitrophenylhydrazone and semicarbazone.</param>
/// <param name="Top1">Share of its students for whom it came first.</param>
/// <param name="Ideal">The same for the ideal observer.</param>
/// <param name="NamedInstead">The answers named most often in its place.</param>
public sealed record HardCompound(string Name, double Top1, double Ideal, string NamedInstead)
{
    /// <summary>The hardest parents of a row.</summary>
    public static IReadOnlyList<HardCompound> Of(
        BenchTable table, BenchParameters parameters, BenchResults results, StudentGroup group, int row, int count)
    {
        var bench = new Bench(table, parameters);
        return [.. Enumerable.Range(0, group.Count)
            .Select(number => (Student: bench.Student(group.Seed, number), Number: number))
            .Where(one => !one.Student.IsAbsent)
            .GroupBy(one => one.Student.Truth)
            .Select(of =>
            {
                var engine = of.Select(one => results.Of(row, Method.Engine, 0)[one.Number]).ToList();
                var instead = engine
                    .Where(score => score.Leader != of.Key)
                    .CountBy(score => score.Leader)
                    .OrderByDescending(leader => leader.Value)
                    .ThenBy(leader => leader.Key)
                    .Take(3)
                    .Select(leader => leader.Key < 0 ? "none of these" : Described(table, leader.Key));
                return new HardCompound(
                    Described(table, of.Key),
                    engine.Average(score => score.Among(1)),
                    of.Average(one => results.Of(row, Method.Ideal, 0)[one.Number].Among(1)),
                    string.Join("; ", instead));
            })
            .OrderBy(compound => compound.Top1)
            .ThenBy(compound => compound.Name, StringComparer.Ordinal)
            .Take(count)];
    }

    private static string Described(BenchTable table, int parent) =>
        $"{table.Parents[parent].Name} ({Listed(table, BenchTable.HydrazoneKey, parent)}; {Listed(table, BenchTable.SemicarbazoneKey, parent)})";

    private static string Listed(BenchTable table, string kindKey, int parent) =>
        table.Records(kindKey)[parent] is { Length: > 0 } records
            ? string.Join(", ", records.Select(record => record.HighCelsius.ToString(CultureInfo.InvariantCulture)).Distinct())
            : "none";
}
