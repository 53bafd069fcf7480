using System.ComponentModel.DataAnnotations;
using System.Text.Json.Serialization;
using System.Text.Json;
using Derivid.Core.Melting;

namespace Derivid.Contracts;

/// <summary>
/// A temperature range, as text the way chemists write it ("125-127 °C", "237-238 dec.", "398 K", "257-261 °F") or as
/// figures.
/// </summary>
/// <param name="Text">As written. Missing: null, given as figures.</param>
/// <param name="Figures">In figures. Missing: null, given as text.</param>
[TextOr(typeof(RangeInFigures))]
[JsonConverter(typeof(RangeObservedConverter))]
public sealed record RangeObserved(string? Text, RangeInFigures? Figures)
{
    /// <summary>Takes a range as written.</summary>
    /// <param name="text">Such as "125-127 °C".</param>
    public static implicit operator RangeObserved(string text) => new(text, null);
}

/// <summary>A temperature range in figures.</summary>
public sealed record RangeInFigures
{
    /// <summary>First liquid seen; for a boiling range its lower end. Units: °C.</summary>
    [Range(MeltingRange.LowestCelsius, MeltingRange.HighestCelsius)]
    public required double OnsetCelsius { get; init; }

    /// <summary>Last crystal gone; for a boiling range its upper end. Units: °C.</summary>
    [Range(MeltingRange.LowestCelsius, MeltingRange.HighestCelsius)]
    public required double ClearPointCelsius { get; init; }

    /// <summary>Whether it darkened or gave off gas while melting. Missing: false.</summary>
    public bool? Decomposes { get; init; }
}

/// <summary>A temperature range.</summary>
/// <param name="OnsetCelsius">First liquid seen. Units: °C.</param>
/// <param name="ClearPointCelsius">Last crystal gone. Units: °C.</param>
/// <param name="Decomposes">Whether it darkened or gave off gas while melting.</param>
public sealed record RangeItem(double OnsetCelsius, double ClearPointCelsius, bool Decomposes);

/// <summary>Reads and writes a range as text or as an object.</summary>
public sealed class RangeObservedConverter : JsonConverter<RangeObserved>
{
    /// <inheritdoc/>
    public override RangeObserved Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.TokenType == JsonTokenType.String
            ? new RangeObserved(reader.GetString(), null)
            : new RangeObserved(null, JsonSerializer.Deserialize(ref reader, WireJson.Context.RangeInFigures));

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, RangeObserved value, JsonSerializerOptions options)
    {
        ArgumentNullException.ThrowIfNull(writer);
        ArgumentNullException.ThrowIfNull(value);
        if (value.Figures is { } figures)
        {
            JsonSerializer.Serialize(writer, figures, WireJson.Context.RangeInFigures);
        }
        else
        {
            writer.WriteStringValue(value.Text);
        }
    }
}

/// <summary>Marks a wire type that is written either as text or as an object.</summary>
/// <param name="objectType">The record the object must fit.</param>
[AttributeUsage(AttributeTargets.Class)]
public sealed class TextOrAttribute(Type objectType) : Attribute
{
    /// <summary>The record the object must fit.</summary>
    public Type ObjectType { get; } = objectType;
}
