using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Derivid.Api.Http;

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
        writer.WriteNumberValue(Rounded(value));
    }

    /// <summary>A number as it is written.</summary>
    /// <param name="value">The number.</param>
    public static double Rounded(double value)
    {
        Span<char> digits = stackalloc char[32];
        value.TryFormat(digits, out var length, "E8", CultureInfo.InvariantCulture);
        var rounded = double.Parse(digits[..length], NumberStyles.Float, CultureInfo.InvariantCulture);
        return rounded == 0 ? 0 : rounded;
    }
}
