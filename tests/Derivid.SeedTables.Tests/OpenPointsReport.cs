using System.Globalization;
using System.Text;
using Derivid.Core.Compounds;
using Derivid.Core.Curation.Readings;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;

namespace Derivid.SeedTables.Tests;

/// <summary>Writes curator-to-do.md: what the curators still have to settle.</summary>
internal static class OpenPointsReport
{
    public const string FileName = "curator-to-do.md";

    private const int MostWorthShown = 100;

    public static string Of(ReferenceTable table, IReadOnlyList<LeftOut> leftOut)
    {
        var text = new StringBuilder();
        text.Append(
            "# Open points of the seed tables\n\n" +
            "Generated from the tables; rewritten by the reseal of README.md, never by hand.\n\n");
        var spans = PrintedSpan.AllOf(table);
        AppendWorthChecking(text, table);
        AppendClashes(text, Clashes(spans));
        AppendContradicted(text, table);
        AppendLeftOut(text, leftOut);
        AppendUnconfirmed(text, table);
        AppendLoneParents(text, table);
        return text.ToString();
    }

    private static void AppendWorthChecking(StringBuilder text, ReferenceTable table)
    {
        var worth = CheckingWorth.Of(TableSnapshot.Build(table, ModelSettingsReader.BuiltIn()));
        var deviations = CheckingWorth.Deviations(table);
        Line(text, $"## Most worth checking: the first {MostWorthShown} of {worth.Count} lines that nobody read or confirmed\n");
        Line(text, "How many more first answers would be right among a thousand unknowns, as common as the table says, that this kind");
        Line(text, $"of derivative is made of. Of {deviations.Count} lines whose recalled value was held against a source,");
        Line(text, $"{deviations.Count(celsius => Math.Abs(celsius) > TableAgreement.ConfirmsWithinCelsius)} were more than {TableAgreement.ConfirmsWithinCelsius} °C from the nearest.\n");
        Line(text, "| place | parent | kind | form | more right of 1,000 |\n|---|---|---|---|---|");
        foreach (var (place, line) in worth.Take(MostWorthShown).Index())
        {
            Line(text, $"| {place + 1} | {line.Record.ParentKey} | {line.Record.KindKey} | {line.Record.Form} | {line.MoreRight.ToString("0.00", CultureInfo.InvariantCulture)} |");
        }

        text.Append('\n');
    }

    private static void AppendClashes(StringBuilder text, IReadOnlyList<TableClash> clashes)
    {
        Line(text, $"## Clashes: {clashes.Count}\n");
        Line(text, $"Two records of one thing more than {TableAgreement.ClashesAboveCelsius} °C apart, or of two");
        Line(text, $"independent sources more than {TableAgreement.ConfirmsWithinCelsius} °C apart. Both stay in the table.\n");
        Line(text, "| parent | subject | one record (°C) | the other (°C) | apart (°C) |\n|---|---|---|---|---|");
        foreach (var clash in clashes)
        {
            var (one, other) = (clash.First, clash.Second);
            Line(text, $"| {one.ParentKey} | {one.Subject} | {Span(one)} | {Span(other)} | {Number(clash.GapCelsius)} |");
        }
    }

    // Every pair of spans of one thing that clash, or that independent sources do not confirm, widest gap first.
    private static List<TableClash> Clashes(IReadOnlyList<PrintedSpan> all) =>
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
                ? TableAgreement.ConfirmsWithinCelsius
                : TableAgreement.ClashesAboveCelsius))
            .OrderByDescending(pair => pair.GapCelsius);
    }

    private static void AppendContradicted(StringBuilder text, ReferenceTable table)
    {
        var printed = table.Derivatives.Zip(PrintedSpan.AllOf(table)).ToList();
        var rows = (
            from span in printed
            where span.First.Verification == Verification.Recalled
            let read = printed
                .Where(other => other.Second.IsOfTheSame(span.Second) && other.Second.IsIndependentOf(span.Second)
                    && other.Second.Source.HowRead != SourceReading.Memory)
                .Select(other => other.Second)
                .MinBy(span.Second.GapCelsius)
            where read is not null
            orderby read.GapCelsius(span.Second) descending
            select (span.First, Recalled: span.Second, Read: read)).ToList();
        Line(text, $"\n## Recalled values that read ones contradict: {rows.Count}\n");
        Line(text, "With the value read that is nearest, and what a curator settled.\n");
        Line(text, "| parent | subject | recalled (°C) | read (°C) | apart (°C) | note |\n|---|---|---|---|---|---|");
        foreach (var (derivative, recalled, read) in rows)
        {
            Line(text, $"| {recalled.ParentKey} | {recalled.Subject} | {Span(recalled)} | {Span(read)} | {Number(recalled.GapCelsius(read))} | {derivative.Note} |");
        }
    }

    private static void AppendLeftOut(StringBuilder text, IReadOnlyList<LeftOut> leftOut)
    {
        Line(text, $"\n## Left out: {leftOut.Count}\n");
        Line(text, "| parent | subject | as printed (°C) | source | reason |\n|---|---|---|---|---|");
        foreach (var value in leftOut)
        {
            Line(text, $"| {value.Parent} | {value.Subject} | {value.AsPrinted} | {value.SourceKey} | {value.Reason} |");
        }
    }

    private static void AppendUnconfirmed(StringBuilder text, ReferenceTable table)
    {
        Line(text, "\n## State of verification\n");
        Line(text, "| kind | records | recalled only | read | cross-checked | measured |\n|---|---|---|---|---|---|");
        foreach (var kind in table.Kinds)
        {
            var records = table.Derivatives.Where(derivative => derivative.KindKey == kind.Key).ToList();
            var counts = string.Join(" | ", Enum.GetValues<Verification>()
                .Select(state => records.Count(record => record.Verification == state)));
            Line(text, $"| {kind.Name} | {records.Count} | {counts} |");
        }
    }

    private static void AppendLoneParents(StringBuilder text, ReferenceTable table)
    {
        var lone = table.Derivatives
            .GroupBy(derivative => derivative.ParentKey)
            .Where(group => group.Select(derivative => derivative.KindKey).Distinct().Count() == 1)
            .OrderBy(group => group.Key, StringComparer.Ordinal)
            .ToList();
        Line(text, $"\n## Parents with derivatives of one kind only: {lone.Count}\n");
        foreach (var group in lone)
        {
            Line(text, $"- {group.Key}: {group.First().KindKey}");
        }
    }

    private static string Span(PrintedSpan span)
    {
        var numbers = span.LowCelsius == span.HighCelsius
            ? Number(span.LowCelsius)
            : $"{Number(span.LowCelsius)}-{Number(span.HighCelsius)}";
        var form = span.Form is null ? "" : $" {span.Form}";
        return $"{numbers}{form} ({span.Source.Key})";
    }

    private static string Number(double celsius) => celsius.ToString("0.##", CultureInfo.InvariantCulture);

    private static void Line(StringBuilder text, string line) => text.Append(line).Append('\n');

    private sealed record TableClash(PrintedSpan First, PrintedSpan Second, double GapCelsius);
}
