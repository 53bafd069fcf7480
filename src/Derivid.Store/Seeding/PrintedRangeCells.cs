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
    /// <param name="cells">The cells by column, those that the file lacks empty; missing ones are filled where others tell them.</param>
    public static void Fill(Dictionary<string, string> cells)
    {
        if (!cells.TryGetValue(AsPrinted, out var printed))
        {
            return;
        }

        if (printed.Length == 0 && !IsNumber(cells[Low]))
        {
            cells[AsPrinted] = printed = cells[Low];
        }

        if (cells[High].Length == 0 && MeltingRangeText.Parse(printed).Range is { } range
            && (cells[Low].Length == 0 || cells[Low] == printed))
        {
            cells[Low] = RecordColumn.Text(range.OnsetCelsius);
            cells[High] = RecordColumn.Text(range.ClearPointCelsius);
            cells[Decomposes] = cells[Decomposes].Length == 0 ? (range.Decomposes ? "yes" : "no") : cells[Decomposes];
        }
        else if (cells[High].Length == 0 && IsNumber(cells[Low]))
        {
            cells[High] = cells[Low];
        }
    }

    // One figure is a figure; a range, or a figure with "dec." behind it, is what is printed.
    private static bool IsNumber(string cell) => RecordKinds.Derivatives.Columns.Single(column => column.Name == Low)
        .Read(SpreadsheetHabits.Undone(CellContent.Number, cell)).Value is double;
}
