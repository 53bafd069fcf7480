using System.Globalization;
using Derivid.Core;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Seeding;

namespace Derivid.Store.Curation;

/// <summary>One import's rows held against the table they are meant for.</summary>
internal sealed class ImportReading
{
    private const int LongestShown = 200;

    private readonly ImportRows _rows;
    private readonly RecordKind _kind;
    private readonly TableIndex _index;
    private readonly Dictionary<string, object> _known;
    private readonly HashSet<string> _seen = new(StringComparer.Ordinal);
    private readonly CancellationToken _cancellation;

    public ImportReading(
        ImportJob job, ImportRows rows, ReferenceTable table, ImportProgress progress, CancellationToken cancellation)
    {
        (Job, Progress, _rows, _cancellation) = (job, progress, rows, cancellation);
        _kind = table.KindOf(job.TableName)!;
        _index = new TableIndex(table);
        _known = table.RowsOf(_kind).ToDictionary(_kind.KeyOf, StringComparer.Ordinal);
    }

    public ImportJob Job { get; }

    public ImportProgress Progress { get; }

    public string FaultsSentence => string.Create(
        CultureInfo.InvariantCulture,
        $"Faults: {Progress.Faults}, in {Figure.Count(Progress.Rows, "row")}; nothing was taken. Each is listed with line, column, value and what is allowed.");

    /// <summary>Reads every row and tells what is wrong with it; counts what the rows would do.</summary>
    public IEnumerable<ImportFault> Faults()
    {
        foreach (var row in _rows.Read())
        {
            _cancellation.ThrowIfCancellationRequested();
            Progress.Rows++;
            foreach (var fault in row.Record is { } record ? FaultsOf(record, row.Line) : row.Faults)
            {
                yield return new ImportFault(
                    Job.Id, ++Progress.Faults, fault.Line, Shortened(fault.Column), Shortened(fault.Value), fault.Allowed);
            }

            Progress.Percent = (int)(_rows.Done() * (Job.IsDryRun ? 99 : 50));
        }

        Progress.Removed = Missing().Count();
    }

    /// <summary>Reads every row again; the changes that make the proposed table say what the file says.</summary>
    public IEnumerable<RecordChange> Changes()
    {
        foreach (var row in _rows.Read())
        {
            _cancellation.ThrowIfCancellationRequested();
            var key = _kind.KeyOf(row.Record!);
            if (!IsKnown(key, row.Record!))
            {
                yield return new RecordChange(_kind, key, null, row.Record);
            }

            Progress.Percent = 50 + (int)(_rows.Done() * 49);
        }

        foreach (var key in Missing())
        {
            yield return new RecordChange(_kind, key, null, null);
        }
    }

    private IEnumerable<CellFault> FaultsOf(object record, int line)
    {
        var key = _kind.KeyOf(record);
        if (!_seen.Add(key))
        {
            yield return new CellFault(line, _rows.ColumnOf("Key"), key, "a key that no other row of the file has");
        }

        var errors = RecordRules.Check(_kind, record, _index)
            .Where(finding => finding.Severity == FindingSeverity.Error).ToList();
        foreach (var finding in errors)
        {
            yield return new CellFault(line, _rows.ColumnOf(finding.Field), finding.Value, finding.Allowed);
        }

        if (errors.Count > 0)
        {
            yield break;
        }

        if (!_known.ContainsKey(key))
        {
            Progress.Added++;
        }
        else if (IsKnown(key, record))
        {
            Progress.Unchanged++;
        }
        else
        {
            Progress.Changed++;
        }
    }

    private static string Shortened(string text) => text.Length <= LongestShown ? text : text[..LongestShown] + "…";

    private bool IsKnown(string key, object record) =>
        _known.TryGetValue(key, out var known) && _kind.ChangedFields(known, record).Count == 0;

    private IEnumerable<string> Missing() => Job.IsWhole ? _known.Keys.Where(key => !_seen.Contains(key)) : [];
}

/// <summary>The rows of a file that can be read more than once.</summary>
/// <param name="Read">Reads from the start, a row at a time.</param>
/// <param name="Done">How much of the reading under way is done. Bounds: 0 to 1.</param>
/// <param name="ColumnOf">What the file calls a field of the record.</param>
public sealed record ImportRows(Func<IEnumerable<CsvRecord>> Read, Func<double> Done, Func<string, string> ColumnOf);
