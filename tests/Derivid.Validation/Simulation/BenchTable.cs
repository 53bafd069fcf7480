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

    /// <summary>Takes the parents with at least one 2,4-dinitrophenylhydrazone listed.</summary>
    public static BenchTable Of(ReferenceTable table)
    {
        var listed = table.Derivatives
            .Where(record => record.KindKey == HydrazoneKey)
            .Select(record => record.ParentKey)
            .ToHashSet(StringComparer.Ordinal);
        return new BenchTable(Keep(table, listed.Contains));
    }

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

    /// <summary>Probability of each true colour of a parent's derivative.</summary>
    /// <returns>Shape: one a colour, in rank order, summing to 1.</returns>
    public double[] TrueColours(string kindKey, int parent, double recordedShare)
    {
        var colours = Table.Colours.OrderBy(colour => colour.Rank).ToList();
        var expected = Table.ColourExpectations
            .Where(expectation => expectation.KindKey == kindKey)
            .OrderBy(expectation => expectation.Order)
            .FirstOrDefault(expectation => StructureClass.Parse(expectation.StructureClass).Matches(Features[parent]))
            ?.Weights ?? [.. colours.Select(_ => 1.0 / colours.Count)];
        var recorded = _records[kindKey][parent]
            .Where(record => record.ColourKey is not null)
            .Select(record => colours.FindIndex(colour => colour.Key == record.ColourKey))
            .ToList();
        var share = recorded.Count > 0 ? recordedShare : 0;
        var weights = expected.Select(weight => weight * (1 - share)).ToArray();
        foreach (var rank in recorded)
        {
            weights[rank] += share / recorded.Count;
        }

        return weights;
    }

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
