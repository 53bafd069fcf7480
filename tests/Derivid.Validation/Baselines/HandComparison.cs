using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Baselines;

/// <summary>A student's readings held against the table by hand: distances, window and contradictions.</summary>
/// <param name="table">The table.</param>
/// <param name="testKeys">The three tests.</param>
public sealed class HandComparison(BenchTable table, IReadOnlyList<string> testKeys)
{
    /// <summary>Half width of the window. Units: °C. Source: the handbooks' customary ±5 °C.</summary>
    public const double WindowCelsius = 5;

    /// <summary>Distance counted for a value that is not listed. Units: °C. Chosen.</summary>
    private const double UnlistedCelsius = 20;

    /// <summary>Parents compared.</summary>
    public int ParentCount => table.Parents.Count;

    /// <summary>Distance of every temperature read from the nearest value listed.</summary>
    /// <param name="student">The readings.</param>
    /// <param name="row">Which of them are used; colour is not, since handbooks give no rule for it.</param>
    /// <returns>Shape: one list a reading, one a parent. Units: °C. Missing: null, nothing listed.</returns>
    public IReadOnlyList<double?[]> Distances(Student student, EvidenceSet row)
    {
        var distances = new List<double?[]>(3);
        Add(EvidenceSet.Hydrazone, BenchTable.HydrazoneKey);
        Add(EvidenceSet.Semicarbazone, BenchTable.SemicarbazoneKey);
        if (row.HasFlag(EvidenceSet.OwnConstant) && student.MeltingPoint is { } melting)
        {
            distances.Add(Constants(table.MeltingPoints, melting, _ => false));
        }

        if ((row.HasFlag(EvidenceSet.BoilingPoint) || (row.HasFlag(EvidenceSet.OwnConstant) && !student.IsSolid))
            && student.BoilingPoint is { } boiling)
        {
            distances.Add(Constants(
                table.BoilingPoints, boiling, parent => BenchTable.IsHeldOut(student.Removed, parent, BenchTable.BoilingKey)));
        }

        return distances;

        void Add(EvidenceSet part, string kindKey)
        {
            if (row.HasFlag(part) && student.Derivatives.GetValueOrDefault(kindKey) is { Range: { } range })
            {
                distances.Add(Nearest(
                    table.Records(kindKey),
                    range.ClearPointCelsius,
                    record => record.LowCelsius,
                    record => record.HighCelsius,
                    parent => BenchTable.IsHeldOut(student.Removed, parent, kindKey)));
            }
        }
    }

    /// <summary>The hand rule: inside the window of every temperature and contradicted by no test, then inside, then the rest.</summary>
    /// <param name="student">The readings.</param>
    /// <param name="row">Which of them are used.</param>
    /// <returns>The parent's tier, best first from 0, and its mean distance; the one taken out has tier −1.</returns>
    public (int Tier, double DistanceCelsius)[] Compare(Student student, EvidenceSet row)
    {
        var distances = Distances(student, row);
        var result = new (int, double)[table.Parents.Count];
        for (var parent = 0; parent < result.Length; parent++)
        {
            var own = distances.Select(of => of[parent] ?? UnlistedCelsius).ToList();
            result[parent] = parent == student.Removed ? (-1, 0)
                : own.Exists(distance => distance > WindowCelsius) ? (2, own.Average())
                : (row.HasFlag(EvidenceSet.SpotTests) && IsContradicted(student, parent) ? 1 : 0, own.DefaultIfEmpty().Average());
        }

        return result;
    }

    private static double?[] Constants(
        IReadOnlyList<ParentConstant[]> byParent, MeltingRange range, Func<int, bool> isHeldOut) =>
        Nearest(byParent, range.ClearPointCelsius, constant => constant.Low, constant => constant.High, isHeldOut);

    private static double?[] Nearest<T>(
        IReadOnlyList<T[]> byParent, double celsius, Func<T, double> low, Func<T, double> high, Func<int, bool> isHeldOut) =>
        [.. byParent.Select((rows, parent) => rows.Length == 0 || isHeldOut(parent)
            ? (double?)null
            : rows.Min(row => Math.Max(0, Math.Max(low(row) - celsius, celsius - high(row)))))];

    private bool IsContradicted(Student student, int parent) =>
        testKeys.Any(key => student.SpotTests.TryGetValue(key, out var reading) && table.PositiveRate(key)[parent] switch
        {
            < 0.3 => reading.Outcome == SpotTestOutcome.Positive,
            > 0.7 => reading.Outcome == SpotTestOutcome.Negative,
            _ => false,
        });
}
