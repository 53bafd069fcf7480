using Derivid.Core.Melting;

namespace Derivid.Core.Tests.Melting;

/// <summary>Where one reading of a text ends and the next begins.</summary>
public sealed class MeltingRangeEdgeTests
{
    [Theory]
    [InlineData("-200", -200, -200)]
    [InlineData("450", 450, 450)]
    [InlineData("-200 to 450", -200, 450)]
    [InlineData("235-55", 235, 255)]
    [InlineData("125 -127", 125, 127)]
    [InlineData("125.00000000", 125, 125)]
    [InlineData("125 to ca. 127", 125, 127)]
    [InlineData("between 125 and ca. 127", 125, 127)]
    public void LastTextThatIsReadIsReadWhole(string text, double onset, double clearPoint)
    {
        var range = MeltingRangeText.Parse(text).Range;

        Assert.Equal((onset, clearPoint), (range?.OnsetCelsius, range?.ClearPointCelsius));
    }

    [Theory]
    [InlineData("235-56", MeltingRangeFault.Reversed)]
    [InlineData("125 to +8", MeltingRangeFault.Reversed)]
    [InlineData("-250 to 100", MeltingRangeFault.OutOfBounds)]
    [InlineData("-200 to 500", MeltingRangeFault.OutOfBounds)]
    [InlineData("-200.1", MeltingRangeFault.OutOfBounds)]
    [InlineData("450.1", MeltingRangeFault.OutOfBounds)]
    [InlineData("K 398", MeltingRangeFault.Incomplete)]
    [InlineData("F 257", MeltingRangeFault.Incomplete)]
    [InlineData("° 125", MeltingRangeFault.Incomplete)]
    [InlineData("-12;-10", MeltingRangeFault.Ambiguous)]
    [InlineData("1234567890123", MeltingRangeFault.UnreadableNumber)]
    public void FirstTextThatIsNotReadIsRefusedWithItsReason(string text, MeltingRangeFault fault) =>
        Assert.Equal(fault, MeltingRangeText.Parse(text).Fault);

    [Theory]
    [InlineData("0 K", "-273.15 °C is out of bounds")]
    [InlineData("-1 K", "-1 K lies below absolute zero")]
    public void AbsoluteZeroItselfIsOnlyOutOfBounds(string text, string problem) =>
        Assert.Contains(problem, MeltingRangeText.Parse(text).Problem, StringComparison.Ordinal);

    [Fact]
    public void CircaBeforeTheUpperFigureIsNoted() =>
        Assert.Contains(MeltingRangeText.Parse("125 to ca. 127").Notes, note => note.StartsWith("“ca.”", StringComparison.Ordinal));

    [Theory]
    [InlineData("abcdefghijklmnopqrst", "“abcdefghijklmnopqrst”")]
    [InlineData("abcdefghijklmnopqrstu", "“abcdefghijklmnopqrst…”")]
    public void WordIsQuotedUpToTwentyLetters(string text, string quoted) =>
        Assert.Contains(quoted, MeltingRangeText.Parse(text).Problem, StringComparison.Ordinal);

    [Fact]
    public void MinusNoughtIsNought() =>
        Assert.False(double.IsNegative(MeltingRangeText.Parse("-0").Range!.Value.OnsetCelsius));

    [Fact]
    public void LowestTemperatureMayBeBothEnds() => Assert.Equal(-200, new MeltingRange(-200, -200, false).ClearPointCelsius);
}
