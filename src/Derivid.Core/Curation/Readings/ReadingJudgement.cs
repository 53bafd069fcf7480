using Derivid.Core.Compounds;

namespace Derivid.Core.Curation.Readings;

/// <summary>What follows from the readings of a sheet: what became of each, and what is to be proposed.</summary>
/// <param name="Lines">The readings, in the order sent.</param>
/// <param name="Changes">What is to become of derivative records of the draft. Shape: at most one a record, by key.</param>
public sealed record ReadingJudgement(IReadOnlyList<JudgedReading> Lines, IReadOnlyList<RecordChange> Changes)
{
    /// <summary>Judges readings of one source.</summary>
    /// <param name="before">The version of the table they are held against.</param>
    /// <param name="draft">What the proposal has made of it so far; the version itself where the proposal is new.</param>
    /// <param name="source">The source read in, a record of the draft that somebody can read.</param>
    /// <param name="readings">The readings. Shape: at most one a line.</param>
    /// <remarks>
    /// A value that agrees with a recalled record makes that record one of the source; with a record of another source, or with
    /// none, it becomes a record of its own beside them. A line typed again into one draft begins with what the version has.
    /// States of verification follow <see cref="TableAgreement"/>.
    /// </remarks>
    public static ReadingJudgement Of(ReferenceTable before, ReferenceTable draft, Source source, IReadOnlyList<LineReading> readings)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(draft);
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(readings);
        var records = new WorkingRecords(before, draft, source);
        var listed = before.Derivatives.ToLookup(SheetPlace.Of);
        var lines = new List<JudgedReading>();
        foreach (var reading in readings)
        {
            var verdict = VerdictOf(reading, listed[SheetPlace.Of(reading.Line)]);
            lines.Add(new JudgedReading(reading, verdict));
            if (verdict is ReadingVerdict.Agrees or ReadingVerdict.Differs)
            {
                records.Take(reading);
            }
        }

        return new ReadingJudgement(lines, records.Changes());
    }

    private static ReadingVerdict VerdictOf(LineReading reading, IEnumerable<Derivative> listed) =>
        reading.TakesTwo && !reading.Others.Any(reading.Value.IsSame)
            ? reading.Others.Count == 0 ? ReadingVerdict.AwaitsSecondReader : ReadingVerdict.ReadersDiffer
        : reading.Value.Range is null ? ReadingVerdict.NotPrinted
        : listed.Any(reading.Value.IsSame) ? ReadingVerdict.Agrees
        : ReadingVerdict.Differs;

    // The derivative records of the draft while the readings are taken into them.
    private sealed class WorkingRecords(ReferenceTable before, ReferenceTable draft, Source source)
    {
        private readonly Dictionary<string, Derivative> _before = before.Derivatives.ToDictionary(row => row.Key, StringComparer.Ordinal);
        private readonly Dictionary<string, Derivative> _draft = draft.Derivatives.ToDictionary(row => row.Key, StringComparer.Ordinal);
        private readonly Dictionary<string, Derivative> _now = draft.Derivatives.ToDictionary(row => row.Key, StringComparer.Ordinal);
        private readonly Dictionary<string, Source> _sources = draft.Sources.ToDictionary(row => row.Key, StringComparer.Ordinal);
        private readonly HashSet<(string, string, int)> _touched = [];

        public void Take(LineReading reading)
        {
            var place = SheetPlace.Of(reading.Line);
            _touched.Add((place.ParentKey, place.KindKey, place.CarbonylsCondensed));
            var listed = At(place);
            if (listed.Exists(row => row.SourceKey == source.Key && _before.GetValueOrDefault(row.Key)?.SourceKey != source.Key))
            {
                // Typed into this draft before: what came of that goes.
                listed.ForEach(row => Put(row.Key, _before.GetValueOrDefault(row.Key)));
                listed = At(place);
            }

            // Preferred: what cites the source already, then what nobody has read.
            var same = listed.Where(reading.Value.IsSame)
                .OrderBy(row => row.SourceKey != source.Key).ThenBy(row => !IsRecalled(row)).FirstOrDefault();
            var own = listed.Find(row => row.SourceKey == source.Key);
            if (same is not null)
            {
                Agree(same, reading);
            }
            else if (own is not null)
            {
                Put(own.Key, Printed(own, reading) with
                {
                    Note = Noted(own.Note, $"Read anew by the verification desk; {own.RangeInWords()} before."),
                });
            }
            else
            {
                AddBeside(reading, listed);
            }
        }

        public IReadOnlyList<RecordChange> Changes()
        {
            Restate();
            return
            [
                .. _draft.Keys.Union(_now.Keys, StringComparer.Ordinal)
                    .Select(key => new RecordChange(RecordKinds.Derivatives, key, _draft.GetValueOrDefault(key), _now.GetValueOrDefault(key)))
                    .Where(change => !Equals(change.Before, change.After))
                    .OrderBy(change => change.Key, StringComparer.Ordinal),
            ];
        }

        private void Agree(Derivative same, LineReading reading)
        {
            if (same.SourceKey == source.Key)
            {
                Put(same.Key, same with { Locator = same.Locator ?? reading.Locator, ColourKey = same.ColourKey ?? reading.Value.ColourKey });
            }
            else if (IsRecalled(same))
            {
                var colour = same.ColourKey is { } known && reading.Value.ColourKey is null ? $"The colour, {known}, is not from this source." : null;
                Put(same.Key, Printed(same, reading) with { Note = Noted(same.Note, colour) });
            }
            else
            {
                var key = NextKey(same.Key);
                Put(key, Printed(same, reading) with { Key = key, ColourKey = reading.Value.ColourKey, Note = null });
            }
        }

        private void AddBeside(LineReading reading, List<Derivative> listed)
        {
            var key = NextKey(reading.Line.Key);
            Put(key, Printed(reading.Line, reading) with
            {
                Key = key,
                ColourKey = reading.Value.ColourKey,
                IsUnusual = false,
                Note = listed.Count == 0 ? null : $"Differs from {string.Join(", ", listed.Select(row => $"{row.Key} ({row.RangeInWords()}, {row.SourceKey})"))}.",
            });

            // In the draft the line's own record may be gone; then there is nothing to say it at.
            if (listed.Find(row => row.Key == reading.Line.Key) is { } ours)
            {
                var where = reading.Locator is { } locator ? $", {locator}," : "";
                Put(ours.Key, ours with { Note = Noted(ours.Note, $"{source.Key}{where} prints {reading.Value.AsPrinted}, see {key}.") });
            }
        }

        // A record as the source prints it.
        private Derivative Printed(Derivative like, LineReading reading)
        {
            var range = reading.Value.Range!.Value;
            return like with
            {
                LowCelsius = range.OnsetCelsius,
                HighCelsius = range.ClearPointCelsius,
                Decomposes = range.Decomposes,
                ColourKey = reading.Value.ColourKey ?? like.ColourKey,
                SourceKey = source.Key,
                Locator = reading.Locator,
                AsPrinted = reading.Value.AsPrinted!,
                Corrected = null,
                Verification = Verification.Read,
                MeasuredBy = null,
                Instrument = null,
                Determinations = null,
                MeanCelsius = null,
                SpreadCelsius = null,
            };
        }

        // A value read in a source of another family within a few degrees confirms its neighbours, and one moved to another family may
        // no longer do so.
        private void Restate()
        {
            var table = draft.With(RecordKinds.Derivatives, _now.Values.OrderBy(row => row.Key, StringComparer.Ordinal));
            var records = table.Derivatives.Zip(PrintedSpan.AllOf(table)).Where(each =>
                _touched.Contains((each.First.ParentKey, each.First.KindKey, each.First.CarbonylsCondensed)));
            foreach (var group in records.GroupBy(each => (each.Second.ParentKey, each.Second.Quantity)).Select(group => group.ToList()).ToList())
            {
                var all = group.ConvertAll(each => each.Second);
                foreach (var (record, span) in group)
                {
                    var state = record.Verification == Verification.Measured ? Verification.Measured
                        : TableAgreement.IsConfirmed(span, all) ? Verification.CrossChecked
                        : IsRecalled(record) ? Verification.Recalled
                        : Verification.Read;
                    Put(record.Key, record with { Verification = state });
                }
            }
        }

        // What was measured stands for itself: no print agrees with it or takes its place.
        private List<Derivative> At(SheetPlace place) =>
            [.. _now.Values.Where(row => SheetPlace.Of(row) == place && row.Verification != Verification.Measured).OrderBy(row => row.Key, StringComparer.Ordinal)];

        private bool IsRecalled(Derivative row) => _sources[row.SourceKey].HowRead == SourceReading.Memory;

        private void Put(string key, Derivative? record)
        {
            if (record is null)
            {
                _now.Remove(key);
            }
            else
            {
                _now[key] = record;
            }
        }

        // Keys end in a number: propanone-oxime-2.
        private string NextKey(string key)
        {
            var stem = key.TrimEnd('0', '1', '2', '3', '4', '5', '6', '7', '8', '9');
            stem = stem.EndsWith('-') ? stem : key + "-";
            return Enumerable.Range(2, int.MaxValue - 2).Select(number => FormattableString.Invariant($"{stem}{number}"))
                .First(free => !_now.ContainsKey(free) && !_before.ContainsKey(free));
        }

        private static string? Noted(string? note, string? more) =>
            more is null ? note : note is null ? more : note.TrimEnd() is var kept && kept.EndsWith('.') ? $"{kept} {more}" : $"{kept}. {more}";
    }
}

/// <summary>A reading about to be judged.</summary>
/// <param name="Line">The record whose line it is, of the version it is held against.</param>
/// <param name="Value">What was typed.</param>
/// <param name="Locator">Page, table or entry. Missing: null.</param>
/// <param name="Others">What each other person typed last for this line and source.</param>
/// <param name="TakesTwo">Whether it counts only once two people have typed the same.</param>
public sealed record LineReading(Derivative Line, PrintedValue Value, string? Locator, IReadOnlyList<PrintedValue> Others, bool TakesTwo);

/// <summary>A reading and what became of it.</summary>
/// <param name="Reading">The reading.</param>
/// <param name="Verdict">What became of it.</param>
public sealed record JudgedReading(LineReading Reading, ReadingVerdict Verdict);
