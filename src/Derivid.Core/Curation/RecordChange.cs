namespace Derivid.Core.Curation;

/// <summary>What happens to one record of the table.</summary>
/// <param name="Kind">The kind of record.</param>
/// <param name="Key">What names it; see <see cref="RecordTypes"/>.</param>
/// <param name="Before">The record as it is. Missing: null, there is none of this key.</param>
/// <param name="After">The record as it is to be. Missing: null, it is removed.</param>
public sealed record RecordChange(RecordKind Kind, string Key, object? Before, object? After)
{
    /// <summary>Added, changed or removed.</summary>
    public ChangeType Type => Before is null ? ChangeType.Added : After is null ? ChangeType.Removed : ChangeType.Changed;

    /// <summary>Names of the fields that differ. Shape: empty where the record is added or removed.</summary>
    public IReadOnlyList<string> Fields =>
        Before is null || After is null ? [] : RecordTypes.Of(Kind).ChangedFields(Before, After);
}
