using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>What differs between two states of the table, and how to get from one to the other.</summary>
/// <remarks>A table has one record of a kind for each key; the version's number is no part of its content.</remarks>
public static class TableDifferences
{
    /// <summary>Compares two tables.</summary>
    /// <param name="before">The one.</param>
    /// <param name="after">The other.</param>
    /// <returns>Shape: by kind, then key (ordinal); empty when the tables hold the same.</returns>
    public static IReadOnlyList<RecordChange> Between(ReferenceTable before, ReferenceTable after)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        return [.. after.Lists().SelectMany(list => Between(list.Kind, before.RowsOf(list.Kind), list.Rows))];
    }

    /// <summary>Makes the changes to a table; whatever has the key of a change gives way to it.</summary>
    /// <param name="table">The table.</param>
    /// <param name="changes">The changes. Shape: at most one a record.</param>
    /// <param name="version">Number of the table made.</param>
    /// <returns>The table, ordered in order (<see cref="ReferenceTable.Ordered"/>).</returns>
    public static ReferenceTable Apply(ReferenceTable table, IEnumerable<RecordChange> changes, int version)
    {
        ArgumentNullException.ThrowIfNull(table);
        var changed = table with { Version = version };
        foreach (var group in changes.GroupBy(change => change.Kind))
        {
            var kind = group.Key;
            var byKey = group.ToDictionary(change => change.Key, StringComparer.Ordinal);
            changed = changed.With(kind, changed.RowsOf(kind)
                .Where(row => !byKey.ContainsKey(kind.KeyOf(row)))
                .Concat(group.Select(change => change.After).OfType<object>()));
        }

        return changed.Ordered();
    }

    private static IEnumerable<RecordChange> Between(
        RecordKind kind, IReadOnlyList<object> before, IReadOnlyList<object> after)
    {
        var old = before.ToDictionary(kind.KeyOf, StringComparer.Ordinal);
        var kept = after.ToDictionary(kind.KeyOf, StringComparer.Ordinal);
        return old.Keys.Union(kept.Keys, StringComparer.Ordinal)
            .Select(key => new RecordChange(kind, key, old.GetValueOrDefault(key), kept.GetValueOrDefault(key)))
            .Where(change => change.Type != ChangeType.Changed || change.Fields.Count > 0)
            .OrderBy(change => change.Key, StringComparer.Ordinal);
    }
}
