using System.ComponentModel.DataAnnotations;
using System.Text.Json.Serialization;
using System.Text.Json;
using Derivid.Core.Melting;

namespace Derivid.Contracts;

/// <summary>
/// A temperature range: text the way chemists write it ("125-127 °C", "237-238 dec.", "398 K", "257-261 °F"), or figures. It
/// is an object with text alone or with both figures; in a request the bare text may stand in its place. Answers have figures.
/// </summary>
/// <param name="Text">As written. Missing: null, given as figures.</param>
/// <param name="Figures">In figures. Missing: null, given as text.</param>
[TextOr(typeof(RangeMembers), "text", "onsetCelsius", "clearPointCelsius")]
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
    public required double OnsetCelsius { get; init; }

    /// <summary>Last crystal gone; for a boiling range its upper end. Units: °C.</summary>
    public required double ClearPointCelsius { get; init; }

    /// <summary>Whether it darkened or gave off gas while melting. Missing: false.</summary>
    public bool? Decomposes { get; init; }
}

/// <summary>A temperature range as an object.</summary>
public sealed record RangeMembers
{
    /// <summary>As written, such as "125-127 °C". Missing: null, in figures.</summary>
    public string? Text { get; init; }

    /// <summary>First liquid seen; for a boiling range its lower end. Units: °C. Missing: null, as text.</summary>
    [Range(MeltingRange.LowestCelsius, MeltingRange.HighestCelsius)]
    public double? OnsetCelsius { get; init; }

    /// <summary>Last crystal gone; for a boiling range its upper end. Units: °C. Missing: null, as text.</summary>
    [Range(MeltingRange.LowestCelsius, MeltingRange.HighestCelsius)]
    public double? ClearPointCelsius { get; init; }

    /// <summary>Whether it darkened or gave off gas while melting. Missing: no, or the text says.</summary>
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
            : Of(JsonSerializer.Deserialize(ref reader, WireJson.Context.RangeMembers));

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

    private static RangeObserved Of(RangeMembers? members) => members is { OnsetCelsius: { } onset, ClearPointCelsius: { } clear }
        ? new RangeObserved(null, new RangeInFigures { OnsetCelsius = onset, ClearPointCelsius = clear, Decomposes = members.Decomposes })
        : new RangeObserved(members?.Text, null);
}

/// <summary>Marks a wire type that is an object with a text alone or with other members, and for which the bare text may stand.</summary>
/// <param name="objectType">The record the object must fit.</param>
/// <param name="text">Its member that is the text.</param>
/// <param name="needed">Its members that must be there where the text is not.</param>
[AttributeUsage(AttributeTargets.Class)]
public sealed class TextOrAttribute(Type objectType, string text, params string[] needed) : Attribute
{
    /// <summary>The record the object must fit.</summary>
    public Type ObjectType { get; } = objectType;

    /// <summary>Its member that is the text.</summary>
    public string Text { get; } = text;

    /// <summary>Its members that must be there where the text is not.</summary>
    public IReadOnlyList<string> Needed { get; } = needed;
}
