using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Derivid.Api.Http;

/// <summary>How everything is written as JSON: camelCase, nothing for what is missing, readable °C, nine digits.</summary>
public static class WireJson
{
    /// <summary>The wire types, prepared at compile time.</summary>
    public static WireContext Context { get; } = new(Configured(new JsonSerializerOptions()));

    /// <summary>Gives other options the same settings.</summary>
    /// <param name="options">Options of the framework's.</param>
    public static JsonSerializerOptions Configured(JsonSerializerOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        options.PropertyNamingPolicy = JsonNamingPolicy.CamelCase;
        options.DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull;
        options.NumberHandling = JsonNumberHandling.Strict;
        // Answers are JSON and said to be, never HTML, so nothing but JSON's own characters needs an escape.
        options.Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping;
        options.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false));
        options.Converters.Add(new RoundedNumberConverter());
        return options;
    }
}
