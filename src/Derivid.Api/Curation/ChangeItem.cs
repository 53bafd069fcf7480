using System.Text.Json;
using Derivid.Core.Curation;
using Derivid.Store.Curation;

namespace Derivid.Api.Curation;

/// <summary>What differs in one record.</summary>
/// <param name="Table">The list it stands in, such as "derivatives".</param>
/// <param name="Key">What names the record.</param>
/// <param name="Type">Added, changed or removed.</param>
/// <param name="Fields">Names of the fields that differ. Empty where the record is added or removed.</param>
/// <param name="Before">The record as it is. Missing: it is added.</param>
/// <param name="After">The record as it is to be. Missing: it is removed.</param>
public sealed record ChangeItem(
    string Table, string Key, ChangeType Type, IReadOnlyList<string> Fields, JsonElement? Before, JsonElement? After)
{
    /// <summary>Translates.</summary>
    /// <param name="change">The change.</param>
    public static ChangeItem Of(RecordChange change)
    {
        ArgumentNullException.ThrowIfNull(change);
        return new ChangeItem(
            change.Kind.TableName,
            change.Key,
            change.Type,
            [.. change.Fields.Select(JsonNamingPolicy.CamelCase.ConvertName)],
            Json(change.Before),
            Json(change.After));
    }

    private static JsonElement? Json(object? record) =>
        record is null ? null : JsonSerializer.SerializeToElement(record, record.GetType(), RecordText.Format);
}
