using Derivid.Core.SpotTests;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Ideal;

/// <summary>How likely each reading of a simulated student is, under the bench's own errors.</summary>
/// <remarks>Thread safety: immutable.</remarks>
public sealed class BenchDensities
{
    private readonly double[][] _colourCalls;
    private readonly Dictionary<string, int> _colourRank;

    /// <summary>Works the tables out.</summary>
    public BenchDensities(BenchTable table, BenchParameters bench)
    {
        (Table, Bench) = (table, bench);
        Derivatives = new ReadingDensity(bench, table.FusionEntropies, bench.DerivativeScatter, bench.DecompositionCelsius);
        Solids = new ReadingDensity(
            bench with { HotScatterFactor = 1 }, table.FusionEntropies, bench.ParentScatter, decompositionCelsius: 0);
        Boiling = new BoilingDensity(bench);
        var colours = table.Table.Colours.OrderBy(colour => colour.Rank).ToList();
        _colourRank = colours.Select((colour, i) => (colour.Key, i)).ToDictionary(StringComparer.Ordinal);
        _colourCalls = [.. Enumerable.Range(0, table.Parents.Count).Select(Calls)];
    }

    /// <summary>What the compounds truly do.</summary>
    public BenchTable Table { get; }

    /// <summary>How people err.</summary>
    public BenchParameters Bench { get; }

    /// <summary>Melting readings of derivatives.</summary>
    public ReadingDensity Derivatives { get; }

    /// <summary>Melting readings of unknowns that are solids.</summary>
    public ReadingDensity Solids { get; }

    /// <summary>Boiling readings.</summary>
    public BoilingDensity Boiling { get; }

    /// <summary>Probability of a student's colour of the 2,4-dinitrophenylhydrazone.</summary>
    public double Colour(Student student, int parent) =>
        _colourCalls[parent][_colourRank[student.Derivatives[BenchTable.HydrazoneKey].ColourKey!]];

    /// <summary>Probability of a student's outcomes of tests that ask a question each.</summary>
    public double Tests(Student student, int parent, IReadOnlyList<string> testKeys)
    {
        var likelihood = 1.0;
        foreach (var key in testKeys)
        {
            var truth = SpotTestTruth.Positive(Table.PositiveRate(key)[parent]);
            var flipped = (Bench.ContaminationShare * (1 - Bench.TestMistakeShare))
                + ((1 - Bench.ContaminationShare) * Bench.TestMistakeShare);
            var positive = (truth * (1 - flipped)) + ((1 - truth) * flipped);
            likelihood *= student.SpotTests[key].Outcome == SpotTestOutcome.Positive ? positive : 1 - positive;
        }

        return likelihood;
    }

    private double[] Calls(int parent)
    {
        var colours = Table.TrueColours(BenchTable.HydrazoneKey, parent, Bench.RecordedColourShare);
        var calls = new double[colours.Length];
        for (var colour = 0; colour < colours.Length; colour++)
        {
            var called = ColourCalls.Of(colour, colours.Length, Bench);
            for (var i = 0; i < calls.Length; i++)
            {
                calls[i] += colours[colour] * called[i];
            }
        }

        return calls;
    }
}
