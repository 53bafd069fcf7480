using System.Globalization;
using Derivid.Core.Ranking;

namespace Derivid.Core.Teaching.ClassView;

/// <summary>Looks for benches and compounds whose readings run high or low together.</summary>
/// <remarks>
/// The deviations are split by a median polish into benches and compounds, so that a bench is not blamed for its
/// compounds nor a compound for its benches. What is left gives a scatter σ: its median absolute deviation × 1.4826, but
/// at least <see cref="LeastScatterCelsius"/>. The standard error of a median of n readings is 1.2533 σ/√n (normal errors).
/// A bench or compound is named if it has <see cref="LeastCount"/> readings or more, over two compounds (for a bench) or
/// two benches (for a compound), and its part is both at least <see cref="LeastOffsetCelsius"/> and at least three
/// standard errors. Parts are measured from the middle one, so benches are named in a class of at least
/// <see cref="LeastLines"/> benches, compounds in one of at least so many compounds: of two that differ, nobody can say
/// which is off. Readings without a bench are set aside.
/// </remarks>
public static class Suggestions
{
    /// <summary>Fewest readings. Chosen.</summary>
    public const int LeastCount = 4;

    /// <summary>Fewest benches, or compounds, to measure from the middle of.</summary>
    public const int LeastLines = 3;

    /// <summary>Smallest offset worth a walk to the bench. Units: °C. Chosen: a good thermometer is right to 1 °C.</summary>
    public const double LeastOffsetCelsius = 2;

    /// <summary>Smallest scatter believed. Units: °C. Chosen: readings are taken to whole or half degrees.</summary>
    public const double LeastScatterCelsius = 0.5;

    /// <summary>Standard errors asked for. Chosen: by chance about one group in 400.</summary>
    private const double StandardErrors = 3;

    /// <summary>√(π/2): the standard error of a median of normal values over that of their mean.</summary>
    private const double MedianFactor = 1.2533141373155;

    /// <summary>Looks through a class.</summary>
    /// <param name="deviations">Shape: any order.</param>
    /// <param name="snapshot">The table, for the compounds' names.</param>
    /// <returns>Shape: benches first, each by key; may be empty.</returns>
    public static IReadOnlyList<Suggestion> Of(IReadOnlyList<Deviation> deviations, TableSnapshot snapshot)
    {
        ArgumentNullException.ThrowIfNull(snapshot);
        var placed = deviations.Where(deviation => deviation.Bench is not null).ToList();
        if (placed.Count == 0)
        {
            return [];
        }

        var polish = new MedianPolish([.. placed.Select(item => (item.Bench!, item.ParentKey, item.Celsius))]);
        var scatter = Math.Max(
            LeastScatterCelsius, Robust.NormalFactor * Robust.MedianAbsoluteDeviation(polish.Residuals));
        var benches = Groups(placed, item => item.Bench!, item => item.ParentKey)
            .Select(group => Suggest(SuggestionKind.BenchOffset, group, polish.Rows[group.Key], scatter, group.Key));
        var compounds = Groups(placed, item => item.ParentKey, item => item.Bench!)
            .Select(group => Suggest(
                SuggestionKind.BadBatch, group, polish.Columns[group.Key], scatter, Name(group.Key, snapshot)));
        return [.. benches.Concat(compounds).OfType<Suggestion>()];
    }

    /// <summary>Benches over two compounds or more, or compounds over two benches or more, by key; none where there are too few.</summary>
    private static IEnumerable<IGrouping<string, Deviation>> Groups(
        List<Deviation> placed, Func<Deviation, string> key, Func<Deviation, string> over)
    {
        var groups = placed.GroupBy(key, StringComparer.Ordinal).OrderBy(group => group.Key, StringComparer.Ordinal).ToList();
        return groups.Count < LeastLines
            ? []
            : groups.Where(group => group.Select(over).Distinct(StringComparer.Ordinal).Count() > 1);
    }

    private static Suggestion? Suggest(
        SuggestionKind kind, IGrouping<string, Deviation> group, double offset, double scatter, string name)
    {
        var count = group.Count();
        var error = MedianFactor * scatter / Math.Sqrt(count);
        return count < LeastCount || Math.Abs(offset) < LeastOffsetCelsius || Math.Abs(offset) < StandardErrors * error
            ? null
            : new Suggestion(kind, group.Key, offset, error, count, Sentence(kind, name, offset, error, group));
    }

    private static string Sentence(
        SuggestionKind kind, string name, double offset, double error, IEnumerable<Deviation> group)
    {
        var direction = offset > 0 ? "high" : "low";
        var size = string.Create(
            CultureInfo.InvariantCulture, $"{Math.Abs(offset):0.0} °C {direction} (standard error {error:0.0} °C)");
        var span = Figure.Degrees(Robust.Median(group.Select(item => item.SpanCelsius)));
        return kind == SuggestionKind.BenchOffset
            ? $"{group.Count()} readings of bench {name}, over {group.Select(item => item.ParentKey).Distinct().Count()} compounds, run {size} beside the rest of the class: check the thermometers there against a standard."
            : $"{group.Count()} readings of {name}, over {group.Select(item => item.Bench).Distinct().Count()} benches, run {size} beside the rest of the class, over {span} °C in the median: check the batch handed out, and the listed values.";
    }

    private static string Name(string parentKey, TableSnapshot snapshot) =>
        snapshot.TryFindParent(parentKey, out var parent) ? snapshot.Parents[parent].Name : parentKey;
}

/// <summary>Something to look into, never a finding.</summary>
/// <param name="Kind">What it may be.</param>
/// <param name="Key">The bench, or the compound.</param>
/// <param name="OffsetCelsius">By how much its readings run high. Units: °C, a difference; below zero, low.</param>
/// <param name="UncertaintyCelsius">Standard error of the offset. Units: °C, a difference.</param>
/// <param name="Count">Readings behind it.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record Suggestion(
    SuggestionKind Kind, string Key, double OffsetCelsius, double UncertaintyCelsius, int Count, string Sentence);

/// <summary>What may lie behind deviations that go together.</summary>
public enum SuggestionKind
{
    /// <summary>The thermometers or apparatus of one bench read high or low.</summary>
    BenchOffset,

    /// <summary>One unknown melts away from the literature at several benches.</summary>
    BadBatch,
}
