using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Validation.Simulation;

/// <summary>The reference table as the simulated bench sees it: what each parent truly does.</summary>
/// <remarks>Built from the table's rows, not from the engine's snapshot, so that the two cannot share a mistake.</remarks>
public sealed class BenchTable
{
    /// <summary>The kind every unknown is made into first.</summary>
    public const string HydrazoneKey = "2-4-dinitrophenylhydrazone";

    /// <summary>The second kind.</summary>
    public const string SemicarbazoneKey = "semicarbazone";

    /// <summary>Listed parents that an unlisted value is drawn about. Chosen.</summary>
    private const int Alikes = 8;

    private readonly Dictionary<string, Derivative[][]> _records;
    private readonly Dictionary<string, double[]> _positive;

    private BenchTable(ReferenceTable table)
    {
        Table = table;
        Parents = table.Parents;
        Features = [.. Parents.Select(parent =>
            CarbonylEnvironment.Of(SmilesReader.Read(parent.Smiles).Molecule!).Features)];
        _records = table.Kinds.ToDictionary(
            kind => kind.Key,
            kind => ByParent(table.Derivatives.Where(record => record.KindKey == kind.Key), record => record.ParentKey),
            StringComparer.Ordinal);
        BoilingPoints = Constants(ParentProperty.BoilingPoint);
        MeltingPoints = Constants(ParentProperty.MeltingPoint);
        _positive = table.SpotTests.ToDictionary(test => test.Key, PositiveRates, StringComparer.Ordinal);
        FusionEntropies = Simulation.FusionEntropies.Of(table);
    }

    /// <summary>The rows.</summary>
    public ReferenceTable Table { get; }

    /// <summary>The parents, in the engine's order: by key.</summary>
    public IReadOnlyList<Parent> Parents { get; }

    /// <summary>Their structure features.</summary>
    public IReadOnlyList<StructureFeature> Features { get; }

    /// <summary>Boiling points at standard pressure, by parent.</summary>
    public IReadOnlyList<ParentConstant[]> BoilingPoints { get; }

    /// <summary>Melting points, by parent.</summary>
    public IReadOnlyList<ParentConstant[]> MeltingPoints { get; }

    /// <summary>Entropies of fusion to draw from. Units: J/(mol·K). Shape: rising.</summary>
    public double[] FusionEntropies { get; }

    /// <summary>Takes every parent of the table.</summary>
    public static BenchTable Of(ReferenceTable table) => new(Keep(table, _ => true));

    /// <summary>The table with some of its parents only.</summary>
    public static ReferenceTable Keep(ReferenceTable table, Func<string, bool> isKept)
    {
        const string single = "parent:";
        return table with
        {
            Parents = [.. table.Parents.Where(parent => isKept(parent.Key)).OrderBy(p => p.Key, StringComparer.Ordinal)],
            Constants = [.. table.Constants.Where(constant => isKept(constant.ParentKey))],
            Derivatives = [.. table.Derivatives.Where(record => isKept(record.ParentKey))],
            Responses = [.. table.Responses.Where(response =>
                !response.AppliesTo.StartsWith(single, StringComparison.Ordinal)
                || isKept(response.AppliesTo[single.Length..]))],
        };
    }

    /// <summary>The records of one kind, by parent.</summary>
    public IReadOnlyList<Derivative[]> Records(string kindKey) => _records[kindKey];

    /// <summary>Whether a parent can form a kind.</summary>
    public bool CanForm(string kindKey, int parent) =>
        _records[kindKey][parent].Length > 0
        || StructureClass.Parse(Table.Kinds.First(kind => kind.Key == kindKey).AppliesTo).Matches(Features[parent]);

    /// <summary>The table's probability of a positive, by parent.</summary>
    public IReadOnlyList<double> PositiveRate(string testKey) => _positive[testKey];

    /// <summary>
    /// The parents most alike one, itself left out: carbonyl on an aromatic ring or not, aldehyde or ketone, molar mass.
    /// </summary>
    /// <param name="parent">Index of the parent.</param>
    /// <param name="isListed">Which parents may be taken.</param>
    /// <returns>Shape: <see cref="Alikes"/> indices, fewer where fewer may be taken.</returns>
    public IReadOnlyList<int> Alike(int parent, Func<int, bool> isListed)
    {
        double Distance(int other) =>
            Math.Abs(Math.Log(Parents[other].MolarMass / Parents[parent].MolarMass))
            + (Parents[other].Kind == Parents[parent].Kind ? 0 : 0.5)
            + (IsOnRing(other) == IsOnRing(parent) ? 0 : 0.5);
        return [.. Enumerable.Range(0, Parents.Count)
            .Where(other => other != parent && isListed(other))
            .OrderBy(Distance)
            .ThenBy(other => other)
            .Take(Alikes)];
    }

    private bool IsOnRing(int parent) => (Features[parent]
        & (StructureFeature.AromaticAldehyde | StructureFeature.HeteroaromaticAldehyde | StructureFeature.ArylKetone)) != 0;

    private double[] PositiveRates(Core.SpotTests.SpotTest test)
    {
        var responses = Table.Responses
            .Where(response => response.TestKey == test.Key)
            .OrderBy(response => response.Order)
            .ToList();
        return [.. Parents.Select((parent, i) =>
            responses.FirstOrDefault(response => response.AppliesTo.StartsWith("parent:", StringComparison.Ordinal)
                ? response.AppliesTo == $"parent:{parent.Key}"
                : StructureClass.Parse(response.AppliesTo).Matches(Features[i]))?.PositiveRate
            ?? test.PositiveRateIfNo)];
    }

    private ParentConstant[][] Constants(ParentProperty property) =>
        ByParent(
            Table.Constants.Where(constant => constant.Property == property
                && constant.PressureKilopascals is null or (> 98 and < 105)),
            constant => constant.ParentKey);

    private T[][] ByParent<T>(IEnumerable<T> rows, Func<T, string> parentKey)
    {
        var groups = rows.ToLookup(parentKey, StringComparer.Ordinal);
        return [.. Parents.Select(parent => groups[parent.Key].ToArray())];
    }
}
