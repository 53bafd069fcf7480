using System.Globalization;
using Derivid.Core.Curation;

namespace Derivid.Store.Seeding;

/// <summary>Reads a table file as people send it: every fault told, the habits of spreadsheet programs undone.</summary>
/// <remarks>
/// Columns in any order; spaces at either end; decimal commas; typographic minus signs; empty cells past the last column.
/// What <see cref="SheetRows"/> takes besides.
/// </remarks>
public static class CsvImport
{
    private const int LongestCell = 20_000;

    /// <summary>Reads every row.</summary>
    /// <param name="kind">The kind of record.</param>
    /// <param name="text">The text.</param>
    /// <returns>
    /// Shape: one entry a row that isn't empty. A header that can't be taken, or text that can't be parted into cells
    /// any further, is a last entry with faults.
    /// </returns>
    public static IEnumerable<CsvRecord> Read(RecordKind kind, TextReader text)
    {
        ArgumentNullException.ThrowIfNull(kind);
        ArgumentNullException.ThrowIfNull(text);
        using var rows = SheetRows.Read(text, LongestCell).GetEnumerator();
        rows.MoveNext();
        List<string> header = [.. rows.Current.Cells];
        while (header.Count > kind.Columns.Count && header[^1].Length == 0)
        {
            header.RemoveAt(header.Count - 1);
        }

        var faults = HeaderFaults(kind, header).ToList();
        if (faults.Count > 0)
        {
            yield return new CsvRecord(1, null, faults);
            yield break;
        }

        while (rows.MoveNext())
        {
            var row = rows.Current;
            yield return row.Allowed is { } allowed ? Fault(row, string.Join(' ', row.Cells), allowed) : RecordOf(kind, header, row);
        }
    }

    private static IEnumerable<CellFault> HeaderFaults(RecordKind kind, List<string> header)
    {
        var names = CsvTable.Header(kind);
        var allowed = "each of these once: " + string.Join(", ", names);
        foreach (var name in header.Where((name, i) => !names.Contains(name) || header.IndexOf(name) < i))
        {
            yield return new CellFault(1, name, name, allowed);
        }

        foreach (var name in names.Except(header))
        {
            yield return new CellFault(1, name, "", "a column of this name; one whose cells are all missing is left empty");
        }
    }

    private static CsvRecord RecordOf(RecordKind kind, List<string> header, SheetRow row)
    {
        var (line, cells) = (row.Line, row.Cells);
        if (cells.Count < header.Count || !cells.Skip(header.Count).All(string.IsNullOrWhiteSpace))
        {
            return Fault(row, string.Join(' ', cells), string.Create(
                CultureInfo.InvariantCulture, $"{header.Count} cells; this row has {cells.Count}"));
        }

        string[] cleaned = [.. cells.Take(header.Count).Select(SpreadsheetHabits.Cleaned)];
        PrintedRangeCells.Fill(header, cleaned);
        var faults = new List<CellFault>();
        var values = new object?[kind.Columns.Count];
        foreach (var (place, column) in kind.Columns.Index())
        {
            var cell = cleaned[header.IndexOf(column.Name)];
            (values[place], var allowed) = column.Read(SpreadsheetHabits.Undone(column.Content, cell));
            if (allowed is not null)
            {
                faults.Add(new CellFault(line, column.Name, cell, allowed));
            }
        }

        return new CsvRecord(line, faults.Count > 0 ? null : kind.Make(values), faults);
    }

    private static CsvRecord Fault(SheetRow row, string value, string allowed) =>
        new(row.Line, null, [new CellFault(row.Line, "", value, allowed)]);
}

/// <summary>What became of one row of a file.</summary>
/// <param name="Line">Line in the file, the header being line 1.</param>
/// <param name="Record">The record. Missing: null, the row has faults.</param>
/// <param name="Faults">Every cell that can't be taken. Shape: in the order of the fields; empty for a record.</param>
public sealed record CsvRecord(int Line, object? Record, IReadOnlyList<CellFault> Faults);

/// <summary>A cell that can't be taken as it stands.</summary>
/// <param name="Line">Line in the file, the header being line 1; in JSON the number of the item, from 1.</param>
/// <param name="Column">Name of the column, or of the JSON property. Missing: empty, the whole row.</param>
/// <param name="Value">What stands there.</param>
/// <param name="Allowed">What would be allowed, in a sentence.</param>
public sealed record CellFault(int Line, string Column, string Value, string Allowed);
