namespace Derivid.Core.Compounds;

/// <summary>Where the table's records confirm and where they contradict each other.</summary>
/// <remarks>Discordant literature is information: a clash is listed for the curators, never averaged away.</remarks>
public static class TableAgreement
{
    /// <summary>
    /// Two independent sources agree up to this gap. Units: °C, a difference. Chosen: twice the 1.3 °C that one listed
    /// value is commonly off, rounded up.
    /// </summary>
    public const double ConfirmsWithinCelsius = 3;

    /// <summary>Two records of any sources clash above this gap. Units: °C, a difference. Chosen.</summary>
    public const double ClashesAboveCelsius = 5;

    /// <summary>Whether an independent source agrees with a span.</summary>
    /// <param name="span">The span in question.</param>
    /// <param name="all">Every span of the table; <paramref name="span"/> may be among them.</param>
    public static bool IsConfirmed(PrintedSpan span, IEnumerable<PrintedSpan> all)
    {
        ArgumentNullException.ThrowIfNull(span);
        return all.Any(other => other.IsOfTheSame(span)
            && other.IsIndependentOf(span)
            && other.GapCelsius(span) <= ConfirmsWithinCelsius);
    }

    /// <summary>Every pair of spans of one thing that clash, or that independent sources do not confirm.</summary>
    /// <returns>Shape: each pair once, grouped by parent and quantity in the order of the table, widest gap first.</returns>
    public static IReadOnlyList<TableClash> Clashes(IEnumerable<PrintedSpan> all) =>
    [
        .. all.GroupBy(span => (span.ParentKey, span.Quantity)).SelectMany(group => ClashesWithin([.. group])),
    ];

    private static IEnumerable<TableClash> ClashesWithin(IReadOnlyList<PrintedSpan> spans)
    {
        var pairs =
            from i in Enumerable.Range(0, spans.Count)
            from j in Enumerable.Range(i + 1, spans.Count - i - 1)
            where spans[i].IsOfTheSame(spans[j])
            select new TableClash(spans[i], spans[j], spans[i].GapCelsius(spans[j]));
        return pairs
            .Where(pair => pair.GapCelsius > (pair.First.IsIndependentOf(pair.Second)
                ? ConfirmsWithinCelsius
                : ClashesAboveCelsius))
            .OrderByDescending(pair => pair.GapCelsius);
    }
}

/// <summary>Two printed spans of one thing that do not agree.</summary>
/// <param name="First">The one that stands first in the table.</param>
/// <param name="Second">The other.</param>
/// <param name="GapCelsius">How far the nearer ends lie apart. Units: °C, a difference.</param>
public sealed record TableClash(PrintedSpan First, PrintedSpan Second, double GapCelsius);
