namespace Derivid.Core.Curation;

/// <summary>What happens to one record of the table.</summary>
/// <param name="Kind">The kind of record.</param>
/// <param name="Key">What names it; see <see cref="RecordKind.KeyOf"/>.</param>
/// <param name="Before">The record as it is. Missing: null, there is none of this key.</param>
/// <param name="After">The record as it is to be. Missing: null, it is removed.</param>
public sealed record RecordChange(RecordKind Kind, string Key, object? Before, object? After)
{
    /// <summary>Added, changed or removed.</summary>
    public ChangeType Type => Before is null ? ChangeType.Added : After is null ? ChangeType.Removed : ChangeType.Changed;

    /// <summary>Names of the fields that differ. Shape: empty where the record is added or removed.</summary>
    public IReadOnlyList<string> Fields =>
        Before is null || After is null ? [] : Kind.ChangedFields(Before, After);
}

/// <summary>What a change does to a record.</summary>
public enum ChangeType
{
    /// <summary>There was none of this key.</summary>
    Added,

    /// <summary>Some of its fields are altered.</summary>
    Changed,

    /// <summary>It is left out.</summary>
    Removed,
}
