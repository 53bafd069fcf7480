using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Estimates;

/// <summary>
/// Melting points of derivatives, and of parents, as the parent's other melting points and its structure foretell them.
/// </summary>
/// <remarks>
/// The melting points of one parent and all its derivatives are taken as jointly normal about a mean that depends on the
/// kind and on five features of the structure; what is listed tells of what isn't, by the conditional distribution.
/// Means and covariances are fitted to the table itself, by generalised least squares for the means and expectation and
/// maximisation for the covariance, which fills the gaps: R. J. A. Little and D. B. Rubin, Statistical Analysis with
/// Missing Data, chapter on the multivariate normal (recalled). Nothing is kept from one table to the next.
/// A prediction never looks at the value it predicts, listed or not. Measured on the seed tables: see the tests of this
/// class. Cost: about parents · kinds² · 600 operations. Thread safety: immutable.
/// </remarks>
public sealed class MeltingPointEstimates
{
    private const int Rounds = 10;
    private const int Features = 6;

    // All chosen near the best score of left-out parents, which changes by under 0.01 nats when any is halved or doubled:
    // spread of a feature's effect; spread and correlation of what the features leave, and how many parents they are worth.
    private const double EffectCelsius = 15;
    private const double RestCelsius = 35;
    private const double RestCorrelation = 0.3;
    private const double RestWorth = 15;

    // A normal with variance v is shown as the t with four degrees of freedom and squared scale 0.7 v, by the same score.
    private const double ScaleShare = 0.7;

    // The parents' own melting points, before any is listed.
    private const double ParentMiddleCelsius = 20;
    private const double ParentSpreadCelsius = 100;

    private readonly Dictionary<string, (double[] Structure, double?[] Listed)> _parents;
    private readonly Dictionary<string, int> _columns;
    private readonly double[] _means;
    private readonly PositiveMatrix _precision;
    private readonly double[,] _rest;

    private MeltingPointEstimates(ReferenceTable table, IReadOnlySet<string> without)
    {
        var kinds = table.Kinds.DistinctBy(kind => kind.Key, StringComparer.Ordinal).ToList();
        _columns = kinds.Select((kind, column) => (kind.Key, column)).ToDictionary(StringComparer.Ordinal);
        Own = kinds.Count;
        _parents = Parents(table);
        var (middles, spreads) = (new double[Own + 1], new double[Own + 1]);
        foreach (var (column, kind) in kinds.Index())
        {
            middles[column] = (kind.UsualLowCelsius + kind.UsualHighCelsius) / 2;
            spreads[column] = (kind.UsualHighCelsius - kind.UsualLowCelsius) / 4;
        }

        (middles[Own], spreads[Own]) = (ParentMiddleCelsius, ParentSpreadCelsius);
        var learntFrom = _parents.Where(parent => !without.Contains(parent.Key)).Select(parent => parent.Value)
            .Where(parent => parent.Listed.Any(value => value is not null)).ToList();
        _rest = PriorRest();
        (_means, _precision) = Means(learntFrom, middles, spreads);
        for (var round = 0; round < Rounds; round++)
        {
            _rest = Rest(learntFrom);
            (_means, _precision) = Means(learntFrom, middles, spreads);
        }
    }

    private int Own { get; }

    private int Columns => Own + 1;

    /// <summary>Fits a table.</summary>
    /// <param name="table">The table; parents whose structure can't be read are passed over.</param>
    /// <param name="without">
    /// Keys of parents not to learn from; their listed values still tell of each other. Missing: null, none.
    /// </param>
    public static MeltingPointEstimates Of(ReferenceTable table, IReadOnlySet<string>? without = null)
    {
        ArgumentNullException.ThrowIfNull(table);
        return new MeltingPointEstimates(table, without ?? new HashSet<string>());
    }

    /// <summary>Where one derivative of one parent is expected to melt.</summary>
    /// <param name="parentKey">Key of the parent.</param>
    /// <param name="kindKey">Key of the kind; whether the parent can form it is not asked.</param>
    /// <returns>Missing: null, no such parent, its structure can't be read, or no such kind.</returns>
    public TemperatureEstimate? OfDerivative(string parentKey, string kindKey) =>
        _columns.TryGetValue(kindKey, out var column) ? Predict(parentKey, column) : null;

    /// <summary>Where a parent itself is expected to melt.</summary>
    /// <param name="parentKey">Key of the parent.</param>
    /// <returns>Missing: null, no such parent, or its structure can't be read.</returns>
    public TemperatureEstimate? OfParent(string parentKey) => Predict(parentKey, Own);

    private TemperatureEstimate? Predict(string parentKey, int column)
    {
        if (!_parents.TryGetValue(parentKey, out var parent))
        {
            return null;
        }

        var listed = Listed(parent.Listed).Where(other => other != column).ToArray();
        var weights = Weights(new PositiveMatrix(RestOf(listed)), listed, column);
        var mean = MeanOf(parent.Structure, column);
        var variance = _rest[column, column];
        var contrast = new double[_means.Length];
        AddTo(contrast, parent.Structure, column, 1);
        foreach (var (i, other) in listed.Index())
        {
            mean += weights[i] * (parent.Listed[other]!.Value - MeanOf(parent.Structure, other));
            variance -= weights[i] * _rest[other, column];
            AddTo(contrast, parent.Structure, other, -weights[i]);
        }

        variance += _precision.InverseForm(contrast);
        return new TemperatureEstimate(mean, Math.Sqrt(ScaleShare * variance));
    }

    // Of the listed columns' deviations, how much each counts for the column asked for, given their own covariance.
    private double[] Weights(PositiveMatrix part, int[] listed, int column) =>
        part.Solve(Array.ConvertAll(listed, other => _rest[other, column]));

    private double[,] RestOf(int[] listed)
    {
        var part = new double[listed.Length, listed.Length];
        foreach (var (i, row) in listed.Index())
        {
            foreach (var (j, other) in listed.Index())
            {
                part[i, j] = _rest[row, other];
            }
        }

        return part;
    }

    private double MeanOf(double[] structure, int column) =>
        PositiveMatrix.Dot(structure, _means.AsSpan(column * Features, Features));

    private static void AddTo(double[] contrast, double[] structure, int column, double weight)
    {
        for (var feature = 0; feature < Features; feature++)
        {
            contrast[(column * Features) + feature] += weight * structure[feature];
        }
    }

    /// <summary>Means by generalised least squares, given the covariance of what they leave.</summary>
    private (double[] Means, PositiveMatrix Precision) Means(
        List<(double[] Structure, double?[] Listed)> parents, double[] middles, double[] spreads)
    {
        var size = Columns * Features;
        var (matrix, right) = (new double[size, size], new double[size]);
        for (var column = 0; column < Columns; column++)
        {
            for (var feature = 0; feature < Features; feature++)
            {
                var spread = feature == 0 ? spreads[column] : EffectCelsius;
                matrix[(column * Features) + feature, (column * Features) + feature] = 1 / (spread * spread);
            }

            right[column * Features] = middles[column] / (spreads[column] * spreads[column]);
        }

        foreach (var (structure, values) in parents)
        {
            var listed = Listed(values);
            var inverse = Inverse(listed);
            foreach (var (i, row) in listed.Index())
            {
                foreach (var (j, column) in listed.Index())
                {
                    for (var f = 0; f < Features; f++)
                    {
                        right[(row * Features) + f] += structure[f] * inverse[i][j] * values[column]!.Value;
                        for (var g = 0; g < Features; g++)
                        {
                            matrix[(row * Features) + f, (column * Features) + g] += structure[f] * inverse[i][j] * structure[g];
                        }
                    }
                }
            }
        }

        var precision = new PositiveMatrix(matrix);
        return (precision.Solve(right), precision);
    }

    private double[][] Inverse(int[] listed)
    {
        var part = new PositiveMatrix(RestOf(listed));
        return [.. listed.Select((_, i) =>
        {
            var unit = new double[listed.Length];
            unit[i] = 1;
            return part.Solve(unit);
        })];
    }

    /// <summary>One round of expectation and maximisation for the covariance.</summary>
    private double[,] Rest(List<(double[] Structure, double?[] Listed)> parents)
    {
        var sum = PriorRest();
        for (var row = 0; row < Columns; row++)
        {
            for (var column = 0; column < Columns; column++)
            {
                sum[row, column] *= RestWorth;
            }
        }

        foreach (var (structure, values) in parents)
        {
            var listed = Listed(values);
            var deviations = Array.ConvertAll(listed, column => values[column]!.Value - MeanOf(structure, column));
            var part = new PositiveMatrix(RestOf(listed));
            var weights = Enumerable.Range(0, Columns).Select(column => Weights(part, listed, column)).ToArray();
            var expected = Array.ConvertAll(weights, weight => PositiveMatrix.Dot(weight, deviations));
            for (var row = 0; row < Columns; row++)
            {
                for (var column = 0; column < Columns; column++)
                {
                    var known = 0.0;
                    foreach (var (i, other) in listed.Index())
                    {
                        known += weights[row][i] * _rest[other, column];
                    }

                    sum[row, column] += (expected[row] * expected[column]) + _rest[row, column] - known;
                }
            }
        }

        for (var row = 0; row < Columns; row++)
        {
            for (var column = 0; column < Columns; column++)
            {
                sum[row, column] /= RestWorth + parents.Count;
            }
        }

        return sum;
    }

    private double[,] PriorRest()
    {
        var prior = new double[Columns, Columns];
        for (var row = 0; row < Columns; row++)
        {
            for (var column = 0; column < Columns; column++)
            {
                prior[row, column] = RestCelsius * RestCelsius * (row == column ? 1 : RestCorrelation);
            }
        }

        return prior;
    }

    private static int[] Listed(double?[] values) =>
        [.. Enumerable.Range(0, values.Length).Where(column => values[column] is not null)];

    private Dictionary<string, (double[] Structure, double?[] Listed)> Parents(ReferenceTable table)
    {
        var parents = new Dictionary<string, (double[] Structure, double?[] Listed)>(StringComparer.Ordinal);
        foreach (var parent in table.Parents)
        {
            if (SmilesReader.Read(parent.Smiles).Molecule is { } molecule)
            {
                parents.TryAdd(parent.Key, (StructureOf(molecule), new double?[Columns]));
            }
        }

        var derivatives = table.Derivatives
            .Where(row => _columns.ContainsKey(row.KindKey))
            .Select(row => (row.ParentKey, Column: _columns[row.KindKey], Celsius: row.HighCelsius));
        var constants = table.Constants
            .Where(row => row.Property == ParentProperty.MeltingPoint)
            .Select(row => (row.ParentKey, Column: Own, Celsius: row.High));
        foreach (var rows in derivatives.Concat(constants).GroupBy(row => (row.ParentKey, row.Column)))
        {
            if (parents.TryGetValue(rows.Key.ParentKey, out var parent))
            {
                parent.Listed[rows.Key.Column] = rows.Average(row => row.Celsius);
            }
        }

        return parents;
    }

    private static double[] StructureOf(Molecule molecule)
    {
        var view = new StructureView(molecule);
        var environment = CarbonylEnvironment.Of(molecule);
        var chain = Enumerable.Range(0, molecule.Atoms.Length)
            .Count(atom => view.IsSaturatedCarbon(atom) && !molecule.IsRingAtom(atom));
        const StructureFeature aryl = StructureFeature.ArylKetone
            | StructureFeature.AromaticAldehyde | StructureFeature.HeteroaromaticAldehyde;
        return
        [
            1,
            (environment.Features & aryl) != 0 ? 1 : 0,
            environment.Features.HasFlag(StructureFeature.DiarylKetone) ? 1 : 0,
            environment.Features.HasFlag(StructureFeature.CyclicKetone) ? 1 : 0,
            environment.CarbonylGroups > 1 ? 1 : 0,
            chain / 4.0,
        ];
    }
}
