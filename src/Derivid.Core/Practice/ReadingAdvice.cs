using System.Globalization;
using Derivid.Core.Compounds;

namespace Derivid.Core.Practice;

/// <summary>What a piece of advice on reading a melting range is about, in the order of the work.</summary>
public enum ReadingTopic
{
    /// <summary>How the tube is filled.</summary>
    Filling,

    /// <summary>What is seen, and what of it counts.</summary>
    Watching,

    /// <summary>Which figure is compared with tables.</summary>
    Comparing,

    /// <summary>What decomposes.</summary>
    Decomposing,

    /// <summary>What melts where bath, tube or thermometer do not reach easily.</summary>
    Reaching,

    /// <summary>Where a depression tells nothing of the purity.</summary>
    Purity,
}

/// <summary>When a piece of advice matters.</summary>
public enum ReadingCase
{
    /// <summary>Always.</summary>
    Any,

    /// <summary>It melts with decomposition.</summary>
    Decomposes,

    /// <summary>It sublimes.</summary>
    Sublimes,

    /// <summary>It may not have melted where bath or thermometer end.</summary>
    OutOfReach,

    /// <summary>It melts above what the usual liquids of a bath stand.</summary>
    Hot,

    /// <summary>The heating has to begin below room temperature.</summary>
    Low,

    /// <summary>It is a liquid at room temperature.</summary>
    Liquid,

    /// <summary>Nothing says where it melts.</summary>
    Unknown,

    /// <summary>A range was read.</summary>
    Read,
}

/// <summary>One piece of advice on reading a melting range.</summary>
/// <remarks>From <c>seed-tables/reading-advice.csv</c>, whose README describes the columns. Thread safety: immutable.</remarks>
/// <param name="Topic">What it is about.</param>
/// <param name="Order">Place among those on its topic, from 1.</param>
/// <param name="When">When it matters.</param>
/// <param name="Text">What to do, or what is seen.</param>
/// <param name="Why">Why. Missing: null.</param>
/// <param name="SourceKey">Where it is from.</param>
/// <param name="Locator">Page or section in the source. Missing: null.</param>
/// <param name="Verification">How far it was followed back. Missing: null, there is nothing to read.</param>
public sealed record ReadingAdvice(
    ReadingTopic Topic, int Order, ReadingCase When, string Text, string? Why, string SourceKey, string? Locator, Verification? Verification)
{
    private const string Header = "topic,order,when,text,why,source_key,locator,verification";

    /// <summary>All of them. Shape: by topic as the work goes, then order.</summary>
    public static IReadOnlyList<ReadingAdvice> All { get; } = [.. EmbeddedTable.Rows("reading-advice.csv", Header).Select(Read)];

    /// <summary>The advice with its reason.</summary>
    public string InWords() => Why is { } why ? $"{Text} {why}" : Text;

    /// <summary>What pieces of advice are about, as a heading.</summary>
    /// <param name="topic">The topic.</param>
    public static string Heading(ReadingTopic topic) => topic switch
    {
        ReadingTopic.Filling => "Fill the tube",
        ReadingTopic.Watching => "What is seen, and what counts",
        ReadingTopic.Comparing => "What is compared",
        ReadingTopic.Decomposing => "It decomposes",
        ReadingTopic.Reaching => "Bath and thermometer",
        ReadingTopic.Purity => "Where a depression tells nothing",
    };

    private static ReadingAdvice Read(IReadOnlyList<string> cells) => new(
        EmbeddedTable.Member<ReadingTopic>(cells[0])!.Value,
        int.Parse(cells[1], CultureInfo.InvariantCulture),
        EmbeddedTable.Member<ReadingCase>(cells[2])!.Value,
        cells[3],
        EmbeddedTable.OrNull(cells[4]),
        cells[5],
        EmbeddedTable.OrNull(cells[6]),
        EmbeddedTable.Member<Verification>(cells[7]));
}
