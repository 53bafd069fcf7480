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

    /// <summary>
    /// The wire types with numbers in the shortest form that reads back the same: for records of the table, which are sent
    /// back as they were read.
    /// </summary>
    public static WireContext Exact { get; } = new(InWords(new JsonSerializerOptions()));

    /// <summary>The same for what has defaults of its own: the table's records by themselves, a rubric; read-only.</summary>
    /// <remarks>
    /// What is prepared at compile time gives a property left out the default of its type, not the record's own. The archive
    /// writes records alike by a setting of its own, as it knows no wire; a test holds the two to each other.
    /// </remarks>
    public static JsonSerializerOptions WithDefaults { get; } = ReadOnly(new JsonSerializerOptions(), new DefaultJsonTypeInfoResolver());

    /// <summary>The same as <see cref="Exact"/> for any type; read-only.</summary>
    public static JsonSerializerOptions Options { get; } = ReadOnly(new JsonSerializerOptions(), ForAny);

    /// <summary>The same as <see cref="Options"/>, for people to read; read-only.</summary>
    public static JsonSerializerOptions Indented { get; } = ReadOnly(new JsonSerializerOptions { WriteIndented = true }, ForAny);

    /// <summary>The same as <see cref="Options"/> for reading answers: one without a member that must be there, or with null in its place, is refused.</summary>
    public static JsonSerializerOptions Answers { get; } = ReadOnly(
        new JsonSerializerOptions { RespectNullableAnnotations = true }, ForAny.WithAddedModifier(Require));

    /// <summary>Gives other options the settings of the context.</summary>
    /// <param name="options">Options of the framework's.</param>
    public static JsonSerializerOptions Configured(JsonSerializerOptions options)
    {
        InWords(options).Converters.Add(new RoundedNumberConverter());
        return options;
    }

    /// <summary>A word of a vocabulary as it stands on the wire.</summary>
    /// <param name="word">The word.</param>
    public static string Word(Enum word)
    {
        ArgumentNullException.ThrowIfNull(word);
        return JsonNamingPolicy.CamelCase.ConvertName(word.ToString());
    }

    private static JsonSerializerOptions InWords(JsonSerializerOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        options.PropertyNamingPolicy = JsonNamingPolicy.CamelCase;
        options.DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull;
        options.NumberHandling = JsonNumberHandling.Strict;
        // Answers are JSON and said to be, never HTML, so nothing but JSON's own characters needs an escape.
        options.Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping;
        options.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false));
        return options;
    }

    // Numbers and flags have a default, so that an older service is still understood.
    private static void Require(JsonTypeInfo type)
    {
        foreach (var property in type.Properties)
        {
            property.IsRequired |= property.AssociatedParameter is { IsNullable: false, HasDefaultValue: false } && !property.PropertyType.IsValueType;
        }
    }

    private static IJsonTypeInfoResolver ForAny => JsonTypeInfoResolver.Combine(WireContext.Default, new DefaultJsonTypeInfoResolver());

    private static JsonSerializerOptions ReadOnly(JsonSerializerOptions options, IJsonTypeInfoResolver types)
    {
        InWords(options).TypeInfoResolver = types;
        options.MakeReadOnly();
        return options;
    }
}
