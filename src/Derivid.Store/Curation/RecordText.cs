using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using Derivid.Core.Curation;

namespace Derivid.Store.Curation;

/// <summary>How records of the table are written as JSON: in proposals, in exports, over the wire.</summary>
/// <remarks>
/// camelCase names and words, nothing for what is missing, numbers in the shortest form that reads back the same.
/// </remarks>
public static class RecordText
{
    /// <summary>The format.</summary>
    public static JsonSerializerOptions Format { get; } = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
    };

    /// <summary>Writes a record.</summary>
    /// <param name="record">The record. Missing: null, which is written "null".</param>
    public static string Write(object? record) => JsonSerializer.Serialize(record, record?.GetType() ?? typeof(object), Format);

    /// <summary>Reads what <see cref="Write"/> wrote.</summary>
    /// <param name="kind">The kind of record.</param>
    /// <param name="json">The text.</param>
    /// <returns>Missing: null, the text says so.</returns>
    public static object? Read(RecordKind kind, string json) =>
        JsonSerializer.Deserialize(json, kind.RecordType, Format);
}
