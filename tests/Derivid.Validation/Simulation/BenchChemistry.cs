using Derivid.Core.Colours;
using Derivid.Core.Structures;
using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Simulation;

/// <summary>What clean samples do in tests and which colours their derivatives truly have, on one bench.</summary>
/// <remarks>
/// On most benches this follows the table, whose assumed mistakes are left to the bench: a rate counts as yes or no unless
/// the table says that it may go either way. On a strange bench rates and colours are drawn by class with a seed of their
/// own, so that the table's figures are wrong. Thread safety: immutable.
/// </remarks>
public sealed class BenchChemistry
{
    private const double LeastUnsure = 0.3;
    private const double MostUnsure = 0.7;

    private readonly Dictionary<string, double[]> _positive;
    private readonly double[][] _colours;
    private readonly HashSet<(string TestKey, int Parent)> _ownWays = [];

    /// <summary>Settles what every parent does.</summary>
    public BenchChemistry(BenchTable table, BenchParameters parameters)
    {
        Table = table;
        Colours = [.. table.Table.Colours.Where(colour => colour.Rank is not null).OrderBy(colour => colour.Rank)];
        _positive = table.Table.SpotTests.ToDictionary(
            test => test.Key, test => Shifted(Rates(test.Key, parameters), test.Key, parameters), StringComparer.Ordinal);
        ColourClasses = Classes(parameters.StrangeSeed);
        _colours = [.. table.Parents.Select((_, parent) => TrueColours(parent, parameters.RecordedColourShare))];
    }

    /// <summary>The table.</summary>
    public BenchTable Table { get; }

    /// <summary>The colours that have a rank, in rank order.</summary>
    public IReadOnlyList<Colour> Colours { get; }

    /// <summary>Colour classes with the true colours of their compounds that have none recorded, first that fits first.</summary>
    public IReadOnlyList<(StructureClass Class, double[] Weights)> ColourClasses { get; }

    /// <summary>Probability that a clean sample, read without mistake, is positive.</summary>
    public double Positive(string testKey, int parent) => _positive[testKey][parent];

    /// <summary>Whether a parent answers a test by a rate of its own.</summary>
    public bool GoesOwnWay(string testKey, int parent) => _ownWays.Contains((testKey, parent));

    /// <summary>Probability of each true colour of a parent's 2,4-dinitrophenylhydrazone, in rank order, summing to 1.</summary>
    public double[] ColourShares(int parent) => _colours[parent];

    private double[] Rates(string testKey, BenchParameters parameters)
    {
        var listed = Table.PositiveRate(testKey);
        if (parameters.StrangeSeed is not { } seed)
        {
            return [.. listed.Select(rate => rate < LeastUnsure ? 0 : rate > MostUnsure ? 1 : rate)];
        }

        // A class is all parents that the table gives one rate in the test. What ought to be positive is so in 6 of 8 cases
        // on the mean, what ought not in 2 of 8, what may go either way in any share.
        var random = new Random(seed + testKey.Sum(letter => letter));
        var drawn = listed.Distinct().Order().ToDictionary(rate => rate, rate =>
            rate < LeastUnsure ? Beta.Sample(random, 2, 6)
            : rate > MostUnsure ? Beta.Sample(random, 6, 2)
            : random.NextDouble());
        return [.. listed.Select((rate, parent) =>
        {
            if (parameters.OwnWaysShare == 0 || random.NextDouble() >= parameters.OwnWaysShare)
            {
                return drawn[rate];
            }

            _ownWays.Add((testKey, parent));
            return random.NextDouble();
        })];
    }

    /// <summary>Rates as one course meets them.</summary>
    private static double[] Shifted(double[] rates, string testKey, BenchParameters parameters)
    {
        if (parameters.ShiftSeed is not { } seed)
        {
            return rates;
        }

        var shift = Normal.Sample(new Random(unchecked(seed + testKey.Sum(letter => letter))), 0, parameters.TestShift);
        return [.. rates.Select(rate => Shifted(rate, shift))];
    }

    /// <summary>A rate moved on its logit; 0 and 1 stay.</summary>
    /// <param name="rate">The rate.</param>
    /// <param name="shift">By how much.</param>
    public static double Shifted(double rate, double shift) => rate / (rate + ((1 - rate) * Math.Exp(-shift)));

    private List<(StructureClass Class, double[] Weights)> Classes(int? strangeSeed)
    {
        var random = strangeSeed is { } seed ? new Random(seed) : null;
        return [.. Table.Table.ColourExpectations
            .Where(expectation => expectation.KindKey == BenchTable.HydrazoneKey)
            .OrderBy(expectation => expectation.Order)
            .Select(expectation => (
                StructureClass.Parse(expectation.StructureClass),
                random is null
                    ? expectation.Weights.ToArray()
                    : Dirichlet.Sample(random, [.. expectation.Weights.Select(_ => 1.0)])))];
    }

    private double[] TrueColours(int parent, double recordedShare)
    {
        var expected = ColourClasses.FirstOrDefault(one => one.Class.Matches(Table.Features[parent])).Weights
            ?? [.. Colours.Select(_ => 1.0 / Colours.Count)];
        var recorded = Table.Records(BenchTable.HydrazoneKey)[parent]
            .Where(record => record.ColourKey is not null)
            .Select(record => Colours.ToList().FindIndex(colour => colour.Key == record.ColourKey))
            .ToList();
        var share = recorded.Count > 0 ? recordedShare : 0;
        var weights = expected.Select(weight => weight * (1 - share)).ToArray();
        foreach (var rank in recorded)
        {
            weights[rank] += share / recorded.Count;
        }

        return weights;
    }
}
