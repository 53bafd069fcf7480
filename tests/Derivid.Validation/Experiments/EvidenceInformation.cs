using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Experiments;

/// <summary>What one piece of evidence tells on its own, on average.</summary>
/// <param name="Name">The evidence.</param>
/// <param name="Bits">Mean log likelihood ratio of the true parent against one drawn at random. Units: bits.</param>
/// <param name="Cases">Students who had it.</param>
public sealed record EvidenceInformation(string Name, double Bits, int Cases)
{
    /// <summary>Measures every derivative kind, the colour, every spot test and the physical constants.</summary>
    /// <param name="table">The table, none taken out.</param>
    /// <param name="parameters">The bench.</param>
    /// <param name="settings">The engine's settings.</param>
    /// <param name="group">The students; those whose compound is absent are left out.</param>
    public static IReadOnlyList<EvidenceInformation> Measure(
        BenchTable table, BenchParameters parameters, ModelSettings settings, StudentGroup group)
    {
        var engine = new IdentificationEngine(TableSnapshot.Build(table.Table, settings));
        var bench = new Bench(table, parameters);
        var students = Enumerable.Range(0, group.Count).Select(number => bench.Student(group.Seed, number)).ToList();
        return [.. Pieces(table)
            .AsParallel()
            .AsOrdered()
            .Select(piece =>
            {
                var ratios = students
                    .Select(student => (student.Truth, Seen: piece.Of(student)))
                    .Where(one => one.Seen is not null)
                    .Select(one => engine.Weigh(one.Seen!).LogLikelihoodRatio[one.Truth] / Math.Log(2))
                    .ToList();
                return new EvidenceInformation(piece.Name, ratios.DefaultIfEmpty().Average(), ratios.Count);
            })
            .OrderByDescending(of => of.Bits)];
    }

    private static IEnumerable<(string Name, Func<Student, Observation?> Of)> Pieces(BenchTable table)
    {
        foreach (var kind in table.Table.Kinds)
        {
            yield return ($"{kind.Name}", student => student.Derivatives.TryGetValue(kind.Key, out var reading)
                ? new Observation { Derivatives = [reading with { ColourKey = null }] }
                : null);
        }

        yield return ("colour of the 2,4-dinitrophenylhydrazone", student =>
            student.Derivatives.TryGetValue(BenchTable.HydrazoneKey, out var reading)
                ? new Observation { Derivatives = [reading with { Range = null }] }
                : null);
        foreach (var test in table.Table.SpotTests)
        {
            yield return (test.Name, student => new Observation { SpotTests = [student.SpotTests[test.Key]] });
        }

        yield return ("boiling point", student => student.BoilingPoint is { } boiling
            ? new Observation { BoilingPoint = new BoilingPointReading(boiling) }
            : null);
        yield return ("melting point of the unknown", student => student.MeltingPoint is { } range
            ? new Observation { MeltingPoint = range }
            : null);
    }
}
