using Derivid.Core.Compounds;
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

    /// <summary>Compares.</summary>
    /// <param name="student">The readings.</param>
    /// <param name="row">Which of them are used; colour is not, since handbooks give no rule for it.</param>
    /// <param name="rule">The rule.</param>
    /// <returns>The parent's tier, best first from 0, and its mean distance; the one taken out has tier −1.</returns>
    public (int Tier, double DistanceCelsius)[] Compare(Student student, EvidenceSet row, BaselineRule rule)
    {
        var result = new (int, double)[table.Parents.Count];
        for (var parent = 0; parent < result.Length; parent++)
        {
            result[parent] = parent == student.Removed ? (-1, 0) : Compare(student, row, rule, parent);
        }

        return result;
    }

    private (int Tier, double DistanceCelsius) Compare(Student student, EvidenceSet row, BaselineRule rule, int parent)
    {
        var distances = Distances(student, row, parent);
        var isInside = distances.All(distance => distance <= WindowCelsius);
        var tier = rule switch
        {
            BaselineRule.Nearest => 0,
            BaselineRule.Window => isInside ? 0 : 1,
            _ => !isInside ? 2 : row.HasFlag(EvidenceSet.SpotTests) && IsContradicted(student, parent) ? 1 : 0,
        };
        return (tier, distances.Average());
    }

    private List<double> Distances(Student student, EvidenceSet row, int parent)
    {
        var distances = new List<double>(3) { Derivative(student, BenchTable.HydrazoneKey, parent) };
        if (row.HasFlag(EvidenceSet.Semicarbazone))
        {
            distances.Add(Derivative(student, BenchTable.SemicarbazoneKey, parent));
        }

        if (row.HasFlag(EvidenceSet.OwnConstant) && student.MeltingPoint is { } melting)
        {
            distances.Add(Nearest(table.MeltingPoints[parent], melting.ClearPointCelsius, c => c.Low, c => c.High));
        }
        else if (row.HasFlag(EvidenceSet.BoilingPoint) || row.HasFlag(EvidenceSet.OwnConstant))
        {
            distances.Add(Nearest(
                table.BoilingPoints[parent], student.BoilingPoint.ClearPointCelsius, c => c.Low, c => c.High));
        }

        return distances;
    }

    private double Derivative(Student student, string kindKey, int parent) =>
        Nearest(
            table.Records(kindKey)[parent],
            student.Derivatives[kindKey].Range!.Value.ClearPointCelsius,
            (Derivative record) => record.LowCelsius,
            record => record.HighCelsius);

    private static double Nearest<T>(T[] rows, double celsius, Func<T, double> low, Func<T, double> high) =>
        rows.Length == 0
            ? UnlistedCelsius
            : rows.Min(row => Math.Max(0, Math.Max(low(row) - celsius, celsius - high(row))));

    private bool IsContradicted(Student student, int parent) =>
        testKeys.Any(key => table.PositiveRate(key)[parent] switch
        {
            < 0.3 => student.SpotTests[key].Outcome == SpotTestOutcome.Positive,
            > 0.7 => student.SpotTests[key].Outcome == SpotTestOutcome.Negative,
            _ => false,
        });
}
