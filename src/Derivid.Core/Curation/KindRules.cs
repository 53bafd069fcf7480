using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>What holds for a derivative kind.</summary>
internal static class KindRules
{
    private const int MostMinutes = 10_000;

    public static void Check(DerivativeKind kind, RecordFindings findings)
    {
        ParentRules.CheckSubstance(
            new ParentRules.Substance(kind.ReagentSmiles, kind.ReagentFormula, kind.ReagentMolarMass),
            (nameof(kind.ReagentSmiles), nameof(kind.ReagentFormula), nameof(kind.ReagentMolarMass)), findings);
        findings.Require(kind.ReagentsPerCarbonyl is >= 1 and <= 4, nameof(kind.ReagentsPerCarbonyl), kind.ReagentsPerCarbonyl, "1 to 4");
        findings.Require(kind.WatersPerCarbonyl is >= 0 and <= 4, nameof(kind.WatersPerCarbonyl), kind.WatersPerCarbonyl, "0 to 4");
        CheckClass(kind.AppliesTo, nameof(kind.AppliesTo), findings);
        findings.Require(kind.ClosesTo is null || Enum.IsDefined(kind.ClosesTo.Value), nameof(kind.ClosesTo), kind.ClosesTo,
            "one of " + string.Join(", ", Enum.GetNames<ClosedRing>()) + ", or nothing");
        findings.Require(
            kind.UsualLowCelsius >= MeltingRange.LowestCelsius && kind.UsualLowCelsius < kind.UsualHighCelsius
            && kind.UsualHighCelsius <= MeltingRange.HighestCelsius,
            nameof(kind.UsualLowCelsius), kind.UsualLowCelsius, "below the usual highest, both " + MeltingRange.Bounds);
        findings.Require(
            kind.ReagentMeltingCelsius is null or (>= MeltingRange.LowestCelsius and <= MeltingRange.HighestCelsius),
            nameof(kind.ReagentMeltingCelsius), kind.ReagentMeltingCelsius, MeltingRange.Bounds);
        CheckMinutes(kind.Minutes, nameof(kind.Minutes), findings);
    }

    public static void CheckMinutes(double minutes, string field, RecordFindings findings) => findings.Require(
        minutes is > 0 and <= MostMinutes, field, minutes, FormattableString.Invariant($"above 0 and at most {MostMinutes} min"));

    public static void CheckClass(string text, string field, RecordFindings findings)
    {
        if (!StructureClass.TryParse(text, out _, out var error))
        {
            findings.Require(false, field, text, error ?? "structure features joined by \"+\"");
        }
    }
}
