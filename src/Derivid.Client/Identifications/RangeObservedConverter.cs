using System.Text.Json;
using System.Text.Json.Serialization;

namespace Derivid.Client.Identifications;

internal sealed class RangeObservedConverter : JsonConverter<RangeObserved>
{
    public override RangeObserved Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.TokenType == JsonTokenType.String
            ? new RangeObserved(reader.GetString(), null)
            : new RangeObserved(null, JsonSerializer.Deserialize<RangeInFigures>(ref reader, options));

    public override void Write(Utf8JsonWriter writer, RangeObserved value, JsonSerializerOptions options)
    {
        if (value.Figures is { } figures)
        {
            JsonSerializer.Serialize(writer, figures, options);
        }
        else
        {
            writer.WriteStringValue(value.Text);
        }
    }
}
