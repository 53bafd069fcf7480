using Derivid.Core.SpotTests;
using Derivid.Validation.Simulation;
using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Ideal;

/// <summary>How likely each reading of a simulated student is, under the bench's own errors.</summary>
/// <remarks>Thread safety: immutable.</remarks>
public sealed class BenchDensities
{
    private readonly BenchChemistry _chemistry;
    private readonly Dictionary<string, IReadOnlyList<int>[]> _alike;
    private readonly double[][] _colourCalls;
    private readonly Dictionary<string, int> _colourRank;

    /// <summary>Works the tables out.</summary>
    public BenchDensities(BenchTable table, BenchParameters bench)
    {
        (Table, Bench) = (table, bench);
        _chemistry = new BenchChemistry(table, bench);
        Derivatives = new ReadingDensity(bench, table.FusionEntropies, bench.DerivativeScatter, bench.DecompositionCelsius);
        Solids = new ReadingDensity(
            bench with { HotScatterFactor = 1, WetShare = 0 }, table.FusionEntropies, bench.ParentScatter, decompositionCelsius: 0);
        Boiling = new BoilingDensity(bench);
        _colourRank = _chemistry.Colours.Select((colour, i) => (colour.Key, i)).ToDictionary(StringComparer.Ordinal);
        _alike = new[] { BenchTable.HydrazoneKey, BenchTable.SemicarbazoneKey }.ToDictionary(
            key => key,
            key => Enumerable.Range(0, table.Parents.Count).Select(parent => table.Alike(parent, IsListed(table, key))).ToArray(),
            StringComparer.Ordinal);
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

    /// <summary>Density of a boiling point that is not listed, none below the melting point; reading errors enter roughly.</summary>
    /// <param name="read">Boiling point read, its mean errors taken off. Units: °C.</param>
    /// <param name="parent">A parent with none listed.</param>
    /// <param name="spreadCelsius">Spread about the guess. Units: °C.</param>
    public double ExpectedBoiling(double read, int parent, double spreadCelsius)
    {
        var (guess, least) = Table.BoilingGuesses[parent];
        var density = ((1 - Bench.LowBoilingShare) * Normal.PDF(guess, spreadCelsius, read))
            + (Bench.LowBoilingShare * Normal.PDF(guess - Bench.LowBoilingCelsius.Mean, spreadCelsius, read));
        return double.IsNegativeInfinity(least)
            ? density
            : density * Normal.CDF(least, Bench.BoilingReadingCelsius + Bench.OffsetCelsius, read)
                / (1 - Normal.CDF(guess, spreadCelsius, least));
    }

    /// <summary>The parents about whose values one that is not listed is expected.</summary>
    /// <param name="key">The derivative kind.</param>
    /// <param name="parent">The parent.</param>
    public IReadOnlyList<int> Alike(string key, int parent) => _alike[key][parent];

    private static Func<int, bool> IsListed(BenchTable table, string key) => parent => table.Records(key)[parent].Length > 0;

    /// <summary>Probability of a student's colour of the 2,4-dinitrophenylhydrazone; 1 where none was seen.</summary>
    public double Colour(Student student, int parent) =>
        student.Derivatives.GetValueOrDefault(BenchTable.HydrazoneKey)?.ColourKey is { } called
            ? _colourCalls[parent][_colourRank[called]]
            : 1;

    /// <summary>Probability of a student's outcomes of tests that ask a question each; a test not run tells nothing.</summary>
    public double Tests(Student student, int parent, IReadOnlyList<string> testKeys)
    {
        var likelihood = 1.0;
        foreach (var key in testKeys.Where(student.SpotTests.ContainsKey))
        {
            var truth = _chemistry.Positive(key, parent);
            var flipped = (Bench.ContaminationShare * (1 - Bench.TestMistakeShare))
                + ((1 - Bench.ContaminationShare) * Bench.TestMistakeShare);
            var positive = (truth * (1 - flipped)) + ((1 - truth) * flipped);
            likelihood *= student.SpotTests[key].Outcome == SpotTestOutcome.Positive ? positive : 1 - positive;
        }

        return likelihood;
    }

    private double[] Calls(int parent)
    {
        var colours = _chemistry.ColourShares(parent);
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
