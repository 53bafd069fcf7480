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
    private const double LargestDecimal = 1e9;
    private const double RoundingOfBinary = 1e-9;
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
        if (isMeasured && given is { Determinations: >= 2 and <= MostDeterminations, Spread: >= 0 } && given.Low <= given.High)
        {
            CheckSpread(given, given.Determinations.Value, given.Spread.Value, spreadField, findings);
        }
    }

    /// <remarks>
    /// Popoviciu's inequality: values from low to high have a variance, divided by their number, of at most ((high - low) / 2)²;
    /// Bessel's correction, n / (n - 1), makes it that of a sample. Source: T. Popoviciu, Mathematica (Cluj) 1935, 9, 129-145; recalled.
    /// </remarks>
    private static void CheckSpread(Measurement given, int determinations, double spread, string field, RecordFindings findings)
    {
        var most = (given.High - given.Low) / 2 * Math.Sqrt(determinations / (determinations - 1.0));
        findings.Require(spread > 0 || given.Low == given.High, field, spread, FormattableString.Invariant(
            $"more than 0, since the values differ: they run from {given.Low} to {given.High}"));
        findings.Require(spread - HalfOfLastPlace(spread) <= most, field, spread, FormattableString.Invariant(
            $"at most {Figure.Text(most, decimals: 3)}: {determinations} values from {given.Low} to {given.High} have no larger sample standard deviation (Popoviciu's inequality with Bessel's correction)"));
    }

    // A spread is written rounded: 0.0707 as 0.1, 0.07 or 0.071.
    private static double HalfOfLastPlace(double spread) =>
        0.5 * Math.Pow(10, -((decimal)Math.Min(spread, LargestDecimal)).Scale) + RoundingOfBinary;
}
