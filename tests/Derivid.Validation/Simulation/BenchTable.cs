using Derivid.Core.Compounds;
using Derivid.Core.Estimates;
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

    /// <summary>Stands for the boiling point where a kind of derivative is asked for.</summary>
    public const string BoilingKey = "";

    /// <summary>One printed value in so many is held out. Chosen.</summary>
    private const int HeldOutOneIn = 8;

    /// <summary>Listed parents that an observer expects an unlisted value about. Chosen.</summary>
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
        BoilingGuesses = [.. Parents.Select(BoilingGuess)];
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

    /// <summary>About what an observer expects a boiling point that is not listed, and the least it can be. Units: °C.</summary>
    public IReadOnlyList<(double Celsius, double Least)> BoilingGuesses { get; }

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

    /// <summary>
    /// Whether a value that is printed is kept from the table that a student meets, so that what is not listed is put to the
    /// test with values that are true.
    /// </summary>
    /// <param name="removed">The parent taken out of that table, which draws the values held out; below 0 for none.</param>
    /// <param name="parent">Index of the parent.</param>
    /// <param name="key">The derivative kind, or <see cref="BoilingKey"/>.</param>
    public static bool IsHeldOut(int removed, int parent, string key)
    {
        if (removed < 0)
        {
            return false;
        }

        var drawn = (uint)removed * 0x9E3779B1u;
        drawn = (drawn ^ (uint)parent) * 0x85EBCA77u;
        drawn = key.Aggregate(drawn, (sum, letter) => (sum ^ letter) * 0xC2B2AE3Du);
        return (drawn ^ (drawn >> 15)) % HeldOutOneIn == 0;
    }

    /// <summary>What is known to a student: rows of a table without those held out.</summary>
    /// <param name="rows">The rows, of all parents or some.</param>
    /// <param name="removed">Which draw of values held out.</param>
    public ReferenceTable Known(ReferenceTable rows, int removed)
    {
        var index = Parents.Select((parent, i) => (parent.Key, i)).ToDictionary(StringComparer.Ordinal);
        return rows with
        {
            Derivatives = [.. rows.Derivatives.Where(record => !IsHeldOut(removed, index[record.ParentKey], record.KindKey))],
            Constants = [.. rows.Constants.Where(constant => constant.Property != ParentProperty.BoilingPoint
                || !IsHeldOut(removed, index[constant.ParentKey], BoilingKey))],
        };
    }

    /// <summary>The records of one kind, by parent.</summary>
    public IReadOnlyList<Derivative[]> Records(string kindKey) => _records[kindKey];

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

    /// <summary>
    /// The boiling point by the groups of Stein and Brown, as published and without the engine's corrections, and the
    /// melting point, if listed, below which it can't lie.
    /// </summary>
    private (double Celsius, double Least) BoilingGuess(Parent parent, int index)
    {
        var guess = BoilingPointGroups.CelsiusOf(SmilesReader.Read(parent.Smiles).Molecule!)
            ?? throw new InvalidOperationException($"{parent.Key} has an atom outside the groups.");
        return (guess, MeltingPoints[index].Length == 0
            ? double.NegativeInfinity
            : Math.Min(MeltingPoints[index].Min(constant => constant.High), guess));
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
