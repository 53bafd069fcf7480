using Derivid.Core.Curation;
using Derivid.Core.Melting;

namespace Derivid.Store.Seeding;

/// <summary>Lets whoever types a handbook page in write the range once, as printed.</summary>
/// <remarks>
/// Where both figures are missing they are read from <c>as_printed</c>; where a whole range stands in
/// <c>low_celsius</c> it is taken for what is printed; a missing upper figure equals the lower.
/// </remarks>
internal static class PrintedRangeCells
{
    private const string Low = "low_celsius";
    private const string High = "high_celsius";
    private const string Decomposes = "decomposes";
    private const string AsPrinted = "as_printed";

    /// <summary>Fills the cells of a row.</summary>
    /// <param name="header">Names of the columns.</param>
    /// <param name="cells">The cells; missing ones are filled where others tell them.</param>
    public static void Fill(IReadOnlyList<string> header, string[] cells)
    {
        var place = header.Index().ToDictionary(column => column.Item, column => column.Index, StringComparer.Ordinal);
        if (!place.TryGetValue(AsPrinted, out var printed))
        {
            return;
        }

        var (low, high, decomposes) = (place[Low], place[High], place[Decomposes]);
        if (cells[printed].Length == 0)
        {
            cells[printed] = cells[low];
        }

        if (cells[high].Length == 0 && MeltingRangeText.Parse(cells[printed]).Range is { } range
            && (cells[low].Length == 0 || cells[low] == cells[printed]))
        {
            cells[low] = RecordColumn.Text(range.OnsetCelsius);
            cells[high] = RecordColumn.Text(range.ClearPointCelsius);
            cells[decomposes] = cells[decomposes].Length == 0 ? (range.Decomposes ? "yes" : "no") : cells[decomposes];
        }
        else if (cells[high].Length == 0)
        {
            cells[high] = cells[low];
        }
    }
}
