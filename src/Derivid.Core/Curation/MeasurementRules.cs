using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>What a record says of a measurement of one's own, whatever it is a record of.</summary>
internal readonly record struct Measurement(
    Verification Verification, double Low, double High, string? By, string? Instrument, int? Determinations, double? Mean, double? Spread)
{
    public static Measurement Of(Derivative record) => new(
        record.Verification, record.LowCelsius, record.HighCelsius, record.MeasuredBy, record.Instrument, record.Determinations,
        record.MeanCelsius, record.SpreadCelsius);

    public static Measurement Of(ParentConstant record) => new(
        record.Verification, record.Low, record.High, record.MeasuredBy, record.Instrument, record.Determinations, record.Mean, record.Spread);
}

/// <summary>Whoever claims a measurement says who, with what, how often, mean and spread; nothing else has these.</summary>
internal static class MeasurementRules
{
    private const int MostDeterminations = 1000;
    private const string OfMeasured = "nothing, unless the record is measured";

    public static void Check(Measurement given, string meanField, string spreadField, RecordFindings findings)
    {
        var isMeasured = given.Verification == Verification.Measured;
        findings.Require(given.By is not null == isMeasured, nameof(Derivative.MeasuredBy), given.By, isMeasured ? "who measured it" : OfMeasured);
        findings.Require(
            given.Instrument is not null == isMeasured, nameof(given.Instrument), given.Instrument, isMeasured ? "what it was measured with" : OfMeasured);
        findings.Require(
            isMeasured ? given.Determinations is >= 1 and <= MostDeterminations : given.Determinations is null,
            nameof(given.Determinations), given.Determinations, isMeasured ? "how often it was measured, 1 to 1000" : OfMeasured);
        findings.Require(
            isMeasured ? given.Mean >= given.Low && given.Mean <= given.High : given.Mean is null, meanField, given.Mean,
            isMeasured ? FormattableString.Invariant($"the mean, from {given.Low} to {given.High}, the ends of the record") : OfMeasured);
        findings.Require(
            isMeasured && given.Determinations is not 1 ? given.Spread >= 0 : given.Spread is null, spreadField, given.Spread,
            !isMeasured ? OfMeasured
            : given.Determinations is 1 ? "nothing, since one determination has no spread"
            : "the sample standard deviation, 0 or more");
    }
}
