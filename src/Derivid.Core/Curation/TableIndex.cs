using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>What the rules look up in a table: records by key, structures read once.</summary>
/// <remarks>Where a key stands twice the first record counts; the second is a finding of its own. Thread safety: none.</remarks>
public sealed class TableIndex
{
    private readonly Dictionary<RecordKind, OrderedDictionary<string, object>> _byKey = [];
    private readonly Dictionary<string, CarbonylEnvironment?> _environments = new(StringComparer.Ordinal);

    /// <summary>Takes a table, valid or not.</summary>
    /// <param name="table">The table.</param>
    public TableIndex(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        Table = table;
    }

    /// <summary>The table.</summary>
    public ReferenceTable Table { get; }

    /// <summary>The keys of a list. Shape: in the order of the list.</summary>
    /// <param name="kind">The list.</param>
    internal IReadOnlyCollection<string> KeysOf(RecordKind kind) => ByKey(kind).Keys;

    /// <summary>Looks a record up.</summary>
    /// <param name="kind">The list it is in.</param>
    /// <param name="key">Its key.</param>
    /// <returns>Missing: null, the list has none of that key.</returns>
    internal object? Find(RecordKind kind, string key) => ByKey(kind).GetValueOrDefault(key);

    /// <inheritdoc cref="Find(RecordKind, string)"/>
    internal T? Find<T>(RecordKind<T> kind, string key)
        where T : class => (T?)Find((RecordKind)kind, key);

    /// <summary>The carbonyl groups of a structure.</summary>
    /// <param name="smiles">The structure.</param>
    /// <returns>Missing: null, the text can't be read.</returns>
    internal CarbonylEnvironment? EnvironmentOf(string smiles)
    {
        if (!_environments.TryGetValue(smiles, out var environment))
        {
            environment = SmilesReader.Read(smiles).Molecule is { } molecule ? CarbonylEnvironment.Of(molecule) : null;
            _environments.Add(smiles, environment);
        }

        return environment;
    }

    private OrderedDictionary<string, object> ByKey(RecordKind kind)
    {
        if (!_byKey.TryGetValue(kind, out var rows))
        {
            rows = new(StringComparer.Ordinal);
            foreach (var row in Table.RowsOf(kind))
            {
                rows.TryAdd(kind.KeyOf(row), row);
            }

            _byKey.Add(kind, rows);
        }

        return rows;
    }
}
