namespace Derivid.Core.Melting;

/// <summary>Reads melting ranges as chemists write them: "125-127", "mp 398 K", "237-8 °C dec.", "ca. 126".</summary>
/// <remarks>
/// Units: °C, K or °F, for both ends, behind either or both; none means °C. Kelvin and Fahrenheit are converted in
/// decimal arithmetic (K − 273.15; (°F − 32) / 1.8) and rounded once, to the nearest double. Bounds: those of
/// <see cref="MeltingRange"/>. Decimals take a point or a comma. An abbreviated upper end ("237-8") is filled up from
/// the lower one and noted. "> 300" is refused with or without "dec.": no melting was seen, and a range made up from
/// it would be false evidence. Marks of a literature value are refused: what is asked for is the reading.
/// </remarks>
public static class MeltingRangeText
{
    /// <summary>Longest text read. Units: characters.</summary>
    public const int LongestText = 100;

    /// <summary>What is allowed, in a sentence, for messages and documentation.</summary>
    public const string Allowed =
        "Write one figure, or two with a dash between them, as in “125-127”, “237-238 °C dec.” or “398 K”; "
        + "units are °C (when none is given), K and °F.";

    /// <summary>Reads one range. Never throws, whatever the text; time is linear in its length.</summary>
    /// <param name="text">The text.</param>
    /// <param name="boils">Whether a boiling range is asked for, so that "b.p." is its label and "m.p." is not.</param>
    /// <returns>The range in °C with notes, or the fault with a sentence saying what was wrong and what is allowed.</returns>
    public static ParsedMeltingRange Parse(string? text, bool boils = false)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return Refused(MeltingRangeFault.Empty, "The range is empty.");
        }

        if (text.Length > LongestText)
        {
            return Refused(
                MeltingRangeFault.TooLong,
                FormattableString.Invariant($"The text is {text.Length} characters long; at most {LongestText} are read."));
        }

        var scanner = new MeltingRangeScanner(text);
        var tokens = scanner.Scan();
        if (scanner.Fault is { } unreadable)
        {
            return Refused(unreadable.Fault, unreadable.Sentence);
        }

        var parser = new MeltingRangeParser(tokens, boils);
        return parser.Parse() is { } range
            ? ParsedMeltingRange.Of(range, parser.Notes)
            : Refused(parser.Fault, parser.Sentence);
    }

    private static ParsedMeltingRange Refused(MeltingRangeFault fault, string sentence) =>
        ParsedMeltingRange.Refused(fault, $"{sentence} {Allowed}");
}

/// <summary>What became of a text read as a melting range: the range, or the reason there is none.</summary>
/// <remarks>Thread safety: immutable.</remarks>
public sealed record ParsedMeltingRange
{
    private ParsedMeltingRange()
    {
    }

    /// <summary>The range. Units: °C. Missing: null when the text was refused.</summary>
    public MeltingRange? Range { get; private init; }

    /// <summary>What was made of the text beyond its plain words. Shape: sentences in order of reading; may be empty.</summary>
    public IReadOnlyList<string> Notes { get; private init; } = [];

    /// <summary>Why it was refused; <see cref="MeltingRangeFault.None"/> when it was not.</summary>
    public MeltingRangeFault Fault { get; private init; }

    /// <summary>What was wrong and what is allowed, in a sentence or two. Missing: null when it was not refused.</summary>
    public string? Problem { get; private init; }

    internal static ParsedMeltingRange Of(MeltingRange range, IReadOnlyList<string> notes) =>
        new() { Range = range, Notes = notes };

    internal static ParsedMeltingRange Refused(MeltingRangeFault fault, string problem) =>
        new() { Fault = fault, Problem = problem };
}

/// <summary>Why a text was refused as a melting range.</summary>
public enum MeltingRangeFault
{
    /// <summary>Nothing is wrong.</summary>
    None,

    /// <summary>Null, empty or white space.</summary>
    Empty,

    /// <summary>Longer than <see cref="MeltingRangeText.LongestText"/>.</summary>
    TooLong,

    /// <summary>A character that has no place in a melting range.</summary>
    UnreadableCharacter,

    /// <summary>A figure of too many digits, or one whose comma may be a decimal or a separator.</summary>
    UnreadableNumber,

    /// <summary>A word that is neither a unit nor one of the usual qualifiers.</summary>
    UnknownWord,

    /// <summary>A figure followed by a unit that is none of °C, K and °F, or two ends in different units.</summary>
    UnknownUnit,

    /// <summary>No figure at all.</summary>
    NoNumber,

    /// <summary>A dash with no figure behind it, or two figures with no dash between them.</summary>
    Incomplete,

    /// <summary>More than two figures.</summary>
    TooManyNumbers,

    /// <summary>May be read in two ways.</summary>
    Ambiguous,

    /// <summary>"Over 300" or "below 50": no melting was seen, so there is no range.</summary>
    OpenEnded,

    /// <summary>Marked as a literature value, or as a boiling point where a melting range is asked for.</summary>
    NotThisReading,

    /// <summary>The upper end lies below the lower.</summary>
    Reversed,

    /// <summary>Below absolute zero, or outside what <see cref="MeltingRange"/> accepts.</summary>
    OutOfBounds,
}
