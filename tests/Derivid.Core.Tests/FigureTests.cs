namespace Derivid.Core.Tests;

public sealed class FigureTests
{
    [Theory]
    [InlineData("5.5", 5.5)]
    [InlineData(" -5,5 ", -5.5)]
    [InlineData("−5,5", -5.5)]
    [InlineData("\u2013 12", -12.0)]
    [InlineData("1e3", 1000.0)]
    [InlineData("1.234,5", null)]
    [InlineData("1,234,567", null)]
    [InlineData("1e999", null)]
    [InlineData("warm", null)]
    [InlineData("", null)]
    public void NumberIsReadAsPeopleTypeIt(string text, double? number) => Assert.Equal(number, Figure.Read(text));

    [Theory]
    [InlineData(126, 1, "126")]
    [InlineData(126.04, 1, "126")]
    [InlineData(126.05, 1, "126.1")]
    [InlineData(-57.15, 1, "−57.2")]
    [InlineData(-0.04, 1, "0")]
    [InlineData(2.675, 2, "2.68")]
    [InlineData(99.5, 0, "100")]
    public void FigureHasNoMoreDigitsThanAsked(double value, int decimals, string text) =>
        Assert.Equal(text, Figure.Text(value, decimals));

    [Theory]
    [InlineData(1.25, "+1.3")]
    [InlineData(-1.25, "−1.3")]
    [InlineData(0.01, "0")]
    [InlineData(-0.01, "0")]
    public void SignIsForWhatIsNotNothing(double value, string text) => Assert.Equal(text, Figure.WithSign(value, decimals: 1));

    [Theory]
    [InlineData(187, 190, false, "187–190 °C")]
    [InlineData(126, 126, false, "126 °C")]
    [InlineData(126.01, 126.02, false, "126 °C")]
    [InlineData(237, 238, true, "237–238 °C dec.")]
    [InlineData(-57.1, -56.2, false, "−57.1 to −56.2 °C")]
    [InlineData(-1, 0, false, "−1 to 0 °C")]
    [InlineData(-95, -95, false, "−95 °C")]
    public void RangeIsWrittenAsAtTheBench(double low, double high, bool decomposes, string text) =>
        Assert.Equal(text, Figure.Range(low, high, decomposes));

    [Theory]
    [InlineData(0, "under 0.1 %")]
    [InlineData(0.0009, "under 0.1 %")]
    [InlineData(0.012, "1.2 %")]
    [InlineData(0.0994, "9.9 %")]
    [InlineData(0.0995, "10 %")]
    [InlineData(0.42, "42 %")]
    [InlineData(0.994, "99 %")]
    [InlineData(0.9951, "99.5 %")]
    [InlineData(0.9989, "99.9 %")]
    [InlineData(1, "over 99.9 %")]
    public void ProbabilityIsNeverACertainty(double probability, string text) => Assert.Equal(text, Figure.Percent(probability));

    [Theory]
    [InlineData(0, "0 rows")]
    [InlineData(1, "1 row")]
    [InlineData(50_000, "50,000 rows")]
    public void WordFitsItsNumber(int count, string text) => Assert.Equal(text, Figure.Count(count, "row"));

    [Fact]
    public void WordOfManyMayBeAnother() => Assert.Equal("2 differ", Figure.Count(2, "differs", "differ"));

    // Three digits that count: what a balance or a measuring cylinder shows.
    [Theory]
    [InlineData(0.0123, "0.012 mg")]
    [InlineData(1.234, "1.23 mg")]
    [InlineData(12.34, "12.3 mg")]
    [InlineData(123.4, "123 mg")]
    [InlineData(999.4, "999 mg")]
    [InlineData(1234, "1.23 g")]
    [InlineData(123_400, "123 g")]
    public void MassesAreWrittenAsOneWeighs(double milligrams, string expected) => Assert.Equal(expected, Figure.Mass(milligrams));

    [Fact]
    public void MeasuredSpansHaveTheDigitsOfTheirUpperEnd()
    {
        Assert.Equal("9–123", Figure.Measured(9.3, 123.4));
        Assert.Equal("1.22", Figure.Measured(1.221, 1.222));
    }
}
