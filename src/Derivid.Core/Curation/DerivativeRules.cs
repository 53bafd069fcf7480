using Derivid.Core.Compounds;
using Derivid.Core.Curation.Readings;
using Derivid.Core.Melting;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>What holds for a derivative record.</summary>
internal static class DerivativeRules
{
    // Records of one form are weighed and compared with each other, so one form is written in one way; see the seed tables' README.
    private static readonly string[] Forms =
    [
        "E", "Z", "E-Z-mixture", "syn", "anti", "alpha", "beta", "isomer-a", "isomer-b", "modification-a", "modification-b",
        "modification-c", "other-modification", "syn-modification-b", "optically-active-modification-b",
        "low-melting-modification", "high-melting-modification", "racemic", "optically-active",
    ];

    public static void Check(Derivative derivative, TableIndex index, RecordFindings findings)
    {
        var parent = index.Find(RecordKinds.Parents, derivative.ParentKey);
        var kind = index.Find(RecordKinds.DerivativeKinds, derivative.KindKey);
        findings.Expect(derivative.Form is null || Forms.Contains(derivative.Form), nameof(derivative.Form), derivative.Form,
            $"empty, or one of {string.Join(", ", Forms)}; written otherwise it is another form");
        SourceRules.CheckState(derivative.SourceKey, derivative.Verification, index, findings);
        CheckRange(derivative, findings);
        MeasurementRules.Check(Measurement.Of(derivative), nameof(derivative.MeanCelsius), nameof(derivative.SpreadCelsius), findings);
        findings.Require(
            derivative.Verification != Verification.Measured || derivative.AsPrinted is null, nameof(derivative.AsPrinted), derivative.AsPrinted,
            "empty, since what was measured is printed nowhere");
        findings.Require(derivative.CarbonylsCondensed is 1 or 2, nameof(derivative.CarbonylsCondensed), derivative.CarbonylsCondensed, "1 or 2");
        if (parent is not null && index.EnvironmentOf(parent.Smiles) is { } environment)
        {
            CheckCarbonyls(derivative, parent, kind, environment, findings);
        }

        if (kind is not null)
        {
            var isUsual = derivative.LowCelsius >= kind.UsualLowCelsius && derivative.HighCelsius <= kind.UsualHighCelsius;
            findings.Expect(
                isUsual || derivative.IsUnusual, nameof(derivative.LowCelsius), derivative.RangeInWords(), FormattableString.Invariant(
                    $"usually {kind.UsualLowCelsius} to {kind.UsualHighCelsius} °C for this kind; look again, and if it stands, mark it as unusual"));
            findings.Expect(
                !(isUsual && derivative.IsUnusual), nameof(derivative.IsUnusual), derivative.IsUnusual, FormattableString.Invariant(
                    $"unmarked: it lies in the usual span of the kind, {kind.UsualLowCelsius} to {kind.UsualHighCelsius} °C"));
        }
    }

    private static void CheckRange(Derivative derivative, RecordFindings findings)
    {
        findings.Require(derivative.LowCelsius <= derivative.HighCelsius, nameof(derivative.LowCelsius), derivative.LowCelsius,
            FormattableString.Invariant($"at most the upper end, {derivative.HighCelsius} °C"));
        findings.Require(derivative.LowCelsius >= MeltingRange.LowestCelsius, nameof(derivative.LowCelsius), derivative.LowCelsius,
            FormattableString.Invariant($"{MeltingRange.LowestCelsius} °C or more"));
        findings.Require(derivative.HighCelsius <= MeltingRange.HighestCelsius, nameof(derivative.HighCelsius), derivative.HighCelsius,
            FormattableString.Invariant($"{MeltingRange.HighestCelsius} °C or less"));
        if (derivative.AsPrinted is null)
        {
            return;
        }

        var read = MeltingRangeText.Parse(derivative.AsPrinted);
        if (read.Range is not { } printed)
        {
            findings.Require(false, nameof(derivative.AsPrinted), derivative.AsPrinted, read.Problem ?? MeltingRangeText.Allowed);
            return;
        }

        // As it reads, or, printed in another unit, as the verification desk keeps it.
        findings.Require(
            new[] { printed, PrintedValue.RangeOf(derivative.AsPrinted)!.Value }.Any(range => range.OnsetCelsius == derivative.LowCelsius
                && range.ClearPointCelsius == derivative.HighCelsius && range.Decomposes == derivative.Decomposes),
            nameof(derivative.AsPrinted), derivative.AsPrinted, FormattableString.Invariant(
                $"the figures of the record, {derivative.LowCelsius} to {derivative.HighCelsius} °C{(derivative.Decomposes ? " with dec." : " without dec.")}"));
    }

    private static void CheckCarbonyls(
        Derivative derivative, Parent parent, DerivativeKind? kind, CarbonylEnvironment environment, RecordFindings findings)
    {
        var forms = kind is null || !StructureClass.TryParse(kind.AppliesTo, out var appliesTo, out _) || appliesTo.Matches(environment.Features);
        findings.Require(forms, nameof(derivative.KindKey), derivative.KindKey,
            $"a kind that {derivative.ParentKey} can form; this one needs {kind?.AppliesTo}");
        if (parent.Kind != ParentKind.Masked)
        {
            findings.Require(
                derivative.CarbonylsCondensed <= environment.CarbonylGroups, nameof(derivative.CarbonylsCondensed),
                derivative.CarbonylsCondensed, FormattableString.Invariant($"at most {environment.CarbonylGroups}, the carbonyl groups of the parent"));
        }
    }
}
