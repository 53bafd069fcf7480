using System.Globalization;
using Derivid.Api.Http;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Store.Seeding;

namespace Derivid.Api.Curation;

/// <summary>A sheet of the verification desk as a CSV file (RFC 4180), to be filled in and sent back.</summary>
/// <remarks>
/// Read as <see cref="SheetRows"/> does; columns in any order, all but key and as_printed may be left out; rows that say nothing
/// are passed over.
/// </remarks>
internal static class SheetCsv
{
    private const string Key = "key";
    private const string AsPrinted = "as_printed";
    private const string Colour = "colour";
    private const int LongestCell = 2000;

    /// <summary>Writes a sheet; what is to be filled in is empty.</summary>
    /// <param name="lines">Its lines.</param>
    public static string Write(IEnumerable<SheetLineItem> lines) => CsvText.Write(SheetLineItem.Columns, lines.Select(line => new string?[]
    {
        line.Key,
        line.Name,
        line.Formula,
        line.Kind,
        line.CarbonylsCondensed.ToString(CultureInfo.InvariantCulture),
        line.Form,
        line.ReadersDiffer ? "yes" : "no",
        null,
        null,
    }));

    /// <summary>Reads a sheet filled in.</summary>
    /// <param name="text">The file.</param>
    /// <param name="errors">Takes the faults, by line and column.</param>
    /// <returns>The lines that hold something. They mean something only while no faults were noted.</returns>
    public static SentReadings Read(TextReader text, FieldErrors errors)
    {
        using var rows = SheetRows.Read(text, LongestCell).GetEnumerator();
        rows.MoveNext();
        List<string> header = [.. rows.Current.Cells];
        while (header.Count > 0 && header[^1].Length == 0)
        {
            header.RemoveAt(header.Count - 1);
        }

        var readings = new List<SentReading>();
        if (IsHeader(header, errors))
        {
            while (rows.MoveNext())
            {
                Take(rows.Current, header, readings, errors);
            }
        }

        if (errors.Count == 0 && readings.Count is 0 or > ReadingsRequest.MostReadings)
        {
            errors.Add("", string.Create(
                CultureInfo.InvariantCulture, $"Holds {readings.Count} lines that are filled in; 1 to {ReadingsRequest.MostReadings} are allowed."));
        }

        return new SentReadings(readings);
    }

    private static bool IsHeader(List<string> header, FieldErrors errors)
    {
        foreach (var name in header.Where((name, i) => !SheetLineItem.Columns.Contains(name) || header.IndexOf(name) < i))
        {
            errors.Add(
                new CsvPlace(1).ToString(),
                $"{Text.Quoted(name)} is no column here, or stands twice; allowed, each once: {string.Join(", ", SheetLineItem.Columns)}.");
        }

        foreach (var name in new[] { Key, AsPrinted }.Except(header))
        {
            errors.Add(new CsvPlace(1).ToString(), $"The column {name} is missing.");
        }

        return errors.Count == 0;
    }

    private static void Take(SheetRow row, List<string> header, List<SentReading> readings, FieldErrors errors)
    {
        if (row.Allowed is { } allowed)
        {
            errors.Add(new CsvPlace(row.Line).ToString(), $"Allowed: {allowed}.");
            return;
        }

        if (row.Cells.Count < header.Count || !row.Cells.Skip(header.Count).All(string.IsNullOrWhiteSpace))
        {
            errors.Add(new CsvPlace(row.Line).ToString(), $"Holds {row.Cells.Count} cells; the first line has {header.Count}.");
            return;
        }

        var printed = $"{Cell(AsPrinted)} {Cell(Colour)}".Trim();
        if (printed.Length > 0)
        {
            readings.Add(new SentReading(
                Cell(Key), printed, new CsvPlace(row.Line, Key).ToString(), new CsvPlace(row.Line, AsPrinted).ToString()));
        }

        string Cell(string column) => header.IndexOf(column) is >= 0 and var at ? SpreadsheetHabits.Cleaned(row.Cells[at]) : "";
    }
}
