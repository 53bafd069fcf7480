using Derivid.Core.Observations;
using Derivid.Core.SpotTests;
using Derivid.Validation.Simulation;
using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Ideal;

/// <summary>An observer who knows how the simulated students err: the best anyone can do with their readings.</summary>
/// <remarks>
/// Exact up to quadrature: the student's thermometer offset, which all readings share, is integrated over; see
/// <see cref="ReadingDensity"/> for a melting reading. Of "none of these" it is told which compound was taken out of the
/// table, which no service can know, so its odds of absence are a bound and not an aim. Thread safety: immutable.
/// </remarks>
public sealed class IdealObserver
{
    private static readonly int Nodes = NormalNodes.All.Count;

    private readonly BenchTable _table;
    private readonly BenchParameters _bench;
    private readonly ReadingDensity _melting;
    private readonly BoilingDensity _boiling;
    private readonly double[] _offsets;
    private readonly double[] _weights;
    private readonly double[][] _colourCalls;
    private readonly Dictionary<string, int> _colourRank;

    /// <summary>Prepares the observer.</summary>
    public IdealObserver(BenchTable table, BenchParameters bench)
    {
        _table = table;
        _bench = bench;
        _melting = new ReadingDensity(bench, table.FusionEntropies, bench.DerivativeScatter, bench.DecompositionCelsius);
        _boiling = new BoilingDensity(bench);
        _offsets = [.. NormalNodes.All.Select(node => node.Place * bench.OffsetCelsius)];
        _weights = [.. NormalNodes.All.Select(node => node.Weight)];
        var colours = table.Table.Colours.OrderBy(colour => colour.Rank).ToList();
        _colourRank = colours.Select((colour, i) => (colour.Key, i)).ToDictionary(StringComparer.Ordinal);
        _colourCalls = [.. Enumerable.Range(0, table.Parents.Count).Select(Calls)];
    }

    /// <summary>Likelihood of a student's readings from every parent, for several rows at once.</summary>
    /// <param name="student">The readings.</param>
    /// <param name="testKeys">The three tests, each of a question of its own.</param>
    /// <param name="rows">The rows.</param>
    /// <returns>Shape: one array a row, one likelihood a parent, up to a factor of the row.</returns>
    public double[][] Likelihoods(Student student, IReadOnlyList<string> testKeys, IReadOnlyList<EvidenceSet> rows)
    {
        var hydrazone = student.Derivatives[BenchTable.HydrazoneKey];
        var semicarbazone = student.Derivatives[BenchTable.SemicarbazoneKey];
        var high = student.BoilingPoint.ClearPointCelsius;
        var (unlistedHydrazone, unlistedSemicarbazone) = (Unlisted(hydrazone), Unlisted(semicarbazone));
        var unlistedBoiling = Unlisted(high);
        var result = rows.Select(_ => new double[_table.Parents.Count]).ToArray();
        var semicarbazones = new double[Nodes];
        var boilings = new double[Nodes];
        var hydrazones = new double[Nodes];
        for (var parent = 0; parent < _table.Parents.Count; parent++)
        {
            Melting(hydrazone, parent, unlistedHydrazone, hydrazones);
            Melting(semicarbazone, parent, unlistedSemicarbazone, semicarbazones);
            Boiling(high, parent, unlistedBoiling, boilings);
            var colour = _colourCalls[parent][_colourRank[hydrazone.ColourKey!]];
            var tests = Tests(student, parent, testKeys);
            for (var row = 0; row < rows.Count; row++)
            {
                var sum = 0.0;
                for (var node = 0; node < Nodes; node++)
                {
                    sum += _weights[node] * hydrazones[node]
                        * (rows[row].HasFlag(EvidenceSet.Semicarbazone) ? semicarbazones[node] : 1)
                        * (rows[row].HasFlag(EvidenceSet.BoilingPoint) ? boilings[node] : 1);
                }

                result[row][parent] = sum
                    * (rows[row].HasFlag(EvidenceSet.Colour) ? colour : 1)
                    * (rows[row].HasFlag(EvidenceSet.SpotTests) ? tests : 1);
            }
        }

        return result;
    }

    private void Melting(DerivativeReading reading, int parent, double unlisted, double[] densities)
    {
        var range = reading.Range!.Value;
        var records = _table.Records(reading.KindKey)[parent];
        if (records.Length == 0)
        {
            Array.Fill(densities, unlisted);
            return;
        }

        for (var node = 0; node < Nodes; node++)
        {
            densities[node] = 0;
            foreach (var record in records)
            {
                densities[node] += _melting.At(
                    range.ClearPointCelsius - _offsets[node],
                    range.ClearPointCelsius,
                    range.SpanCelsius,
                    reading.Preparation,
                    record.HighCelsius,
                    record.Decomposes) / records.Length;
            }
        }
    }

    private double Unlisted(DerivativeReading reading)
    {
        var range = reading.Range!.Value;
        var sigma = Math.Sqrt((_bench.UnlistedCelsius * _bench.UnlistedCelsius)
            + (_bench.OffsetCelsius * _bench.OffsetCelsius)
            + (_bench.ReadingCelsius * _bench.ReadingCelsius));
        var density = _table.Records(reading.KindKey)
            .SelectMany(records => records)
            .Average(record => Normal.PDF(record.HighCelsius, sigma, range.ClearPointCelsius));
        return _melting.WidthShare(range.SpanCelsius, reading.Preparation, range.ClearPointCelsius)
            * (((1 - _bench.GrossShare) * density) + _melting.Gross(range.ClearPointCelsius));
    }

    private double Unlisted(double high)
    {
        var density = _table.BoilingPoints
            .SelectMany(of => of)
            .Average(constant => Normal.PDF(constant.High, _bench.UnlistedCelsius, high + _bench.BoilingLowCelsius));
        return ((1 - _bench.GrossShare) * density) + _boiling.Gross(high);
    }

    private void Boiling(double high, int parent, double unlisted, double[] densities)
    {
        var constants = _table.BoilingPoints[parent];
        if (constants.Length == 0)
        {
            Array.Fill(densities, unlisted);
            return;
        }

        for (var node = 0; node < Nodes; node++)
        {
            densities[node] = constants.Average(constant => _boiling.At(high - _offsets[node], high, constant.High));
        }
    }

    private double Tests(Student student, int parent, IReadOnlyList<string> testKeys)
    {
        var likelihood = 1.0;
        foreach (var key in testKeys)
        {
            var truth = SpotTestTruth.Positive(_table.PositiveRate(key)[parent]);
            var flipped = (_bench.ContaminationShare * (1 - _bench.TestMistakeShare))
                + ((1 - _bench.ContaminationShare) * _bench.TestMistakeShare);
            var positive = (truth * (1 - flipped)) + ((1 - truth) * flipped);
            likelihood *= student.SpotTests[key].Outcome == SpotTestOutcome.Positive ? positive : 1 - positive;
        }

        return likelihood;
    }

    private double[] Calls(int parent)
    {
        var colours = _table.TrueColours(BenchTable.HydrazoneKey, parent, _bench.RecordedColourShare);
        var calls = new double[colours.Length];
        for (var colour = 0; colour < colours.Length; colour++)
        {
            var called = ColourCalls.Of(colour, colours.Length, _bench);
            for (var i = 0; i < calls.Length; i++)
            {
                calls[i] += colours[colour] * called[i];
            }
        }

        return calls;
    }
}
