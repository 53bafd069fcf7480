using System.Text.Json;
using System.Text.Json.Serialization;
using Derivid.Api.Http;

namespace Derivid.Api.Identifications;

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
