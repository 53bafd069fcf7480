using Derivid.Core.Compounds;
using Derivid.Core.Melting;

namespace Derivid.Core.Curation;

/// <summary>What holds for a parent's constants and for melting-point standards.</summary>
internal static class ConstantRules
{
    private const double HighestEnthalpy = 500_000;
    private const double HighestPressure = 1000;

    public static void Check(ParentConstant constant, TableIndex index, RecordFindings findings)
    {
        SourceRules.CheckState(constant.SourceKey, constant.Verification, index, findings);
        MeasurementRules.Check(Measurement.Of(constant), nameof(constant.Mean), nameof(constant.Spread), findings);
        findings.Require(constant.Low <= constant.High, nameof(constant.Low), constant.Low,
            FormattableString.Invariant($"at most the upper end, {constant.High}"));
        var isEnthalpy = constant.Property == ParentProperty.EnthalpyOfFusion;
        var (least, most, unit) = isEnthalpy
            ? (0, HighestEnthalpy, "J/mol") : (MeltingRange.LowestCelsius, MeltingRange.HighestCelsius, "°C");
        findings.Require(constant.Low >= least, nameof(constant.Low), constant.Low, FormattableString.Invariant($"{least} {unit} or more"));
        findings.Require(constant.High <= most, nameof(constant.High), constant.High, FormattableString.Invariant($"{most} {unit} or less"));
        var boils = constant.Property == ParentProperty.BoilingPoint;
        findings.Require(
            boils ? constant.PressureKilopascals is > 0 and <= HighestPressure : constant.PressureKilopascals is null,
            nameof(constant.PressureKilopascals), constant.PressureKilopascals,
            boils ? "the pressure of the boiling point, above 0 and at most 1000 kPa" : "no pressure, except for a boiling point");
    }

    public static void Check(MeltingPointStandard standard, TableIndex index, RecordFindings findings)
    {
        findings.Require(Compounds.CasNumber.IsValid(standard.CasNumber), nameof(standard.CasNumber), standard.CasNumber,
            Compounds.CasNumber.Allowed);
        findings.Require(
            standard.ClearPointCelsius is >= MeltingRange.LowestCelsius and <= MeltingRange.HighestCelsius,
            nameof(standard.ClearPointCelsius), standard.ClearPointCelsius, MeltingRange.Bounds);
        SourceRules.CheckState(standard.SourceKey, standard.Verification, index, findings);
        findings.Require(standard.Verification != Verification.Measured, nameof(standard.Verification), standard.Verification,
            "recalled, read or cross-checked; a standard is certified, and thermometers are judged by it");
    }
}
