using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Derivid.Client.Http;

/// <summary>How the service writes JSON: camelCase, nothing for what is missing, readable °C.</summary>
public static class WireJson
{
    /// <summary>These settings; read-only.</summary>
    public static JsonSerializerOptions Options { get; } = Made(isIndented: false);

    /// <summary>The same, for people to read; read-only.</summary>
    public static JsonSerializerOptions Indented { get; } = Made(isIndented: true);

    private static JsonSerializerOptions Made(bool isIndented)
    {
        var options = new JsonSerializerOptions
        {
            PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
            DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
            Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
            WriteIndented = isIndented,
        };
        options.MakeReadOnly(populateMissingResolver: true);
        return options;
    }
}
