using Derivid.Core.Colours;
using Derivid.Core.Curation.Readings;

namespace Derivid.Core.Tests.Curation.Readings;

/// <summary>What somebody types from a page: a range, a colour, or a dash.</summary>
public sealed class PrintedValueTests
{
    private static readonly Colour[] Colours =
    [
        new("red", "red", 2, ["bright red"]), new("orange-red", "orange-red", 1, ["scarlet"]), new("yellow", "yellow", 0, []),
    ];

    [Theory]
    [InlineData("125-127", "125-127", 125, 127, false, null)]
    [InlineData(" 237-8 d. ", "237-8 d.", 237, 238, true, null)]
    [InlineData("237-238 dec. orange-red", "237-238 dec.", 237, 238, true, "orange-red")]
    [InlineData("126, Bright Red", "126", 126, 126, false, "red")]
    [InlineData("126 (yellow)", "126", 126, 126, false, "yellow")]
    [InlineData("126 scarlet.", "126", 126, 126, false, "orange-red")]
    [InlineData("126,5 yellow", "126,5", 126.5, 126.5, false, "yellow")]
    [InlineData("126.25", "126.25", 126.25, 126.25, false, null)]
    [InlineData("340-342 F yellow", "340-342 F", 171.1, 172.2, false, "yellow")]
    public void RangeAndColourAreReadFromOneLine(string text, string printed, double low, double high, bool decomposes, string? colour)
    {
        var (value, problem) = PrintedValue.Read(text, Colours);

        Assert.Null(problem);
        Assert.Equal(printed, value!.AsPrinted);
        Assert.Equal((low, high, decomposes), (value.Range!.Value.OnsetCelsius, value.Range.Value.ClearPointCelsius, value.Range.Value.Decomposes));
        Assert.Equal(colour, value.ColourKey);
    }

    [Theory]
    [InlineData("-")]
    [InlineData(" — ")]
    [InlineData("–")]
    [InlineData("None")]
    public void DashSaysThatNothingIsPrinted(string text)
    {
        var (value, _) = PrintedValue.Read(text, Colours);

        Assert.Equal((null, null, null), (value!.AsPrinted, value.Range, value.ColourKey));
    }

    [Theory]
    [InlineData("")]
    [InlineData("yellow")]
    [InlineData("126 mauve")]
    [InlineData("126infrared")]
    [InlineData("127-125")]
    public void WhatIsNoRangeIsRefusedWithWhatIsAllowed(string text)
    {
        var (value, problem) = PrintedValue.Read(text, Colours);

        Assert.Null(value);
        Assert.EndsWith(PrintedValue.Allowed, problem, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("125-127", "125-127", true)]
    [InlineData("125-127", "125.05-126.95", true)]
    [InlineData("125-127", "125.06-127", false)]
    [InlineData("125-127", "125-127.06", false)]
    [InlineData("125-127", "125-127 dec.", false)]
    [InlineData("125-127 yellow", "125-127", true)]
    [InlineData("125-127 yellow", "125-127 red", false)]
    [InlineData("-", "none", true)]
    [InlineData("-", "125", false)]
    public void TwoPeopleTypedTheSameWhenEndsDecompositionAndColourAgree(string one, string other, bool same)
    {
        var (first, second) = (PrintedValue.Read(one, Colours).Value!, PrintedValue.Read(other, Colours).Value!);

        Assert.Equal(same, first.IsSame(second));
        Assert.Equal(same, second.IsSame(first));
        Assert.True(PrintedValue.Kept(first.AsPrinted, first.ColourKey) == first);
    }
}
