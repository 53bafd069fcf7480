using System.Text.Json;
using Derivid.Core.Curation;

namespace Derivid.Contracts;

/// <summary>Records of the table in words, for whoever reads what differs between two of them.</summary>
public static class RecordWords
{
    /// <summary>What a member of a record is called by whoever looks it up or types it, such as "melts to, °C".</summary>
    /// <param name="list">The list the record is of, such as "derivatives".</param>
    /// <param name="member">The member, as on the wire or as a heading of a file.</param>
    public static string Label(string list, string member) =>
        RecordKinds.All.FirstOrDefault(kind => kind.TableName == list)?.Columns
            .FirstOrDefault(column => member == column.Name || member == Member(column))?.Label
        ?? JsonNamingPolicy.KebabCaseLower.ConvertName(member).Replace('-', ' ');

    /// <summary>The member of a record on the wire that a column is.</summary>
    /// <param name="column">The column.</param>
    public static string Member(RecordColumn column)
    {
        ArgumentNullException.ThrowIfNull(column);
        return JsonNamingPolicy.CamelCase.ConvertName(column.Field);
    }

    /// <summary>What a member of a record holds, for reading.</summary>
    /// <param name="record">The record. Missing: null, there is none.</param>
    /// <param name="member">The member.</param>
    /// <returns>Missing: empty, it holds nothing.</returns>
    public static string Cell(JsonElement? record, string member) =>
        record is { ValueKind: JsonValueKind.Object } json && json.TryGetProperty(member, out var value) ? Text(value, ", ") : "";

    /// <summary>A value of a record.</summary>
    /// <param name="value">The value.</param>
    /// <param name="separator">What parts the entries of a list.</param>
    public static string Text(JsonElement value, string separator) => value.ValueKind switch
    {
        JsonValueKind.Null or JsonValueKind.Undefined => "",
        JsonValueKind.String => value.GetString()!,
        JsonValueKind.Array => string.Join(separator, value.EnumerateArray().Select(entry => Text(entry, separator))),
        JsonValueKind.True => "true",
        JsonValueKind.False => "false",
        _ => value.GetRawText(),
    };
}
