using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;

namespace Derivid.Benchmarks.Tables;

/// <summary>The same evidence in its simplest honest form: one loop over all parents, one number after another.</summary>
/// <remarks>
/// A normal density about each value listed, with a share of gross errors; the prior, the colour and the tests as factors; the ten best.
/// It has no tail of impure crystals, nothing but an even density for what is not listed, no "none of these", no groups and no reasons.
/// </remarks>
internal sealed class ScalarLoop
{
    private const int Listed = 10;

    // A sharp range on a thermometer that nobody checked, and the share of gross errors: rounded from the model's settings.
    internal const double SigmaCelsius = 1.4;
    internal const double GrossShare = 0.06;
    internal const double SpanCelsius = 360;

    private readonly int[] _first;
    private readonly double[] _values;
    private readonly double[] _prior;
    private readonly Dictionary<string, double[]> _colours;
    private readonly Dictionary<string, double[]> _tests;
    private readonly double[] _weights;

    /// <summary>Lays a table out.</summary>
    /// <param name="snapshot">The table.</param>
    /// <param name="kindKey">The derivative kind that will be melted.</param>
    /// <param name="colourKeys">Colours that may be called.</param>
    /// <param name="testKeys">Tests that may be run.</param>
    public ScalarLoop(TableSnapshot snapshot, string kindKey, IReadOnlyList<string> colourKeys, IReadOnlyList<string> testKeys)
    {
        var (kind, count) = (snapshot.Kind(kindKey), snapshot.Parents.Count);
        _first = new int[count + 1];
        var values = new List<double>();
        for (var parent = 0; parent < count; parent++)
        {
            values.AddRange(kind.Listed.Of(parent).Select(value => value.HighCelsius));
            _first[parent + 1] = values.Count;
        }

        _values = [.. values];
        _prior = [.. snapshot.Parents.Select(parent => snapshot.Settings.Commonness.Of(parent.Commonness))];
        _colours = colourKeys.ToDictionary(
            key => key, key => Enumerable.Range(0, count).Select(parent => kind.Colours!.Probability(parent, key)).ToArray());
        var expected = new ExpectedOutcomes(snapshot.Table);
        var outcomes = snapshot.Parents.Select((parent, i) => expected.Of(parent.Key, snapshot.Features[i])).ToList();
        _tests = testKeys.ToDictionary(
            key => key,
            key => outcomes.Select(tests => tests.First(outcome => outcome.Test.Key == key).PositiveRate).ToArray());
        _weights = new double[count];
    }

    /// <summary>What any ranking of one melting range, one colour and two tests must read. Units: bytes.</summary>
    public long BytesToRead => sizeof(double) * (_values.Length + (4L * _weights.Length));

    /// <summary>What the loop counts of a parent beside its melting points.</summary>
    public double FactorOf(int parent, string colour, string positive, string negative) =>
        _prior[parent] * _colours[colour][parent] * _tests[positive][parent] * (1 - _tests[negative][parent]);

    /// <summary>Ranks the parents.</summary>
    /// <param name="observation">One melting range with a colour, one positive test and one negative.</param>
    public List<(int Parent, double Share)> Rank(Observation observation)
    {
        var reading = observation.Derivatives[0];
        var clear = reading.Range!.Value.ClearPointCelsius;
        var colour = _colours[reading.ColourKey!];
        var positive = _tests[observation.SpotTests[0].TestKey];
        var negative = _tests[observation.SpotTests[1].TestKey];
        var (sum, least) = (0.0, 0.0);
        var best = new List<(int Parent, double Weight)>(Listed + 1);
        for (var parent = 0; parent < _weights.Length; parent++)
        {
            var (first, end) = (_first[parent], _first[parent + 1]);
            var density = 0.0;
            for (var i = first; i < end; i++)
            {
                var u = (clear - _values[i]) / SigmaCelsius;
                density += Math.Exp(-0.5 * u * u);
            }

            density = end > first ? (1 - GrossShare) * density / ((end - first) * SigmaCelsius * Math.Sqrt(2 * Math.PI)) : (1 - GrossShare) / SpanCelsius;
            var weight = _prior[parent] * colour[parent] * positive[parent] * (1 - negative[parent]) * (density + (GrossShare / SpanCelsius));
            _weights[parent] = weight;
            sum += weight;
            if (weight > least || best.Count < Listed)
            {
                var place = best.FindIndex(other => other.Weight < weight);
                best.Insert(place < 0 ? best.Count : place, (parent, weight));
                if (best.Count > Listed)
                {
                    best.RemoveAt(Listed);
                }

                least = best[^1].Weight;
            }
        }

        return [.. best.Select(of => (of.Parent, of.Weight / sum))];
    }
}
