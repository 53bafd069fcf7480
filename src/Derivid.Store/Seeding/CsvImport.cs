using System.Globalization;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;

namespace Derivid.Store.Seeding;

/// <summary>Reads a table file as people send it: every fault told, the habits of spreadsheet programs undone.</summary>
/// <remarks>
/// Columns in any order, those left out that may be empty or follow from the rest; spaces at either end; decimal commas;
/// typographic minus signs; empty cells past the last column. What <see cref="SheetRows"/> takes besides.
/// </remarks>
public static class CsvImport
{
    private const int LongestCell = 20_000;

    // Slips of typing in a heading, as far as what was meant is plain.
    private const int HeadingSlips = 2;

    // What stands where bytes were no UTF-8.
    private const char Unreadable = '\uFFFD';

    /// <summary>Reads every row.</summary>
    /// <param name="kind">The kind of record.</param>
    /// <param name="text">The text; letters that could not be read are U+FFFD.</param>
    /// <returns>
    /// Shape: an entry for a header with faults, then one entry a row that isn't empty. Text that can't be parted into cells any
    /// further is a last entry with a fault.
    /// </returns>
    public static IEnumerable<CsvRecord> Read(RecordKind kind, TextReader text)
    {
        ArgumentNullException.ThrowIfNull(kind);
        ArgumentNullException.ThrowIfNull(text);
        using var rows = SheetRows.Read(text, LongestCell).GetEnumerator();
        rows.MoveNext();
        var header = new Heading(kind, rows.Current.Cells);
        if (header.Faults.Count > 0)
        {
            yield return new CsvRecord(1, null, header.Faults);
        }

        while (header.IsReadable && rows.MoveNext())
        {
            var row = rows.Current;
            yield return row.Allowed is { } allowed
                ? Fault(row, header, allowed)
                : RecordOf(kind, header, row);
        }
    }

    private static CsvRecord RecordOf(RecordKind kind, Heading header, SheetRow row)
    {
        var (line, given) = (row.Line, row.Cells);
        if (given.Count < header.Width || !given.Skip(header.Width).All(string.IsNullOrWhiteSpace))
        {
            return Fault(row, header, string.Create(
                CultureInfo.InvariantCulture,
                $"{header.Width} cells; this row has {given.Count}{(given.Count > header.Width ? ". A cell with a comma in it stands in quotation marks" : "")}"));
        }

        var cells = kind.Columns.ToDictionary(
            column => column.Name,
            column => header.PlaceOf(column) is { } place ? SpreadsheetHabits.Cleaned(given[place]) : "",
            StringComparer.Ordinal);
        PrintedRangeCells.Fill(cells);
        var faults = new List<CellFault>();
        var draft = new RecordDraft(kind);
        foreach (var column in kind.Columns)
        {
            if (Read(column, cells[column.Name], header, draft) is { } allowed)
            {
                draft.Unread(column);
                faults.Add(new CellFault(line, column.Name, cells[column.Name], allowed));
            }
        }

        return new CsvRecord(line, draft, faults);
    }

    // Missing: null, the cell was taken, or isn't there.
    private static string? Read(RecordColumn column, string cell, Heading header, RecordDraft draft)
    {
        if (header.PlaceOf(column) is null && cell.Length == 0)
        {
            draft.LeaveOut(column);
            if (header.Lacks(column))
            {
                // The header's own fault; nothing is known of the cells.
                draft.Unread(column);
            }

            return null;
        }

        if (cell.Contains(Unreadable, StringComparison.Ordinal))
        {
            return "a text in UTF-8; where a \uFFFD stands are bytes that are not. Save the file as CSV in UTF-8";
        }

        if (cell.Length == 0 && column.IsWorkedOut)
        {
            return null;
        }

        var (value, allowed) = column.Read(SpreadsheetHabits.Undone(column.Content, cell));
        draft.Take(column, value);
        return allowed;
    }

    private static CsvRecord Fault(SheetRow row, Heading header, string allowed) =>
        new(row.Line, null, [new CellFault(row.Line, "", string.Join(' ', row.Cells), allowed)]) { Key = header.KeyIn(row.Cells) };

    // Which column stands where, as far as the first line tells.
    private sealed class Heading
    {
        private readonly RecordKind _kind;
        private readonly Dictionary<string, int> _places = new(StringComparer.Ordinal);
        private readonly HashSet<string> _lacking = new(StringComparer.Ordinal);

        public Heading(RecordKind kind, IReadOnlyList<string> cells)
        {
            _kind = kind;
            var names = cells.Reverse().SkipWhile(name => name.Length == 0).Reverse().ToList();
            Width = names.Count;
            var known = CsvTable.Header(kind);
            foreach (var (place, name) in names.Index().Where(name => known.Contains(name.Item)))
            {
                if (!_places.TryAdd(name, place))
                {
                    Faults.Add(new CellFault(1, name, name, "each heading once"));
                }
            }

            foreach (var (place, name) in names.Index().Where(name => !known.Contains(name.Item)))
            {
                var meant = known.Where(other => !_places.ContainsKey(other)).MinBy(other => FoldedName.Distance(other, name));
                if (name.Length > HeadingSlips && meant is not null && FoldedName.Distance(meant, name) <= HeadingSlips)
                {
                    _places.Add(meant, place);
                    Faults.Add(new CellFault(1, name, name, $"{meant}; its cells were read as such"));
                }
                else
                {
                    Faults.Add(new CellFault(1, name, name, "each of these once: " + string.Join(", ", known)));
                }
            }

            IsReadable = _places.Count > 0;
            foreach (var column in kind.Columns.Where(column => column.MustHold && !column.IsWorkedOut && !_places.ContainsKey(column.Name)))
            {
                _lacking.Add(column.Name);
                Faults.Add(new CellFault(1, column.Name, "", "a column of this name"));
            }
        }

        public List<CellFault> Faults { get; } = [];

        // Whether it is a heading at all.
        public bool IsReadable { get; }

        public int Width { get; }

        public int? PlaceOf(RecordColumn column) => _places.TryGetValue(column.Name, out var place) ? place : null;

        public bool Lacks(RecordColumn column) => _lacking.Contains(column.Name);

        // What seems to name a row that can't be read. Missing: null.
        public string? KeyIn(IReadOnlyList<string> cells) =>
            _kind.Key is [var only] && PlaceOf(only) is { } place && place < cells.Count ? SpreadsheetHabits.Cleaned(cells[place]) : null;
    }
}

/// <summary>What became of one row of a file.</summary>
/// <param name="Line">Line in the file, the header being line 1; in JSON the number of the item, from 1.</param>
/// <param name="Draft">What could be read of it. Missing: null, nothing.</param>
/// <param name="Faults">Every cell that can't be taken. Shape: in the order of the fields.</param>
public sealed record CsvRecord(int Line, RecordDraft? Draft, IReadOnlyList<CellFault> Faults)
{
    /// <summary>What seems to name a row of which nothing could be read. Missing: null.</summary>
    public string? Key { get; init; }

    /// <summary>The record. Missing: null, the row has faults, or lacks what has to be worked out.</summary>
    public object? Record => Faults.Count == 0 && Draft is { IsWhole: true } ? Draft.Make(0, 0) : null;
}

/// <summary>A cell that can't be taken as it stands.</summary>
/// <param name="Line">Line in the file, the header being line 1; in JSON the number of the item, from 1.</param>
/// <param name="Column">Name of the column, or of the JSON property. Missing: empty, the whole row.</param>
/// <param name="Value">What stands there.</param>
/// <param name="Allowed">What would be allowed, in a sentence.</param>
public sealed record CellFault(int Line, string Column, string Value, string Allowed);
