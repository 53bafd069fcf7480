using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;

namespace Derivid.Core.Curation.Readings;

/// <summary>What a source prints for one derivative, as somebody typed it from the page.</summary>
/// <remarks>Thread safety: immutable.</remarks>
public sealed record PrintedValue
{
    /// <summary>
    /// Two figures are the same up to this. Units: °C, a difference. Chosen: half of the last digit that tables print.
    /// </summary>
    public const double SameWithinCelsius = 0.05;

    /// <summary>Longest text read. Units: characters.</summary>
    public const int LongestText = MeltingRangeText.LongestText;

    /// <summary>What is allowed, in a sentence, for messages and documentation.</summary>
    public const string Allowed =
        "Write the range as it is printed, such as “125-127” or “237-238 dec.”, a colour of the table behind it where one is "
        + "printed, or “-” where the source prints none.";

    // What a table prints, or a person writes, in a cell that holds no value.
    private static readonly string[] Nothing = ["-", "–", "—", "−", "none"];

    private PrintedValue(string? asPrinted, MeltingRange? range, string? colourKey) =>
        (AsPrinted, Range, ColourKey) = (asPrinted, range, colourKey);

    /// <summary>The range as printed. Missing: null, the source prints none.</summary>
    public string? AsPrinted { get; }

    /// <summary>The range. Units: °C. Missing: null, the source prints none.</summary>
    public MeltingRange? Range { get; }

    /// <summary>The colour printed with it, a key of the colour vocabulary. Missing: null, none is.</summary>
    public string? ColourKey { get; }

    /// <summary>A value kept before.</summary>
    /// <param name="asPrinted">The range, as <see cref="Read"/> took it. Missing: null, the source prints none.</param>
    /// <param name="colourKey">The colour. Missing: null.</param>
    public static PrintedValue Kept(string? asPrinted, string? colourKey) =>
        new(asPrinted, asPrinted is null ? null : RangeOf(asPrinted), colourKey);

    /// <summary>The range that a record keeps of what is printed: in another unit, to a tenth of a degree.</summary>
    /// <param name="asPrinted">The text.</param>
    /// <returns>Units: °C. Missing: null, the text is no range.</returns>
    public static MeltingRange? RangeOf(string asPrinted) => MeltingRangeText.Parse(asPrinted).Range is { } range ? ToKeep(range) : null;

    /// <summary>Reads what somebody typed: a range, a colour behind it if they like, or a dash for nothing.</summary>
    /// <param name="text">The text.</param>
    /// <param name="colours">The vocabulary of colours.</param>
    /// <returns>The value; or, in its place, what is wrong and what is allowed.</returns>
    public static (PrintedValue? Value, string? Problem) Read(string text, IReadOnlyList<Colour> colours)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(colours);
        var typed = text.Trim();
        if (Nothing.Contains(typed, StringComparer.OrdinalIgnoreCase))
        {
            return (new PrintedValue(null, null, null), null);
        }

        var (printed, colour) = Parted(typed, colours);
        var read = MeltingRangeText.Parse(printed);
        return read.Range is { } range ? (new PrintedValue(printed, ToKeep(range), colour?.Key), null) : (null, $"{read.Problem} {Allowed}");
    }

    /// <summary>Whether two people typed the same: both ends, decomposition, and the colour where both saw one.</summary>
    /// <param name="other">The other's.</param>
    public bool IsSame(PrintedValue other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return (Range, other.Range) switch
        {
            (null, null) => true,
            ({ } one, { } two) => AreSame(one, two) && (ColourKey is null || other.ColourKey is null || ColourKey == other.ColourKey),
            _ => false,
        };
    }

    /// <summary>Whether a record of the table says what is printed: both ends and decomposition.</summary>
    /// <param name="record">The record.</param>
    public bool IsSame(Derivative record)
    {
        ArgumentNullException.ThrowIfNull(record);
        return Range is { } range && AreSame(range, new MeltingRange(record.LowCelsius, record.HighCelsius, record.Decomposes));
    }

    private static MeltingRange ToKeep(MeltingRange read) => new(ToKeep(read.OnsetCelsius), ToKeep(read.ClearPointCelsius), read.Decomposes);

    // Tables print a tenth at most; more than two decimals come of converting a unit.
    private static double ToKeep(double celsius) => Math.Abs(celsius - Math.Round(celsius, 2)) < 1e-9 ? celsius : Math.Round(celsius, 1);

    private static bool AreSame(MeltingRange one, MeltingRange two) =>
        Math.Abs(one.OnsetCelsius - two.OnsetCelsius) <= SameWithinCelsius
        && Math.Abs(one.ClearPointCelsius - two.ClearPointCelsius) <= SameWithinCelsius
        && one.Decomposes == two.Decomposes;

    // The colour is the longest of its words that the text ends with; it needs something before it.
    private static (string Printed, Colour? Colour) Parted(string typed, IReadOnlyList<Colour> colours)
    {
        var open = typed.TrimEnd(' ', '.', ')');
        var named = colours.SelectMany(colour => colour.Synonyms.Concat([colour.Name, colour.Key]).Select(word => (Colour: colour, Word: word)))
            .Where(each => open.Length > each.Word.Length
                && open.EndsWith(each.Word, StringComparison.OrdinalIgnoreCase)
                && !char.IsLetter(open[^(each.Word.Length + 1)]))
            .OrderByDescending(each => each.Word.Length).ToList();
        return named.Count == 0 ? (typed, null) : (open[..^named[0].Word.Length].TrimEnd(' ', ',', ';', '('), named[0].Colour);
    }
}
