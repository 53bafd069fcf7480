using System.Collections.Immutable;
using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Estimates;

/// <summary>Normal boiling points from structure, corrected by what the table's own boiling points say of their kind.</summary>
/// <remarks>
/// <see cref="BoilingPointGroups"/> knows groups one by one; what two of them do to each other is learnt from the parents
/// whose boiling point is listed: neighbouring carbonyl groups and a hydroxyl group that reaches the carbonyl lower it, a
/// donor that pushes electrons to it raises it. Wrong values do little harm (<see cref="StudentRegression"/>). A listed
/// melting point bounds the estimate from below. Nothing is kept from one table to the next.
/// Measured on the seed tables, a twentieth of the parents left out at a time: see the tests of this class.
/// Limits: uncharged compounds of the groups listed; decomposition before boiling is not foreseen. Thread safety: immutable.
/// </remarks>
public sealed class BoilingPointEstimates
{
    // Chosen: groups in each other's way shift boiling points by some 20 °C; leaving out tells little between 15 and 30.
    private const double PriorSpreadCelsius = 20;

    // The group method's own median error, rounded; matters only while hardly any boiling point is listed.
    private const double PriorScaleCelsius = 8;

    // Near standard pressure: within the range that a weather map shows and a little more.
    private const double LowestKilopascals = 98;
    private const double HighestKilopascals = 105;

    private readonly Dictionary<string, double> _meltingPoints;
    private readonly Dictionary<string, Molecule> _molecules;
    private readonly StudentRegression _corrections;

    private BoilingPointEstimates(
        Dictionary<string, Molecule> molecules, Dictionary<string, double> meltingPoints, StudentRegression corrections)
    {
        _molecules = molecules;
        _meltingPoints = meltingPoints;
        _corrections = corrections;
    }

    /// <summary>Fits the corrections to a table.</summary>
    /// <param name="table">The table; parents whose structure can't be read are passed over.</param>
    /// <param name="without">Keys of parents whose boiling points are not looked at. Missing: null, all are.</param>
    public static BoilingPointEstimates Of(ReferenceTable table, IReadOnlySet<string>? without = null)
    {
        ArgumentNullException.ThrowIfNull(table);
        var molecules = new Dictionary<string, Molecule>(StringComparer.Ordinal);
        foreach (var parent in table.Parents)
        {
            if (SmilesReader.Read(parent.Smiles).Molecule is { } molecule)
            {
                molecules.TryAdd(parent.Key, molecule);
            }
        }

        var (rows, values) = (new List<double[]>(), new List<double>());
        foreach (var (key, listed) in ListedCelsius(table))
        {
            if (without?.Contains(key) != true && molecules.TryGetValue(key, out var molecule)
                && BoilingPointGroups.CelsiusOf(molecule) is { } groups)
            {
                rows.Add(Predictors(molecule));
                values.Add(listed - groups);
            }
        }

        return new BoilingPointEstimates(
            molecules,
            LowestMeltingCelsius(table),
            StudentRegression.Fit(rows, values, PredictorCount, PriorSpreadCelsius, PriorScaleCelsius));
    }

    /// <summary>The boiling point listed for each parent near standard pressure: the median of its values.</summary>
    /// <param name="table">The table.</param>
    /// <returns>Units: °C. Shape: parents with one, in the order of their keys.</returns>
    public static IReadOnlyList<KeyValuePair<string, double>> ListedCelsius(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        return
        [
            .. table.Constants
                .Where(IsNormalBoilingPoint)
                .GroupBy(row => row.ParentKey, StringComparer.Ordinal)
                .OrderBy(rows => rows.Key, StringComparer.Ordinal)
                .Select(rows => KeyValuePair.Create(rows.Key, Median([.. rows.Select(row => (row.Low + row.High) / 2).Order()]))),
        ];
    }

    /// <summary>Whether a constant is a boiling point near standard pressure, 98 to 105 kPa.</summary>
    /// <param name="constant">The constant.</param>
    public static bool IsNormalBoilingPoint(ParentConstant constant)
    {
        ArgumentNullException.ThrowIfNull(constant);
        return constant.Property == ParentProperty.BoilingPoint
            && IsNormal(constant.PressureKilopascals);
    }

    /// <summary>Whether a pressure is near the standard one.</summary>
    /// <param name="kilopascals">The pressure. Units: kPa. Missing: null, it is not stated and taken as standard.</param>
    public static bool IsNormal(double? kilopascals) => kilopascals is null or (> LowestKilopascals and < HighestKilopascals);

    /// <summary>The estimate for a parent of the table, whether or not a boiling point is listed for it.</summary>
    /// <param name="parentKey">Key of the parent.</param>
    /// <returns>Missing: null, no such parent, or its structure has an atom outside the groups.</returns>
    public TemperatureEstimate? Of(string parentKey) =>
        _molecules.TryGetValue(parentKey, out var molecule) && Of(molecule) is { } estimate
            ? _meltingPoints.TryGetValue(parentKey, out var melting) ? estimate with { AtLeastCelsius = melting } : estimate
            : null;

    /// <summary>The estimate for any structure.</summary>
    /// <param name="molecule">One uncharged molecule.</param>
    /// <returns>Missing: null, an atom is outside the groups.</returns>
    public TemperatureEstimate? Of(Molecule molecule)
    {
        if (BoilingPointGroups.CelsiusOf(molecule) is not { } groups)
        {
            return null;
        }

        var correction = _corrections.Predict(Predictors(molecule));
        return correction with { MeanCelsius = groups + correction.MeanCelsius };
    }

    private const int PredictorCount = 7;

    private static double[] Predictors(Molecule molecule)
    {
        var view = new StructureView(molecule);
        var features = CarbonylEnvironment.Of(molecule).Features;
        var carbonyls = Enumerable.Range(0, molecule.Atoms.Length).Where(view.IsCarbonyl).ToList();
        return
        [
            1,
            Is(features.HasFlag(StructureFeature.Ketone)),
            Is(features.HasFlag(StructureFeature.MethylKetone)),
            Is((features & (StructureFeature.ConjugatedEnal | StructureFeature.ConjugatedEnone)) != 0),
            Is(carbonyls.Exists(atom => view.Neighbours(atom).Any(view.IsCarbonyl))),
            Is(carbonyls.Exists(atom => view.Neighbours(atom).Where(view.IsAryl).Any(aryl => Chelates(view, aryl)))),
            Is(carbonyls.Exists(atom => view.Neighbours(atom).Where(view.IsAryl).Any(aryl => IsPushed(view, aryl)))),
        ];
    }

    /// <summary>A hydroxyl group on the next aromatic carbon, whose hydrogen bond to the carbonyl stays inside the molecule.</summary>
    private static bool Chelates(StructureView view, int aryl) =>
        view.Carbons(aryl).Any(next => view.IsAryl(next) && view.HasHydroxyl(next));

    /// <summary>A donor across or beside it on the same six-ring; beside it a hydroxyl group chelates instead.</summary>
    private static bool IsPushed(StructureView view, int aryl)
    {
        foreach (ImmutableArray<int> ring in view.Molecule.AromaticRings.Where(ring => ring.Length == 6 && ring.Contains(aryl)))
        {
            var at = ring.IndexOf(aryl);
            foreach (var step in (ReadOnlySpan<int>)[1, 3, 5])
            {
                var position = ring[(at + step) % ring.Length];
                if (view.IsAryl(position)
                    && view.Neighbours(position).Any(next => DonorRings.IsDonor(view, next, position))
                    && (step == 3 || !view.HasHydroxyl(position)))
                {
                    return true;
                }
            }
        }

        return false;
    }

    private static double Is(bool holds) => holds ? 1 : 0;

    private static Dictionary<string, double> LowestMeltingCelsius(ReferenceTable table) => table.Constants
        .Where(row => row.Property == ParentProperty.MeltingPoint)
        .GroupBy(row => row.ParentKey, StringComparer.Ordinal)
        .ToDictionary(rows => rows.Key, rows => rows.Min(row => row.Low), StringComparer.Ordinal);

    private static double Median(List<double> ordered) =>
        (ordered[(ordered.Count - 1) / 2] + ordered[ordered.Count / 2]) / 2;
}
