using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Validation.Simulation;
using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Ideal;

/// <summary>An observer who knows how the simulated students err: the best anyone can do with their readings.</summary>
/// <remarks>
/// Exact up to quadrature: the student's thermometer offset, which all readings share, is integrated over; see
/// <see cref="ReadingDensity"/> for a melting reading. Of values that are not listed it knows no more than that they lie
/// about those of the compounds most alike, or, of boiling points, about the groups of Stein and Brown: there it is not
/// ideal, and may be beaten. Thread safety: immutable.
/// </remarks>
/// <param name="densities">How the students err.</param>
public sealed class IdealObserver(BenchDensities densities)
{
    private static readonly int Nodes = NormalNodes.All.Count;

    private readonly BenchTable _table = densities.Table;
    private readonly BenchParameters _bench = densities.Bench;
    private readonly double[] _offsets = 
        [.. NormalNodes.All.Select(node => densities.Bench.OffsetMeanCelsius + (node.Place * densities.Bench.OffsetCelsius))];
    private readonly double[] _weights = [.. NormalNodes.All.Select(node => node.Weight)];

    /// <summary>Likelihood of a student's readings from every parent, for several rows at once.</summary>
    /// <param name="student">The readings.</param>
    /// <param name="testKeys">The three tests, each of a question of its own.</param>
    /// <param name="rows">The rows.</param>
    /// <returns>Shape: one array a row, one likelihood a parent, up to a factor of the row.</returns>
    public double[][] Likelihoods(Student student, IReadOnlyList<string> testKeys, IReadOnlyList<EvidenceSet> rows)
    {
        var hydrazone = student.Derivatives.GetValueOrDefault(BenchTable.HydrazoneKey);
        var semicarbazone = student.Derivatives.GetValueOrDefault(BenchTable.SemicarbazoneKey);
        var result = rows.Select(_ => new double[_table.Parents.Count]).ToArray();
        var (hydrazones, semicarbazones) = (new double[Nodes], new double[Nodes]);
        var (boilings, constants) = (new double[Nodes], new double[Nodes]);
        for (var parent = 0; parent < _table.Parents.Count; parent++)
        {
            Melting(hydrazone, parent, student.Removed, hydrazones);
            Melting(semicarbazone, parent, student.Removed, semicarbazones);
            Boiling(student.BoilingPoint, parent, student.Removed, boilings);
            OwnConstant(student, parent, boilings, constants);
            var colour = densities.Colour(student, parent);
            var tests = densities.Tests(student, parent, testKeys);
            for (var row = 0; row < rows.Count; row++)
            {
                var sum = 0.0;
                for (var node = 0; node < Nodes; node++)
                {
                    sum += _weights[node] * hydrazones[node]
                        * (rows[row].HasFlag(EvidenceSet.Semicarbazone) ? semicarbazones[node] : 1)
                        * (rows[row].HasFlag(EvidenceSet.BoilingPoint) ? boilings[node] : 1)
                        * (rows[row].HasFlag(EvidenceSet.OwnConstant) ? constants[node] : 1);
                }

                result[row][parent] = sum
                    * (rows[row].HasFlag(EvidenceSet.Colour) ? colour : 1)
                    * (rows[row].HasFlag(EvidenceSet.SpotTests) ? tests : 1);
            }
        }

        return [.. result.Select(WithMislabelled)];
    }

    /// <summary>The bottle may hold any other compound.</summary>
    private double[] WithMislabelled(double[] likelihood)
    {
        var mean = likelihood.Average();
        return [.. likelihood.Select(at => ((1 - _bench.MislabelledShare) * at) + (_bench.MislabelledShare * mean))];
    }

    private void Melting(DerivativeReading? reading, int parent, int removed, double[] filled)
    {
        if (reading is null)
        {
            Array.Fill(filled, 1);
            return;
        }

        var range = reading.Range!.Value;
        var records = _table.Records(reading.KindKey)[parent];
        if (records.Length == 0 || BenchTable.IsHeldOut(removed, parent, reading.KindKey))
        {
            Array.Fill(filled, Unlisted(reading, parent));
            return;
        }

        for (var node = 0; node < Nodes; node++)
        {
            filled[node] = 0;
            foreach (var record in records)
            {
                filled[node] += densities.Derivatives.At(
                    range.ClearPointCelsius - _offsets[node],
                    range.ClearPointCelsius,
                    range.SpanCelsius,
                    reading.Preparation,
                    record.HighCelsius,
                    record.Decomposes) / records.Length;
            }
        }
    }

    private double Unlisted(DerivativeReading reading, int parent)
    {
        var range = reading.Range!.Value;
        var sigma = Math.Sqrt((_bench.UnlistedCelsius * _bench.UnlistedCelsius)
            + (_bench.OffsetCelsius * _bench.OffsetCelsius)
            + (_bench.ReadingCelsius * _bench.ReadingCelsius));
        var clear = range.ClearPointCelsius - _bench.OffsetMeanCelsius;
        var records = _table.Records(reading.KindKey);
        var density = densities.Alike(reading.KindKey, parent).Average(other => records[other].Average(record =>
            ((1 - _bench.WetShare) * Normal.PDF(record.HighCelsius, sigma, clear))
            + (_bench.WetShare * Normal.PDF(record.HighCelsius - _bench.WetLowCelsius.Mean, sigma, clear))));
        return densities.Derivatives.WidthShare(range.SpanCelsius, reading.Preparation, range.ClearPointCelsius)
            * (((1 - _bench.GrossShare) * density) + densities.Derivatives.Gross(range.ClearPointCelsius));
    }

    private double Unlisted(double high, int parent)
    {
        var read = high + _bench.BoilingLowCelsius - _bench.OffsetMeanCelsius;
        return ((1 - _bench.GrossShare) * densities.ExpectedBoiling(read, parent, _bench.UnlistedCelsius))
            + densities.Boiling.Gross(high);
    }

    private void Boiling(Core.Melting.MeltingRange? reading, int parent, int removed, double[] filled)
    {
        if (reading is not { ClearPointCelsius: var high })
        {
            Array.Fill(filled, 1);
            return;
        }

        var constants = _table.BoilingPoints[parent];
        if (constants.Length == 0 || BenchTable.IsHeldOut(removed, parent, BenchTable.BoilingKey))
        {
            Array.Fill(filled, Unlisted(high, parent));
            return;
        }

        for (var node = 0; node < Nodes; node++)
        {
            filled[node] = constants.Average(constant => densities.Boiling.At(high - _offsets[node], high, constant.High));
        }
    }

    /// <summary>A solid is melted and a liquid distilled, so which of the two was done tells something too.</summary>
    private void OwnConstant(Student student, int parent, double[] boilings, double[] filled)
    {
        var listed = _table.MeltingPoints[parent];
        for (var node = 0; node < Nodes; node++)
        {
            filled[node] = !student.IsSolid
                ? boilings[node] * (listed.Length == 0 ? 1 : listed.Average(constant => 1 - IsSolid(constant)))
                : listed.Length == 0 ? 0
                : student.MeltingPoint is { } range ? listed.Average(constant => Solid(constant, range, _offsets[node]))
                : listed.Average(IsSolid);
        }
    }

    private double Solid(ParentConstant constant, Core.Melting.MeltingRange range, double offset)
    {
        const Preparation preparation = Preparation.Recrystallised;
        var clear = range.ClearPointCelsius;
        var width = densities.Solids.WidthShare(range.SpanCelsius, preparation, constant.High);
        var gross = width * densities.Solids.Gross(clear);
        return densities.Solids.At(clear - offset, clear, range.SpanCelsius, preparation, constant.High, decomposes: false)
            - gross + (gross * IsSolid(constant));
    }

    private double IsSolid(ParentConstant constant) =>
        1 - _bench.ParentScatter.Below(_bench.RoomCelsius - constant.High);
}
