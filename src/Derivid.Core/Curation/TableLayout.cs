using System.Collections.Frozen;

namespace Derivid.Core.Curation;

/// <summary>The kinds of record a table is made of, in the order in which one may be entered after another.</summary>
/// <remarks>Thread safety: immutable.</remarks>
public sealed class TableLayout
{
    private readonly FrozenDictionary<string, RecordKind> _byName;
    private readonly FrozenDictionary<RecordKind, int> _places;

    /// <summary>Takes the kinds.</summary>
    /// <param name="kinds">The kinds. Shape: no name of a list twice.</param>
    public TableLayout(IReadOnlyList<RecordKind> kinds)
    {
        ArgumentNullException.ThrowIfNull(kinds);
        Kinds = kinds;
        _byName = kinds.ToFrozenDictionary(kind => kind.TableName, StringComparer.Ordinal);
        _places = kinds.Index().ToFrozenDictionary(kind => kind.Item, kind => kind.Index);
    }

    /// <summary>The layout of the reference table.</summary>
    public static TableLayout Standard { get; } = new(RecordKinds.All);

    /// <summary>The kinds, in order.</summary>
    public IReadOnlyList<RecordKind> Kinds { get; }

    /// <summary>The kind of record a list of this name holds.</summary>
    /// <param name="tableName">Name of the list.</param>
    /// <returns>Missing: null, there is no such list.</returns>
    public RecordKind? Find(string tableName) => _byName.GetValueOrDefault(tableName);

    /// <summary>Where a kind stands in the order.</summary>
    /// <param name="kind">A kind of this layout.</param>
    public int PlaceOf(RecordKind kind) => _places[kind];
}
