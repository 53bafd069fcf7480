using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using Derivid.Core.Curation;

namespace Derivid.Store.Curation;

/// <summary>How proposals keep records of the table: as JSON in a column.</summary>
/// <remarks>
/// camelCase names and words, nothing for what is missing, numbers in the shortest form that reads back the same. It is what
/// the wire writes too, and a test holds the two to each other; it is said here again since the archive knows no wire, and
/// proposals under way must be read by the next build whatever becomes of the wire.
/// </remarks>
public static class RecordText
{
    private static readonly JsonSerializerOptions Format = new()
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
