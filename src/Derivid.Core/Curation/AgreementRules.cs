using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>Where the literature disagrees, and where a state of verification claims more or less than the table shows.</summary>
internal static class AgreementRules
{
    public static void Check(ReferenceTable table, List<TableFinding> found)
    {
        var keys = table.Derivatives.Select(row => ((RecordKind)RecordKinds.Derivatives, row.Key)).Concat(table.Constants
            .Where(row => row.Property != ParentProperty.EnthalpyOfFusion)
            .Select(row => ((RecordKind)RecordKinds.ParentConstants, RecordKinds.ParentConstants.KeyOf(row))));
        var spans = PrintedSpan.AllOf(table).Zip(keys, (span, key) => (Span: span, Kind: key.Item1, Key: key.Item2));
        foreach (var group in spans.GroupBy(entry => (entry.Span.ParentKey, entry.Span.Quantity)))
        {
            var entries = group.ToList();
            var all = entries.ConvertAll(entry => entry.Span);
            foreach (var (index, entry) in entries.Index())
            {
                var findings = new RecordFindings(entry.Kind, entry.Key, found);
                CheckState(entry.Span, all, findings);
                CheckGap(entry.Span, all.Take(index), entry.Kind, findings);
            }
        }
    }

    // One finding a record, about the earlier record furthest from it: a pair is told once, and many records of one
    // thing don't make a finding of every pair.
    private static void CheckGap(PrintedSpan span, IEnumerable<PrintedSpan> earlier, RecordKind kind, RecordFindings findings)
    {
        if (earlier.Where(span.IsOfTheSame).MaxBy(span.GapCelsius) is not { } furthest)
        {
            return;
        }

        var gap = span.GapCelsius(furthest);
        var field = kind == RecordKinds.Derivatives ? nameof(Derivative.LowCelsius) : nameof(ParentConstant.Low);
        findings.Expect(gap <= TableAgreement.ClashesAboveCelsius, field, Text(span), FormattableString.Invariant(
            $"{Figure.Text(gap, decimals: 2)} °C from {Text(furthest)} of {furthest.Source.Key}; more than {TableAgreement.ClashesAboveCelsius} °C apart, look at both sources. Both may stay"));
    }

    private static void CheckState(PrintedSpan span, List<PrintedSpan> all, RecordFindings findings)
    {
        if (span.Verification == Verification.Measured)
        {
            // A measurement stays one whoever prints the same; it is the print that is confirmed by it.
            return;
        }

        var isConfirmed = TableAgreement.IsConfirmed(span, all);
        findings.Expect(
            isConfirmed == (span.Verification == Verification.CrossChecked), nameof(span.Verification), span.Verification,
            isConfirmed ? "cross-checked: a source of another family, or a measurement, confirms it" : "recalled or read: no source of another family and no measurement confirms it");
    }

    private static string Text(PrintedSpan span) => $"{Figure.Span(span.LowCelsius, span.HighCelsius, decimals: 2)} °C";
}
