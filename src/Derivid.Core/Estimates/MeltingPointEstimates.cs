using System.Collections.Concurrent;
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
/// class. What depends on which values are listed, and not on what they are, is worked out once for all parents of which the same are.
/// Cost: about parents · kinds² · 20 operations beside it. Thread safety: safe.
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

    private readonly Dictionary<string, ListedParent> _parents;
    private readonly Dictionary<string, Pattern> _patterns = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<(Pattern, double[] Structure, int Column), Foretold> _foretold = new();
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
            .Where(parent => parent.Pattern.Listed.Length > 0).ToList();
        _rest = PriorRest();
        Prepare();
        (_means, _precision) = Means(learntFrom, middles, spreads);
        for (var round = 0; round < Rounds; round++)
        {
            _rest = Rest(learntFrom);
            Prepare();
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

        var told = _foretold.GetOrAdd((parent.Pattern, parent.Structure, column), Foretell);
        var mean = told.Mean;
        for (var i = 0; i < told.Listed.Length; i++)
        {
            mean += told.Weights[i] * (parent.Listed[told.Listed[i]]!.Value - told.Means[i]);
        }

        return new TemperatureEstimate(mean, told.ScaleCelsius);
    }

    private Foretold Foretell((Pattern Pattern, double[] Structure, int Column) of)
    {
        var (structure, column) = (of.Structure, of.Column);
        var listed = of.Pattern.Listed.Where(other => other != column).ToArray();
        var weights = Weights(new PositiveMatrix(RestOf(listed)), listed, column);
        var variance = _rest[column, column];
        var contrast = new double[_means.Length];
        AddTo(contrast, structure, column, 1);
        foreach (var (i, other) in listed.Index())
        {
            variance -= weights[i] * _rest[other, column];
            AddTo(contrast, structure, other, -weights[i]);
        }

        variance += _precision.InverseForm(contrast);
        return new Foretold(
            listed, weights, MeanOf(structure, column), Array.ConvertAll(listed, other => MeanOf(structure, other)), Math.Sqrt(ScaleShare * variance));
    }

    /// <summary>Works out what of the covariance every parent with the same values listed needs.</summary>
    private void Prepare()
    {
        foreach (var pattern in _patterns.Values)
        {
            var part = new PositiveMatrix(RestOf(pattern.Listed));
            pattern.Weights = [.. Enumerable.Range(0, Columns).Select(column => Weights(part, pattern.Listed, column))];
            pattern.Inverse =
            [
                .. pattern.Listed.Select((_, i) =>
                {
                    var unit = new double[pattern.Listed.Length];
                    unit[i] = 1;
                    return part.Solve(unit);
                }),
            ];
            pattern.Known = new double[Columns, Columns];
            for (var row = 0; row < Columns; row++)
            {
                for (var column = 0; column < Columns; column++)
                {
                    for (var i = 0; i < pattern.Listed.Length; i++)
                    {
                        pattern.Known[row, column] += pattern.Weights[row][i] * _rest[pattern.Listed[i], column];
                    }
                }
            }
        }
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
        List<ListedParent> parents, double[] middles, double[] spreads)
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

        foreach (var parent in parents)
        {
            var (structure, listed, inverse) = (parent.Structure, parent.Pattern.Listed, parent.Pattern.Inverse);
            for (var i = 0; i < listed.Length; i++)
            {
                for (var j = 0; j < listed.Length; j++)
                {
                    var (row, column, value) = (listed[i] * Features, listed[j] * Features, parent.Listed[listed[j]]!.Value);
                    for (var f = 0; f < Features; f++)
                    {
                        right[row + f] += structure[f] * inverse[i][j] * value;
                        for (var g = 0; g < Features; g++)
                        {
                            matrix[row + f, column + g] += structure[f] * inverse[i][j] * structure[g];
                        }
                    }
                }
            }
        }

        var precision = new PositiveMatrix(matrix);
        return (precision.Solve(right), precision);
    }

    /// <summary>One round of expectation and maximisation for the covariance.</summary>
    private double[,] Rest(List<ListedParent> parents)
    {
        var sum = PriorRest();
        for (var row = 0; row < Columns; row++)
        {
            for (var column = 0; column < Columns; column++)
            {
                sum[row, column] *= RestWorth;
            }
        }

        foreach (var parent in parents)
        {
            var pattern = parent.Pattern;
            var deviations = Array.ConvertAll(pattern.Listed, column => parent.Listed[column]!.Value - MeanOf(parent.Structure, column));
            var expected = Array.ConvertAll(pattern.Weights, weight => PositiveMatrix.Dot(weight, deviations));
            for (var row = 0; row < Columns; row++)
            {
                for (var column = 0; column < Columns; column++)
                {
                    sum[row, column] += (expected[row] * expected[column]) + _rest[row, column] - pattern.Known[row, column];
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

    private Dictionary<string, ListedParent> Parents(ReferenceTable table)
    {
        var values = new Dictionary<string, double?[]>(StringComparer.Ordinal);
        var derivatives = table.Derivatives
            .Where(row => _columns.ContainsKey(row.KindKey))
            .Select(row => (row.ParentKey, Column: _columns[row.KindKey], Celsius: row.HighCelsius));
        var constants = table.Constants
            .Where(row => row.Property == ParentProperty.MeltingPoint)
            .Select(row => (row.ParentKey, Column: Own, Celsius: row.High));
        foreach (var rows in derivatives.Concat(constants).GroupBy(row => (row.ParentKey, row.Column)))
        {
            if (!values.TryGetValue(rows.Key.ParentKey, out var listed))
            {
                values[rows.Key.ParentKey] = listed = new double?[Columns];
            }

            listed[rows.Key.Column] = rows.Average(row => row.Celsius);
        }

        var parents = new Dictionary<string, ListedParent>(StringComparer.Ordinal);
        var structures = new Dictionary<string, double[]>(StringComparer.Ordinal);
        foreach (var parent in table.Parents)
        {
            if (SmilesReader.Read(parent.Smiles).Molecule is { } molecule)
            {
                var (structure, listed) = (StructureOf(molecule), values.GetValueOrDefault(parent.Key) ?? new double?[Columns]);
                int[] columns = [.. Enumerable.Range(0, Columns).Where(column => listed[column] is not null)];
                parents.TryAdd(parent.Key, new ListedParent(
                    Same(structures, string.Join(' ', structure), () => structure),
                    listed,
                    Same(_patterns, string.Join(' ', columns), () => new Pattern(columns))));
            }
        }

        return parents;
    }

    // The first of those alike, so that they can be told by reference.
    private static T Same<T>(Dictionary<string, T> known, string key, Func<T> make)
        where T : class
    {
        if (!known.TryGetValue(key, out var same))
        {
            known[key] = same = make();
        }

        return same;
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

    /// <summary>What is known of a parent.</summary>
    /// <param name="Structure">Its features; the same array for parents of the same.</param>
    /// <param name="Listed">Mean of the values listed, by column.</param>
    /// <param name="Pattern">Which are listed.</param>
    private sealed record ListedParent(double[] Structure, double?[] Listed, Pattern Pattern);

    /// <summary>Which columns are listed, and what follows from that and from the covariance alone.</summary>
    /// <param name="listed">The columns.</param>
    private sealed class Pattern(int[] listed)
    {
        public int[] Listed => listed;

        /// <summary>Inverse of their covariance.</summary>
        public double[][] Inverse { get; set; } = [];

        /// <summary>What their deviations count for each column. Shape: one row a column.</summary>
        public double[][] Weights { get; set; } = [];

        /// <summary>What they explain of the covariance.</summary>
        public double[,] Known { get; set; } = new double[0, 0];
    }

    /// <summary>All of a prediction but the values that are listed.</summary>
    private sealed record Foretold(int[] Listed, double[] Weights, double Mean, double[] Means, double ScaleCelsius);
}
