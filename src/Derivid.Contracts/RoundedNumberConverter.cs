using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Derivid.Contracts;

/// <summary>Writes a number to nine significant digits.</summary>
/// <remarks>
/// The elementary functions differ between platforms in the last bits; nine digits hide that and keep answers equal to
/// the byte.
/// </remarks>
public sealed class RoundedNumberConverter : JsonConverter<double>
{
    private const int Digits = 9;

    /// <summary>Numbers below this are written with an exponent.</summary>
    private const double Least = 1e-4;

    /// <summary>A half this near may be the other one, since a product is out by a bit.</summary>
    private const double NearHalf = 1e-6;

    // Powers of ten are exact in a double up to 22.
    private static ReadOnlySpan<double> Powers => [1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12];

    /// <inheritdoc/>
    public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.GetDouble();

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options)
    {
        ArgumentNullException.ThrowIfNull(writer);
        Span<byte> text = stackalloc byte[24];
        if (TryFormat(value, text) is > 0 and var length)
        {
            writer.WriteRawValue(text[..length], skipInputValidation: true);
        }
        else
        {
            writer.WriteNumberValue(Rounded(value));
        }
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

    /// <summary>Writes the digits of an everyday number at a tenth of the cost of rounding it and writing what comes out.</summary>
    /// <returns>How many characters. Missing: 0, a number that wants care.</returns>
    private static int TryFormat(double value, Span<byte> text)
    {
        var size = Math.Abs(value);
        if (!(size >= Least && size < Powers[Digits]))
        {
            return 0;
        }

        var (whole, decimals) = (1, Digits - 1);
        while (whole < Digits && size >= Powers[whole])
        {
            (whole, decimals) = (whole + 1, decimals - 1);
        }

        while (size * Powers[decimals] < Powers[Digits - 1])
        {
            decimals++;
        }

        var scaled = size * Powers[decimals];
        var digits = (long)scaled;
        var rest = scaled - digits;
        if (Math.Abs(rest - 0.5) < NearHalf || Math.Abs(scaled - Powers[Digits - 1]) < NearHalf)
        {
            return 0;
        }

        digits += rest > 0.5 ? 1 : 0;
        while (decimals > 0 && digits % 10 == 0)
        {
            (digits, decimals) = (digits / 10, decimals - 1);
        }

        return Write(digits, decimals, value < 0, text);
    }

    private static int Write(long digits, int decimals, bool isNegative, Span<byte> text)
    {
        var at = text.Length;
        for (var place = 0; digits > 0 || place <= decimals; place++)
        {
            if (place == decimals && decimals > 0)
            {
                text[--at] = (byte)'.';
            }

            text[--at] = (byte)('0' + (digits % 10));
            digits /= 10;
        }

        if (isNegative)
        {
            text[--at] = (byte)'-';
        }

        var length = text.Length - at;
        text[at..].CopyTo(text);
        return length;
    }
}
