using System.Globalization;
using CsCheck;
using Derivid.Core.Melting;

namespace Derivid.Core.Tests.Melting;

public sealed class MeltingRangeTextProperties
{
    private static readonly Gen<string> Separators =
        Gen.OneOf(" - ", " to ", " – ", " — ", " \u2212 ", " and ");

    // Hundredths of a degree, so that what is written is what is meant.
    private static readonly Gen<(decimal Low, decimal High)> Hundredths =
        Gen.Select(Gen.Int[-20000, 45000], Gen.Int[-20000, 45000])
            .Select((a, b) => (Math.Min(a, b) / 100m, Math.Max(a, b) / 100m));

    [Fact]
    public void WrittenRangeIsReadBack()
    {
        Gen.Select(Hundredths, Separators, Gen.Bool, Gen.OneOf("", " C", " °C", "°", " ℃")).Sample(
            (ends, separator, decomposes, unit) =>
            {
                var text = $"{Write(ends.Low)}{separator}{Write(ends.High)}{unit}{(decomposes ? " dec." : "")}";
                Assert.Equal(new MeltingRange((double)ends.Low, (double)ends.High, decomposes), MeltingRangeText.Parse(text).Range);
            });
    }

    [Fact]
    public void DecimalCommaReadsAsThePoint()
    {
        Hundredths.Sample(ends =>
        {
            var text = $"{Write(ends.Low)} to {Write(ends.High)}";
            Assert.Equal(
                MeltingRangeText.Parse(text).Range,
                MeltingRangeText.Parse(text.Replace('.', ',')).Range);
        });
    }

    [Fact]
    public void KelvinReadsAsTheSameTemperature()
    {
        Hundredths.Sample(ends =>
        {
            var text = $"{Write(ends.Low + 273.15m)} - {Write(ends.High + 273.15m)} K";
            Assert.Equal(new MeltingRange((double)ends.Low, (double)ends.High), MeltingRangeText.Parse(text).Range);
        });
    }

    [Fact]
    public void FahrenheitReadsAsTheSameTemperature()
    {
        Hundredths.Sample(ends =>
        {
            var text = $"{Write(ends.Low * 1.8m + 32)} - {Write(ends.High * 1.8m + 32)} °F";
            Assert.Equal(new MeltingRange((double)ends.Low, (double)ends.High), MeltingRangeText.Parse(text).Range);
        });
    }

    [Fact]
    public void ReversedRangeIsRefusedAsReversed()
    {
        // Same number of digits on both sides, or the upper end could be an abbreviation.
        Gen.Select(Gen.Int[100, 450], Gen.Int[100, 450]).Where((a, b) => a > b).Sample((a, b) =>
            Assert.Equal(MeltingRangeFault.Reversed, MeltingRangeText.Parse($"{a}-{b}").Fault));
    }

    [Fact]
    public void AbbreviatedEndIsTheFullOne()
    {
        Gen.Select(Gen.Int[100, 440], Gen.Int[1, 9]).Where((low, span) => low / 10 == (low + span) / 10).Sample((low, span) =>
            Assert.Equal(
                MeltingRangeText.Parse($"{low}-{low + span}").Range,
                MeltingRangeText.Parse($"{low}-{(low + span) % 10}").Range));
    }

    [Fact]
    public void NoTextThrowsAndEveryRefusalHasAReason()
    {
        var fragments = Gen.OneOf(
            Gen.OneOf("125", "127,5", "-", "–", " ", "°C", "K", "F", "dec.", "ca.", "to", ">", "mp", "(", ")", ".", ",", "+", "º", "lit."),
            Gen.String[0, 6]).Array[0, 12].Select(parts => string.Concat(parts));

        Gen.OneOf(Gen.String[0, 120], fragments).Sample(
            text =>
            {
                var parsed = MeltingRangeText.Parse(text);
                Assert.Equal(parsed.Range is null, parsed.Problem is { Length: > 20 });
                Assert.Equal(parsed.Range is null, parsed.Fault != MeltingRangeFault.None);
            },
            iter: 200 * Check.Iter);
    }

    [Fact]
    public void ReadingIsDeterministic()
    {
        Gen.String[0, 60].Sample(text =>
        {
            var (first, second) = (MeltingRangeText.Parse(text), MeltingRangeText.Parse(text));
            Assert.Equal((first.Range, first.Problem), (second.Range, second.Problem));
        });
    }

    private static string Write(decimal value) => value.ToString("0.#####", CultureInfo.InvariantCulture);
}
