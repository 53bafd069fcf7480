using Derivid.Core.Melting;

namespace Derivid.Core.Tests.Melting;

public sealed class MeltingRangeTextTests
{
    [Theory]
    [InlineData("125-127", 125, 127)]
    [InlineData("125–127 °C", 125, 127)]
    [InlineData("125 — 127 ℃", 125, 127)]
    [InlineData("125\u2212127", 125, 127)]
    [InlineData("125--127", 125, 127)]
    [InlineData("125 to 127 C", 125, 127)]
    [InlineData("from 125 to 127", 125, 127)]
    [InlineData("between 125 and 127 °C", 125, 127)]
    [InlineData("125°–127°", 125, 127)]
    [InlineData("125 °C - 127 °C", 125, 127)]
    [InlineData("125ºC–127ºC", 125, 127)]
    [InlineData("125 oC-127 oC", 125, 127)]
    [InlineData("125-127 deg C", 125, 127)]
    [InlineData("125-127 degrees Celsius.", 125, 127)]
    [InlineData("125,5-127,0", 125.5, 127)]
    [InlineData("125.5-127.0", 125.5, 127)]
    [InlineData("126.5", 126.5, 126.5)]
    [InlineData("126.", 126, 126)]
    [InlineData("+126", 126, 126)]
    [InlineData("  126\u00A0°C\t", 126, 126)]
    [InlineData("Fp. 126", 126, 126)]
    [InlineData("mp 125-127", 125, 127)]
    [InlineData("m.p.125-127", 125, 127)]
    [InlineData("M.p.: 125-127 °C (sharp)", 125, 127)]
    [InlineData("m. p. 125-127", 125, 127)]
    [InlineData("melting point = 126", 126, 126)]
    [InlineData("melts at 126", 126, 126)]
    [InlineData("−5", -5, -5)]
    [InlineData("-12 - -10 °C", -12, -10)]
    [InlineData("-12--10", -12, -10)]
    [InlineData("−12–−10", -12, -10)]
    [InlineData("-12 to 10", -12, 10)]
    [InlineData("-12-10", -12, 10)]
    [InlineData("-0", 0, 0)]
    [InlineData("-200 - 450", -200, 450)]
    public void CelsiusIsRead(string text, double onset, double clearPoint)
    {
        Assert.Equal(new MeltingRange(onset, clearPoint), MeltingRangeText.Parse(text).Range);
    }

    [Theory]
    [InlineData("mp 398 K", 124.85, 124.85)]
    [InlineData("398-400 K", 124.85, 126.85)]
    [InlineData("398 K - 400 K", 124.85, 126.85)]
    [InlineData("398 K to 400", 124.85, 126.85)]
    [InlineData("398 \u212A", 124.85, 124.85)]
    [InlineData("273,15 K", 0, 0)]
    [InlineData("398 kelvin", 124.85, 124.85)]
    [InlineData("m.p. 257-261 °F", 125, 127.22222222222223)]
    [InlineData("257 ℉", 125, 125)]
    [InlineData("-40 F", -40, -40)]
    [InlineData("32 degF", 0, 0)]
    public void KelvinAndFahrenheitAreConvertedExactly(string text, double onset, double clearPoint)
    {
        // Expected values are the doubles nearest to K − 273.15 and (°F − 32) / 1.8, worked by hand; no tolerance.
        Assert.Equal(new MeltingRange(onset, clearPoint), MeltingRangeText.Parse(text).Range);
    }

    [Theory]
    [InlineData("125–127 °C dec.", 125, 127)]
    [InlineData("237-238 d.", 237, 238)]
    [InlineData("237-238d", 237, 238)]
    [InlineData("d. 271", 271, 271)]
    [InlineData("271 (decomp.)", 271, 271)]
    [InlineData("271 °C, with decomposition", 271, 271)]
    [InlineData("271 (Zers.)", 271, 271)]
    [InlineData("125 dec. - 127 dec.", 125, 127)]
    public void DecompositionIsRead(string text, double onset, double clearPoint)
    {
        Assert.Equal(new MeltingRange(onset, clearPoint, decomposes: true), MeltingRangeText.Parse(text).Range);
    }

    [Theory]
    [InlineData("237-8", 237, 238)]
    [InlineData("237–8 °C", 237, 238)]
    [InlineData("237-43", 237, 243)]
    [InlineData("237.5-8.5", 237.5, 238.5)]
    [InlineData("98-9", 98, 99)]
    [InlineData("125-25", 125, 125)]
    public void AbbreviatedUpperEndIsFilledUpAndNoted(string text, double onset, double clearPoint)
    {
        var parsed = MeltingRangeText.Parse(text);

        Assert.Equal(new MeltingRange(onset, clearPoint), parsed.Range);
        Assert.Contains("was read as", Assert.Single(parsed.Notes), StringComparison.Ordinal);
    }

    [Fact]
    public void NoteOnAnAbbreviatedEndSaysBothReadings()
    {
        Assert.Equal("“237-8” was read as 237-238.", Assert.Single(MeltingRangeText.Parse("237-8").Notes));
    }

    [Theory]
    [InlineData("ca. 126", "“ca.”")]
    [InlineData("c. 126", "“c.”")]
    [InlineData("~126", "“~”")]
    [InlineData("≈ 126 °C", "“≈”")]
    [InlineData("about 126", "“about”")]
    [InlineData("126 (uncorr.)", "“uncorr.”")]
    [InlineData("126 corr.", "“corr.”")]
    [InlineData("126 subl.", "“subl.”")]
    public void QualifierWithoutWeightIsNoted(string text, string quoted)
    {
        var parsed = MeltingRangeText.Parse(text);

        Assert.Equal(new MeltingRange(126, 126), parsed.Range);
        Assert.StartsWith(quoted, Assert.Single(parsed.Notes), StringComparison.Ordinal);
    }

    [Fact]
    public void PlainRangeHasNoNotes()
    {
        Assert.Empty(MeltingRangeText.Parse("mp 125-127 °C dec.").Notes);
    }

    [Theory]
    [InlineData(null, MeltingRangeFault.Empty, "empty")]
    [InlineData("", MeltingRangeFault.Empty, "empty")]
    [InlineData(" \t\r\n", MeltingRangeFault.Empty, "empty")]
    [InlineData("127-125", MeltingRangeFault.Reversed, "125 lies below 127")]
    [InlineData("110-95", MeltingRangeFault.Reversed, "reversed")]
    [InlineData("98-2", MeltingRangeFault.Reversed, "reversed")]
    [InlineData("10 - -12", MeltingRangeFault.Reversed, "-12 lies below 10")]
    [InlineData("125-127-129", MeltingRangeFault.TooManyNumbers, "3 figures")]
    [InlineData("125 127 129", MeltingRangeFault.TooManyNumbers, "3 figures")]
    [InlineData("125 127", MeltingRangeFault.Incomplete, "no dash between")]
    [InlineData("125.5.3", MeltingRangeFault.Incomplete, "no dash between")]
    [InlineData("125-", MeltingRangeFault.Incomplete, "no figure behind the dash")]
    [InlineData("125-127-", MeltingRangeFault.Incomplete, "last dash")]
    [InlineData("to 127", MeltingRangeFault.Incomplete, "lower end is missing")]
    [InlineData("F 126", MeltingRangeFault.Incomplete, "“F” stands before any figure")]
    [InlineData("°C 125", MeltingRangeFault.Incomplete, "before any figure")]
    [InlineData("-12 -10", MeltingRangeFault.Ambiguous, "“-12 to -10” or “-12 to 10”")]
    [InlineData("125 R", MeltingRangeFault.UnknownUnit, "“R” is not a unit")]
    [InlineData("125-127 mmHg", MeltingRangeFault.UnknownUnit, "“mmHg” is not a unit")]
    [InlineData("125 C - 400 K", MeltingRangeFault.UnknownUnit, "different units")]
    [InlineData("125e3", MeltingRangeFault.UnknownUnit, "“e” is not a unit")]
    [InlineData("banana", MeltingRangeFault.UnknownWord, "“banana”")]
    [InlineData("NaN", MeltingRangeFault.UnknownWord, "“NaN”")]
    [InlineData("Infinity", MeltingRangeFault.UnknownWord, "“Infinity”")]
    [InlineData("125 to lunch", MeltingRangeFault.UnknownWord, "“lunch”")]
    [InlineData("mp", MeltingRangeFault.NoNumber, "no figure")]
    [InlineData("- dec.", MeltingRangeFault.NoNumber, "no figure")]
    [InlineData("...", MeltingRangeFault.NoNumber, "no figure")]
    [InlineData("> 300", MeltingRangeFault.OpenEnded, "no melting was seen")]
    [InlineData("> 300 (dec)", MeltingRangeFault.OpenEnded, "no melting was seen")]
    [InlineData("above 300", MeltingRangeFault.OpenEnded, "“above”")]
    [InlineData("300+", MeltingRangeFault.OpenEnded, "“+”")]
    [InlineData("lit. 126", MeltingRangeFault.NotThisReading, "literature value")]
    [InlineData("125-127 (lit. 126)", MeltingRangeFault.NotThisReading, "literature value")]
    [InlineData("bp 56", MeltingRangeFault.NotThisReading, "boiling point")]
    [InlineData("500-501", MeltingRangeFault.OutOfBounds, "501 °C is out of bounds; allowed is -200 to 450 °C")]
    [InlineData("-250", MeltingRangeFault.OutOfBounds, "-250 °C is out of bounds")]
    [InlineData("-274", MeltingRangeFault.OutOfBounds, "-274 °C lies below absolute zero")]
    [InlineData("-1 K", MeltingRangeFault.OutOfBounds, "-1 K lies below absolute zero")]
    [InlineData("-460 °F", MeltingRangeFault.OutOfBounds, "-460 °F lies below absolute zero")]
    [InlineData("125,127", MeltingRangeFault.UnreadableNumber, "“125,127”")]
    [InlineData("1234567890123", MeltingRangeFault.UnreadableNumber, "too many digits")]
    [InlineData("126 ± 1", MeltingRangeFault.UnreadableCharacter, "“±” is not read")]
    [InlineData("125/127", MeltingRangeFault.UnreadableCharacter, "“/”")]
    [InlineData("१२५", MeltingRangeFault.UnreadableCharacter, "“१”")]
    [InlineData("126 \U0001F525", MeltingRangeFault.UnreadableCharacter, "“\U0001F525”")]
    [InlineData("126\0", MeltingRangeFault.UnreadableCharacter, "“U+0000”")]
    [InlineData("126\u202E", MeltingRangeFault.UnreadableCharacter, "“U+202E”")]
    public void NonsenseIsRefusedWithItsReason(string? text, MeltingRangeFault fault, string reason)
    {
        var parsed = MeltingRangeText.Parse(text);

        Assert.Null(parsed.Range);
        Assert.Equal(fault, parsed.Fault);
        Assert.Contains(reason, parsed.Problem, StringComparison.Ordinal);
        Assert.EndsWith(MeltingRangeText.Allowed, parsed.Problem, StringComparison.Ordinal);
    }

    [Fact]
    public void LoneSurrogateIsRefusedAndPrintedSafely()
    {
        // Built here, because a lone surrogate can't pass through a test's argument list.
        var parsed = MeltingRangeText.Parse("126" + (char)0xD83D);

        Assert.Equal(MeltingRangeFault.UnreadableCharacter, parsed.Fault);
        Assert.Contains("“U+FFFD”", parsed.Problem, StringComparison.Ordinal);
    }

    [Fact]
    public void LongestTextIsReadAndOneMoreIsRefused()
    {
        var longest = "126".PadRight(MeltingRangeText.LongestText);

        Assert.Equal(new MeltingRange(126, 126), MeltingRangeText.Parse(longest).Range);
        Assert.Equal(MeltingRangeFault.TooLong, MeltingRangeText.Parse(longest + " ").Fault);
    }

    [Fact]
    public void LongWordIsQuotedInPart()
    {
        Assert.Contains(
            "“aaaaaaaaaaaaaaaaaaaa…”", MeltingRangeText.Parse(new string('a', 90)).Problem, StringComparison.Ordinal);
    }

    [Fact]
    public void BoilingRangeTakesItsOwnLabelOnly()
    {
        Assert.Equal(new MeltingRange(55, 57), MeltingRangeText.Parse("b.p. 55-57 °C", boils: true).Range);
        Assert.Equal(new MeltingRange(55, 57), MeltingRangeText.Parse("55-57", boils: true).Range);
        Assert.Equal(MeltingRangeFault.NotThisReading, MeltingRangeText.Parse("m.p. 55-57", boils: true).Fault);
    }
}
