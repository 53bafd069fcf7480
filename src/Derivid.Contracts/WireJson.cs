using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;

namespace Derivid.Contracts;

/// <summary>How everything is written as JSON: camelCase, nothing for what is missing, readable °C, nine digits.</summary>
public static class WireJson
{
    /// <summary>The wire types, prepared at compile time.</summary>
    public static WireContext Context { get; } = new(Configured(new JsonSerializerOptions()));

    /// <summary>These settings for any type; read-only.</summary>
    public static JsonSerializerOptions Options { get; } = ReadOnly(new JsonSerializerOptions());

    /// <summary>The same, for people to read; read-only.</summary>
    public static JsonSerializerOptions Indented { get; } = ReadOnly(new JsonSerializerOptions { WriteIndented = true });

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

    /// <summary>A word of a vocabulary as it stands on the wire.</summary>
    /// <param name="word">The word.</param>
    public static string Word(Enum word)
    {
        ArgumentNullException.ThrowIfNull(word);
        return JsonNamingPolicy.CamelCase.ConvertName(word.ToString());
    }

    private static JsonSerializerOptions ReadOnly(JsonSerializerOptions options)
    {
        Configured(options).TypeInfoResolver =
            JsonTypeInfoResolver.Combine(WireContext.Default, new DefaultJsonTypeInfoResolver());
        options.MakeReadOnly();
        return options;
    }
}

/// <summary>Writes a number to nine significant digits.</summary>
/// <remarks>
/// The elementary functions differ between platforms in the last bits; nine digits hide that and keep answers equal to
/// the byte.
/// </remarks>
public sealed class RoundedNumberConverter : JsonConverter<double>
{
    /// <inheritdoc/>
    public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.GetDouble();

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options)
    {
        ArgumentNullException.ThrowIfNull(writer);
        writer.WriteNumberValue(Round(value));
    }

    private static double Round(double value)
    {
        Span<char> digits = stackalloc char[32];
        value.TryFormat(digits, out var length, "E8", CultureInfo.InvariantCulture);
        var rounded = double.Parse(digits[..length], NumberStyles.Float, CultureInfo.InvariantCulture);
        return rounded == 0 ? 0 : rounded;
    }
}
