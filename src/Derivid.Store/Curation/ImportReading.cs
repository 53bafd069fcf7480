using System.Text;
using Derivid.Core;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Seeding;

namespace Derivid.Store.Curation;

/// <summary>One import's rows held against the table they are meant for.</summary>
/// <remarks>
/// All of it at once: what a row names may come with the same file, and what stands between records shows only when all of them
/// are there. A cell that can't be read hides nothing else (<see cref="RecordDraft"/>). Once there are more faults than are kept the
/// reading stops, for a file can be wrong in every cell.
/// </remarks>
internal sealed class ImportReading
{
    private const int LongestShown = 200;
    private const string NoColumn = "Key";

    // More than can be told, since some follow from cells that can't be read and aren't.
    private const int MostFindings = 2 * Imports.MostFaults;

    // What stands for a letter that is none, or that no line of text holds.
    private const char NoLetter = '\uFFFD';

    private readonly ImportRows _rows;
    private readonly ReferenceTable _table;
    private readonly CancellationToken _cancellation;
    private readonly DraftSurroundings _surroundings;
    private readonly List<ReadRow> _read = [];
    private readonly List<ImportFault> _faults = [];
    private readonly Dictionary<(RecordKind Kind, string Key), ReadRow> _byKey = [];
    private readonly Dictionary<RecordKind, bool> _legible = [];

    // Many faults say the same.
    private readonly Dictionary<string, string> _sentences = new(StringComparer.Ordinal);

    // What seems to name rows that can't be read: whoever names one of them isn't told that it isn't there.
    private readonly HashSet<(RecordKind, string)> _illegible = [];

    private Dictionary<(RecordKind, string), object>? _known;
    private bool _isOverfull;

    public ImportReading(
        ImportJob job, ImportRows rows, ReferenceTable table, ImportProgress progress, CancellationToken cancellation)
    {
        (Job, Progress, _rows, _table, _cancellation) = (job, progress, rows, table, cancellation);
        _surroundings = new DraftSurroundings(new TableIndex(table), (kind, key) => _byKey.GetValueOrDefault((kind, key))?.Made[0]);
    }

    public ImportJob Job { get; }

    public ImportProgress Progress { get; }

    public string FaultsSentence => _isOverfull
        ? $"More than {Figure.Count(Progress.Faults, "fault")}, with which the reading stopped, at {Figure.Count(Progress.Rows, "row")}; nothing was taken. Those up to there are listed with line, column, value and what is allowed."
        : $"{Figure.Count(Progress.Faults, "fault")}{RowsSentence}; nothing was taken. Each is listed with line, column, value and what is allowed.";

    private string RowsSentence => Progress.RowsAtFault == 0
        ? ", none of them in a row"
        : FormattableString.Invariant($" in {Progress.RowsAtFault:N0} of {Figure.Count(Progress.Rows, "row")}");

    private IEnumerable<ImportPart> Parts => _rows.Parts.OrderBy(part => PlaceOf(part.Kind));

    /// <summary>Reads every row and tells what is wrong with it; counts what the rows would do.</summary>
    /// <returns>Shape: in the order of the file; at most <see cref="Imports.MostFaults"/>.</returns>
    public IReadOnlyList<ImportFault> Faults()
    {
        foreach (var stray in _rows.Strays)
        {
            Add("", stray);
        }

        foreach (var part in Parts.TakeWhile(_ => !_isOverfull))
        {
            Read(part);
        }

        foreach (var (index, row) in _read.Index().Where(row => row.Item.Made.Length == 0).TakeWhile(_ => !_isOverfull))
        {
            WorkOut(row, index + 1);
        }

        if (!_isOverfull)
        {
            Judge();
        }

        if (!_isOverfull)
        {
            Count();
        }

        var inOrder = _faults.OrderBy(fault => PlaceIn(fault.TableName)).ThenBy(fault => fault.Line).ToList();
        Progress.Faults = inOrder.Count;
        var headings = Parts.Where(part => part.HasHeading).Select(part => (part.Kind.TableName, 1)).ToHashSet();
        Progress.RowsAtFault = _faults.Where(fault => fault.Line > 0 && !headings.Contains((fault.TableName!, fault.Line))).Select(fault => (fault.TableName, fault.Line)).Distinct().Count();
        return [.. inOrder.Index().Select(fault => fault.Item with { Number = fault.Index + 1 })];
    }

    /// <summary>The changes that make the proposed table say what the file says; once it has no faults.</summary>
    public IEnumerable<RecordChange> Changes()
    {
        foreach (var (index, row) in _read.Index())
        {
            _cancellation.ThrowIfCancellationRequested();
            if (!IsKnown(row))
            {
                yield return new RecordChange(row.Part.Kind, row.Key, null, row.Made[0]);
            }

            Progress.Percent = 50 + (49 * (index + 1) / _read.Count);
        }

        foreach (var (kind, key) in LeftOut())
        {
            yield return new RecordChange(kind, key, null, null);
        }
    }

    private void Read(ImportPart part)
    {
        foreach (var row in part.Read())
        {
            _cancellation.ThrowIfCancellationRequested();
            if (part.IsRow(row) && ++Progress.Rows > Imports.MostRows)
            {
                Add(part.Kind.TableName, new CellFault(
                    row.Line, "", "", $"at most {Figure.Count(Imports.MostRows, "row")} at once, since they are held against each other; send the rest by itself"));
                return;
            }

            foreach (var fault in row.Faults)
            {
                Add(part.Kind.TableName, fault);
            }

            if (_isOverfull)
            {
                return;
            }

            if (row.Draft is { } draft)
            {
                Take(part, row.Line, draft);
            }
            else if (part.IsRow(row))
            {
                _illegible.Add((part.Kind, row.Key ?? ""));
                _legible[part.Kind] = false;
            }

            Progress.Percent = (int)(_rows.Done() * 49);
        }
    }

    // What has a key is made at once and its draft let go, for there may be many; what lacks one is numbered once all keys are known.
    private void Take(ImportPart part, int line, RecordDraft draft)
    {
        var row = new ReadRow(part, line, draft);
        _read.Add(row);
        if (part.Kind.Key.All(column => draft[column.Field] is not null))
        {
            _surroundings.Use(part.Kind, part.Kind.KeyOf(draft.Make(0, 0)));
            WorkOut(row, _read.Count);
        }
    }

    private void WorkOut(ReadRow row, int number)
    {
        _cancellation.ThrowIfCancellationRequested();
        var (kind, draft) = (row.Part.Kind, row.Draft!);
        kind.WorkOut(draft, _surroundings);
        foreach (var column in draft.Missing.ToList())
        {
            Add(kind.TableName, new CellFault(row.Line, row.Part.ColumnOf(column.Field), "", "a value, which can't be worked out from the rest of the row"));
            draft.Unread(column);
        }

        row.Made = [.. Enumerable.Range(0, draft.IsWhole ? 1 : RecordDraft.Variants).Select(variant => draft.Make(variant, number))];
        row.Key = kind.KeyOf(row.Made[0]);
        row.Draft = draft.IsWhole ? null : draft;
        _legible[kind] = draft.IsWhole && _legible.GetValueOrDefault(kind, true);
        if (!_byKey.TryAdd((kind, row.Key), row))
        {
            row.IsRepeated = true;
            Add(kind.TableName, new CellFault(row.Line, row.Part.ColumnOf(NoColumn), row.Key, "a key that no other row of the file has"));
        }
    }

    // What is found whatever stands in the cells that can't be read.
    private void Judge()
    {
        var errors = Errors(0);
        HashSet<TableFinding> found = [.. errors];
        if (_read.Exists(row => row.Made.Length > 1))
        {
            found.IntersectWith(Errors(1));
        }

        var isLegible = _illegible.Count == 0 && _read.TrueForAll(row => row.Made.Length == 1);
        var before = new Lazy<HashSet<TableFinding>>(() => [.. TableValidation.ErrorsOf(_table, MostFindings, _cancellation)]);
        foreach (var finding in found)
        {
            if (_byKey.GetValueOrDefault((finding.Kind, finding.Key)) is { } row)
            {
                Add(row, finding);
            }
            else if (isLegible && !before.Value.Contains(finding))
            {
                Add(finding.Kind.TableName, new CellFault(
                    0, finding.Kind.Columns.FirstOrDefault(column => column.Field == finding.Field)?.Name ?? "", finding.Value, $"{finding.Allowed}; it stands in the record {finding.Key}, which the file leaves as it is"));
            }
        }

        var repeated = _read.Where(row => row.IsRepeated).ToList();
        var indexes = Enumerable.Range(0, repeated.Count == 0 ? 0 : RecordDraft.Variants).Select(variant => new TableIndex(Proposed(variant))).ToList();
        foreach (var row in repeated)
        {
            var own = row.Made.Index().Select(made => RecordRules.Check(row.Part.Kind, made.Item, indexes[made.Index])).ToList();
            foreach (var finding in own[0].Where(finding => finding.Severity == FindingSeverity.Error && own.TrueForAll(other => other.Contains(finding))))
            {
                Add(row, finding);
            }
        }

        if (errors.Count >= MostFindings)
        {
            // What else there is was not looked for.
            if (_faults.Count == 0)
            {
                Add("", new CellFault(0, "", "", FormattableString.Invariant($"a proposal that breaks fewer than {MostFindings:N0} rules by itself; mend it first")));
            }

            _isOverfull = true;
        }
    }

    private IReadOnlyList<TableFinding> Errors(int variant) => TableValidation.ErrorsOf(Proposed(variant), MostFindings, _cancellation);

    // What is listed comes first, so that of two records that don't go together the file's is told.
    private ReferenceTable Proposed(int variant)
    {
        var proposed = _table;
        foreach (var part in _rows.Parts)
        {
            var kept = Job.IsWhole ? [] : _table.RowsOf(part.Kind).Where(record => !_byKey.ContainsKey((part.Kind, part.Kind.KeyOf(record))));
            proposed = proposed.With(part.Kind, kept.Concat(_read.Where(row => row.Part == part && !row.IsRepeated)
                .Select(row => row.Made[Math.Min(variant, row.Made.Length - 1)])));
        }

        return proposed;
    }

    private void Count()
    {
        var atFault = _faults.Select(fault => (fault.TableName, fault.Line)).ToHashSet();
        foreach (var row in _read.Where(row => !atFault.Contains((row.Part.Kind.TableName, row.Line))))
        {
            if (IsKnown(row))
            {
                Progress.Unchanged++;
            }
            else if (Listed(row) is null)
            {
                Progress.Added++;
            }
            else
            {
                Progress.Changed++;
            }
        }

        Progress.Removed = LeftOut().Count();
    }

    private object? Listed(ReadRow row)
    {
        _known ??= _rows.Parts.SelectMany(part => _table.RowsOf(part.Kind).Select(record => (part.Kind, Record: record)))
            .ToDictionary(each => (each.Kind, each.Kind.KeyOf(each.Record)), each => each.Record);
        return _known.GetValueOrDefault((row.Part.Kind, row.Key));
    }

    private bool IsKnown(ReadRow row) => Listed(row) is { } known && row.Part.Kind.ChangedFields(known, row.Made[0]).Count == 0;

    private IEnumerable<(RecordKind Kind, string Key)> LeftOut() => !Job.IsWhole ? [] :
        from part in _rows.Parts
        from record in _table.RowsOf(part.Kind)
        let key = part.Kind.KeyOf(record)
        where !_byKey.ContainsKey((part.Kind, key))
        select (part.Kind, key);

    private void Add(ReadRow row, TableFinding finding)
    {
        // Places in an order are judged once every row of the list can be read.
        var isOfOrder = finding.Field is "Order" or "Rank" && !_legible.GetValueOrDefault(row.Part.Kind, true);
        if (row.Draft?.IsUnread(finding.Field) != true && !IsOfIllegible(finding) && !isOfOrder)
        {
            Add(row.Part.Kind.TableName, new CellFault(row.Line, row.Part.ColumnOf(finding.Field), finding.Value, finding.Allowed));
        }
    }

    private void Add(string list, CellFault fault)
    {
        if (_faults.Count == Imports.MostFaults)
        {
            _isOverfull = true;
            return;
        }

        var allowed = Shown(fault.Allowed, int.MaxValue);
        if (!_sentences.TryGetValue(allowed, out var sentence))
        {
            _sentences.Add(allowed, sentence = allowed);
        }

        _faults.Add(new ImportFault(
            Job.Id, _faults.Count + 1, list, fault.Line, Shown(fault.Column, LongestShown), Shown(fault.Value, LongestShown), sentence));
    }

    private bool IsOfIllegible(TableFinding finding) =>
        finding.Kind.Columns.FirstOrDefault(column => column.Field == finding.Field)?.Names is { } named
        && _illegible.Contains((named, finding.Value));

    private int PlaceOf(RecordKind kind) => _table.Lists().Index().First(list => list.Item.Kind == kind).Index;

    private int PlaceIn(string? list) => _table.KindOf(list ?? "") is { } kind ? PlaceOf(kind) : -1;

    // As it can be kept and read: names of files and members may hold what no database takes, and what moves a terminal's cursor.
    private static string Shown(string text, int longest)
    {
        if (text.Length <= longest && text.All(letter => !char.IsSurrogate(letter) && !IsUnfit(letter)))
        {
            return text;
        }

        var shown = new StringBuilder();
        foreach (var rune in text.EnumerateRunes())
        {
            if (shown.Length + rune.Utf16SequenceLength > longest)
            {
                return shown.Append('…').ToString();
            }

            // Half of a pair comes as the letter that is none.
            shown.Append(rune.IsBmp && IsUnfit((char)rune.Value) ? NoLetter.ToString() : rune.ToString());
        }

        return shown.ToString();
    }

    private static bool IsUnfit(char letter) => char.IsControl(letter) && letter is not ('\t' or '\n' or '\r');

    // A row of which something could be read.
    private sealed class ReadRow(ImportPart part, int line, RecordDraft draft)
    {
        public ImportPart Part => part;

        public int Line => line;

        // Missing: null, its record is made and all of it could be read; let go, for there may be many.
        public RecordDraft? Draft { get; set; } = draft;

        // Shape: one a variant; one where nothing is unread.
        public object[] Made { get; set; } = [];

        public string Key { get; set; } = "";

        public bool IsRepeated { get; set; }
    }
}

/// <summary>The rows of what was sent.</summary>
/// <param name="Parts">The lists it holds. Shape: each at most once.</param>
/// <param name="Done">How much of the reading under way is done. Bounds: 0 to 1.</param>
public sealed record ImportRows(IReadOnlyList<ImportPart> Parts, Func<double> Done)
{
    /// <summary>What is wrong with it as a whole, such as a file that is no list of the table. Shape: line 0; usually empty.</summary>
    public IReadOnlyList<CellFault> Strays { get; init; } = [];
}

/// <summary>The rows of one list.</summary>
/// <param name="Kind">The kind of record.</param>
/// <param name="Read">Reads from the start, a row at a time.</param>
/// <param name="ColumnOf">What the file calls a field of the record.</param>
/// <param name="HasHeading">Whether line 1 is a heading, and no row.</param>
public sealed record ImportPart(RecordKind Kind, Func<IEnumerable<CsvRecord>> Read, Func<string, string> ColumnOf, bool HasHeading)
{
    /// <summary>Whether an entry is a row, and not what is wrong with the heading.</summary>
    /// <param name="row">The entry.</param>
    public bool IsRow(CsvRecord row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return !HasHeading || row.Line > 1;
    }
}
