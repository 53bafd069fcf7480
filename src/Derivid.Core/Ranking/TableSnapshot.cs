using Derivid.Core.Compounds;
using Derivid.Core.Estimates;
using Derivid.Core.Ranking.Forecasts;
using Derivid.Core.Structures;

namespace Derivid.Core.Ranking;

/// <summary>One table version laid out for ranking: parents in key order, everything else indexed by parent.</summary>
/// <remarks>Built once a version and swapped whole; immutable and thread safe.</remarks>
public sealed class TableSnapshot
{
    /// <summary>A compound melting below this is a liquid on the bench. Units: °C.</summary>
    public const double RoomCelsius = TableEstimates.RoomCelsius;

    private readonly Dictionary<string, int> _parentIndex;
    private readonly Dictionary<string, KindSnapshot> _kinds;
    private readonly HashSet<string> _testsOfReagents;
    private readonly Lazy<TemperatureForecast> _boilingForecast;
    private readonly Lazy<TemperatureForecast> _meltingForecast;

    private TableSnapshot(ReferenceTable table, ModelSettings settings, TableEstimates estimates)
    {
        Table = table;
        Settings = settings;
        Estimates = estimates;
        Parents = [.. table.Parents.OrderBy(parent => parent.Key, StringComparer.Ordinal)];
        _parentIndex = Parents.Select((parent, i) => (parent.Key, i)).ToDictionary(StringComparer.Ordinal);
        CarbonylEnvironment[] around = [.. Parents.Select(EnvironmentOf)];
        Features = [.. around.Select(environment => environment.Features)];
        TertiaryKetones = [.. around.Select(environment => environment.HasTertiaryKetone)];
        LongChains = [.. Parents.Select(PrecipitateRates.IsLongChain)];
        Arrays = new ParentArrays(Parents.Count);
        Classes = ParentClasses.Alike(table, Parents, Features);
        Commonness = ParentValues.OfClasses(Classes, (_, parent) => settings.Commonness.Of(Parents[parent].Commonness));
        SpotTests = SpotTestTable.Build(table, this);
        _kinds = table.Kinds.ToDictionary(
            kind => kind.Key, kind => KindSnapshot.Build(kind, table, this), StringComparer.Ordinal);
        Kinds = [.. _kinds.Values.OrderBy(kind => kind.Kind.Key, StringComparer.Ordinal)];
        _testsOfReagents = [.. Kinds.Select(kind => kind.Precipitates.TestKey).OfType<string>()];
        // Boiling points under reduced pressure are kept for the reader but not compared.
        BoilingPoints = ConstantsOf(
            BoilingPointEstimates.IsNormalBoilingPoint, estimates.BoilingOf, settings.Boiling, settings.OpenSet.BoilingCelsius);
        MeltingPoints = ConstantsOf(
            constant => constant.Property == ParentProperty.MeltingPoint, estimates.MeltingOf, settings.ParentMelting, settings.OpenSet.ParentMeltingCelsius);
        Solids = new SolidShares(MeltingPoints, settings);
        _boilingForecast = new(() => TemperatureForecast.Build(BoilingPoints, settings));
        _meltingForecast = new(() => TemperatureForecast.Build(MeltingPoints, settings, RoomCelsius));
    }

    /// <summary>The table it was built from.</summary>
    public ReferenceTable Table { get; }

    /// <summary>The model's numbers.</summary>
    public ModelSettings Settings { get; }

    /// <summary>What the table foretells of temperatures it does not list.</summary>
    public TableEstimates Estimates { get; }

    /// <summary>The parents, in ordinal order of their keys; their places here are the indices used everywhere.</summary>
    public IReadOnlyList<Parent> Parents { get; }

    /// <summary>Structure features of each parent.</summary>
    public IReadOnlyList<StructureFeature> Features { get; }

    /// <summary>Whether each parent is a ketone such as pinacolone; see <see cref="CarbonylEnvironment.HasTertiaryKetone"/>.</summary>
    internal IReadOnlyList<bool> TertiaryKetones { get; }

    /// <summary>Whether each parent has a long open chain.</summary>
    internal IReadOnlyList<bool> LongChains { get; }

    /// <summary>Room for numbers by parent.</summary>
    internal ParentArrays Arrays { get; }

    /// <summary>Which parents are alike in all but figures.</summary>
    internal ParentClasses Classes { get; }

    /// <summary>What each parent weighs by how common it is.</summary>
    internal ParentValues Commonness { get; }

    /// <summary>The derivative kinds, in order of their keys.</summary>
    public IReadOnlyList<KindSnapshot> Kinds { get; }

    /// <summary>Listed boiling points.</summary>
    public ListedTemperatures BoilingPoints { get; }

    /// <summary>Listed melting points of the parents themselves.</summary>
    public ListedTemperatures MeltingPoints { get; }

    /// <summary>How likely each parent is met as a solid.</summary>
    public SolidShares Solids { get; }

    /// <summary>What a boiling point is expected to tell. Worked out when first asked for.</summary>
    public TemperatureForecast BoilingForecast => _boilingForecast.Value;

    /// <summary>What a melting point of the unknown is expected to tell. Worked out when first asked for.</summary>
    public TemperatureForecast MeltingForecast => _meltingForecast.Value;

    /// <summary>How each parent answers each spot test.</summary>
    public SpotTestTable SpotTests { get; }

    /// <summary>Lays out a table.</summary>
    /// <param name="table">A valid table.</param>
    /// <param name="settings">The model's numbers.</param>
    /// <param name="estimates">What <see cref="TableEstimates.Of"/> makes of the table. Missing: null, worked out.</param>
    /// <returns>The snapshot.</returns>
    /// <exception cref="ArgumentException">A row cites a parent, kind, test or structure that cannot be resolved.</exception>
    public static TableSnapshot Build(ReferenceTable table, ModelSettings settings, TableEstimates? estimates = null)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(settings);
        return new TableSnapshot(table, settings, estimates ?? TableEstimates.Of(table));
    }

    /// <summary>The index of a parent.</summary>
    /// <param name="key">Its key.</param>
    /// <param name="index">The index, if found.</param>
    /// <returns>Whether the table has it.</returns>
    public bool TryFindParent(string key, out int index) => _parentIndex.TryGetValue(key, out index);

    /// <summary>A derivative kind.</summary>
    /// <param name="key">Its key.</param>
    /// <returns>The kind.</returns>
    /// <exception cref="ArgumentException">The table has no such kind.</exception>
    public KindSnapshot Kind(string key) =>
        _kinds.TryGetValue(key, out var kind)
            ? kind
            : throw new ArgumentException($"The table has no derivative kind '{key}'.", nameof(key));

    /// <summary>Whether a spot test is the mixing with a derivative kind's own reagent.</summary>
    internal bool IsOfReagent(string testKey) => _testsOfReagents.Contains(testKey);

    /// <summary>Lays out values by parent, weighted by form first and by quality within a form.</summary>
    internal ListedTemperature[][] ByParent(IEnumerable<(string ParentKey, string Group, ListedTemperature Value)> rows,
        ScatterSettings scatter)
    {
        var byParent = new ListedTemperature[Parents.Count][];
        Array.Fill(byParent, []);
        foreach (var parentRows in rows.GroupBy(row => row.ParentKey, StringComparer.Ordinal))
        {
            if (!TryFindParent(parentRows.Key, out var parent))
            {
                throw new ArgumentException($"The table has no parent '{parentRows.Key}'.", nameof(rows));
            }

            byParent[parent] = Weighted([.. parentRows.Select(row => (row.Group, row.Value))], scatter);
        }

        return byParent;
    }

    private static ListedTemperature[] Weighted(
        List<(string Group, ListedTemperature Value)> rows, ScatterSettings scatter)
    {
        // Each form counts alike, since nobody knows which one a student makes; within a form the better known value
        // counts more, by the inverse of its variance.
        var groups = rows.GroupBy(row => row.Group, StringComparer.Ordinal).ToList();
        return [.. groups
            .SelectMany(group =>
            {
                var qualities = group.Select(row => Quality(row.Value, scatter)).ToList();
                var total = qualities.Sum() * groups.Count;
                return group.Select((row, i) => row.Value with { Weight = qualities[i] / total });
            })
            .OrderBy(value => value.HighCelsius)
            .ThenBy(value => value.LowCelsius)
            .ThenBy(value => value.SourceKey, StringComparer.Ordinal)];
    }

    private static double Quality(ListedTemperature value, ScatterSettings scatter)
    {
        var core = scatter.CoreCelsius(value.Verification, isHot: false, decomposes: false, scatter.ReadingCelsius);
        return 1 / (core * core);
    }

    private ListedTemperatures ConstantsOf(
        Func<ParentConstant, bool> isOne, Func<string, TemperatureEstimate?> estimate, ScatterSettings scatter, double relativeCelsius)
    {
        var rows = Table.Constants
            .Where(isOne)
            .Select(constant => (
                constant.ParentKey,
                "",
                new ListedTemperature(
                    constant.Low, constant.High, false, constant.Verification, null, constant.SourceKey, 1)));
        var everyone = new bool[Parents.Count];
        Array.Fill(everyone, true);
        return new ListedTemperatures(
            ByParent(rows, scatter), parent => estimate(Parents[parent].Key), everyone, scatter, 1, relativeCelsius, Settings.OpenSet.EvenShare);
    }

    private static CarbonylEnvironment EnvironmentOf(Parent parent)
    {
        var reading = SmilesReader.Read(parent.Smiles);
        return reading.Molecule is { } molecule
            ? CarbonylEnvironment.Of(molecule)
            : throw new ArgumentException($"The structure of '{parent.Key}' cannot be read: {reading.Error}");
    }
}
