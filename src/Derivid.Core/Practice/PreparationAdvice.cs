using System.Globalization;
using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Practice;

/// <summary>What a piece of advice is about, in the order of the work.</summary>
public enum AdviceTopic
{
    /// <summary>How carbonyl compound and reagent are put together.</summary>
    Mixing,

    /// <summary>How long to wait before it is nothing.</summary>
    Waiting,

    /// <summary>What a failure looks like, and why.</summary>
    Failure,

    /// <summary>What the crystals are washed with, and why.</summary>
    Washing,

    /// <summary>A solvent to recrystallise from; in the order of trying.</summary>
    Recrystallising,

    /// <summary>How the crystals are dried.</summary>
    Drying,

    /// <summary>Where what is left goes.</summary>
    Waste,
}

/// <summary>One piece of advice on a preparation.</summary>
/// <remarks>From <c>seed-tables/preparation-advice.csv</c>, whose README describes the columns. Thread safety: immutable.</remarks>
/// <param name="KindKey">The derivative kind it is for. Missing: null, any.</param>
/// <param name="Topic">What it is about.</param>
/// <param name="Order">Place among those on its topic, from 1.</param>
/// <param name="AppliesTo">Features a parent must have for it to matter; any for all.</param>
/// <param name="Text">What to do, or what is seen.</param>
/// <param name="Why">Why. Missing: null.</param>
/// <param name="Minutes">How long to wait before it is nothing. Units: min. Missing: null, no source says, or another topic.</param>
/// <param name="SourceKey">Where it is from.</param>
/// <param name="Locator">Page or section in the source. Missing: null.</param>
/// <param name="Verification">How far it was followed back. Missing: null, there is nothing to read.</param>
public sealed record PreparationAdvice(
    string? KindKey,
    AdviceTopic Topic,
    int Order,
    StructureClass AppliesTo,
    string Text,
    string? Why,
    double? Minutes,
    string SourceKey,
    string? Locator,
    Verification? Verification)
{
    private const string Header = "kind_key,topic,order,applies_to,text,why,minutes,source_key,locator,verification";

    /// <summary>All of them. Shape: by kind, then topic as the work goes, then order; those for any kind first.</summary>
    public static IReadOnlyList<PreparationAdvice> All { get; } = [.. EmbeddedTable.Rows("preparation-advice.csv", Header).Select(Read)];

    /// <summary>The advice for a preparation.</summary>
    /// <param name="kindKey">The kind.</param>
    /// <param name="features">The parent's features. Missing: null, an unknown, of which anything may hold.</param>
    /// <returns>Shape: in the order of the work. On mixing, washing and drying what is said of the kind takes the place of what is said of any.</returns>
    public static IReadOnlyList<PreparationAdvice> For(string kindKey, StructureFeature? features)
    {
        ArgumentNullException.ThrowIfNull(kindKey);
        var own = All.Where(advice => advice.KindKey == kindKey).ToList();
        var replaced = own.Select(advice => advice.Topic)
            .Where(topic => topic is AdviceTopic.Mixing or AdviceTopic.Washing or AdviceTopic.Drying).ToHashSet();
        return
        [
            .. All.Where(advice => advice.KindKey is null && !replaced.Contains(advice.Topic))
                .Concat(own)
                .Where(advice => features is not { } known || advice.AppliesTo.Matches(known))
                .OrderBy(advice => advice.Topic)
                .ThenBy(advice => advice.KindKey is null)
                .ThenBy(advice => advice.Order),
        ];
    }

    private static PreparationAdvice Read(IReadOnlyList<string> cells) => new(
        EmbeddedTable.OrNull(cells[0]),
        EmbeddedTable.Member<AdviceTopic>(cells[1])!.Value,
        int.Parse(cells[2], CultureInfo.InvariantCulture),
        StructureClass.Parse(cells[3]),
        cells[4],
        EmbeddedTable.OrNull(cells[5]),
        EmbeddedTable.Number(cells[6]),
        cells[7],
        EmbeddedTable.OrNull(cells[8]),
        EmbeddedTable.Member<Verification>(cells[9]));
}
