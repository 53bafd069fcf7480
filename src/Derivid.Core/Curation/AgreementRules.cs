using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>Where the literature disagrees, and where a state of verification claims more or less than the table shows.</summary>
internal static class AgreementRules
{
    public static void Check(ReferenceTable table, List<TableFinding> found)
    {
        var keys = table.Derivatives.Select(row => (RecordKind.Derivative, row.Key)).Concat(table.Constants
            .Where(row => row.Property != ParentProperty.EnthalpyOfFusion)
            .Select(row => (RecordKind.ParentConstant, RecordTypes.Of(RecordKind.ParentConstant).KeyOf(row))));
        var spans = PrintedSpan.AllOf(table).Zip(keys, (span, key) => (Span: span, Kind: key.Item1, Key: key.Item2));
        foreach (var group in spans.GroupBy(entry => (entry.Span.ParentKey, entry.Span.Subject)))
        {
            var entries = group.ToList();
            foreach (var entry in entries)
            {
                CheckState(entry.Span, entries.Select(other => other.Span), new RecordFindings(entry.Kind, entry.Key, found));
            }

            foreach (var (first, second, gap) in TableAgreement.Clashes(entries.Select(entry => entry.Span))
                .Where(clash => clash.GapCelsius > TableAgreement.ClashesAboveCelsius))
            {
                var later = entries.First(entry => ReferenceEquals(entry.Span, second));
                new RecordFindings(later.Kind, later.Key, found).Expect(false, "LowCelsius", Text(second), FormattableString.Invariant(
                    $"{gap:0.##} °C from {Text(first)} of {first.Source.Key}; more than {TableAgreement.ClashesAboveCelsius} °C apart, look at both sources. Both may stay"));
            }
        }
    }

    private static void CheckState(PrintedSpan span, IEnumerable<PrintedSpan> all, RecordFindings findings)
    {
        var isConfirmed = TableAgreement.IsConfirmed(span, all);
        findings.Expect(
            isConfirmed == (span.Verification == Verification.CrossChecked), nameof(span.Verification), span.Verification,
            isConfirmed ? "cross-checked: a source of another family confirms it" : "recalled or read: no source of another family confirms it");
    }

    private static string Text(PrintedSpan span) => span.LowCelsius == span.HighCelsius
        ? FormattableString.Invariant($"{span.LowCelsius} °C")
        : FormattableString.Invariant($"{span.LowCelsius}-{span.HighCelsius} °C");
}
