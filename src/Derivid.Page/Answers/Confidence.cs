using Derivid.Core;
using Derivid.Core.Compounds;

namespace Derivid.Page.Answers;

/// <summary>Probabilities, hazards and states of verification in words.</summary>
public static class Confidence
{
    /// <summary>How sure something is, as a reader says it.</summary>
    /// <param name="probability">Bounds: 0 to 1.</param>
    public static string Of(double probability) => probability switch
    {
        >= 0.99 => "almost certainly",
        >= 0.9 => "very probably",
        >= 0.75 => "probably",
        >= 0.5 => "more likely than not",
        >= 0.25 => "possibly",
        _ => "perhaps",
    };

    /// <summary>A class of hazard.</summary>
    /// <param name="hazard">The class.</param>
    public static string Of(Hazard hazard) => hazard switch
    {
        Hazard.Low => "low",
        Hazard.Moderate => "moderate",
        Hazard.High => "high",
    };

    /// <summary>How far a value was followed back.</summary>
    /// <param name="verification">How far.</param>
    public static string Of(Verification verification) => verification switch
    {
        Verification.Recalled => "recalled",
        Verification.Read => "read",
        Verification.CrossChecked => "cross-checked",
        Verification.Measured => "measured for the table",
    };

    /// <summary>How far a melting range was followed back; of a measured one by whom, with what, how often, mean and spread.</summary>
    /// <param name="row">The record.</param>
    public static string Of(Derivative row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return Of(row.Verification) + Measured(row.MeasuredBy, row.Instrument, row.Determinations, row.MeanCelsius, row.SpreadCelsius, " °C");
    }

    /// <inheritdoc cref="Of(Derivative)"/>
    public static string Of(ParentConstant row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return Of(row.Verification) + Measured(
            row.MeasuredBy, row.Instrument, row.Determinations, row.Mean, row.Spread, row.Property == ParentProperty.EnthalpyOfFusion ? " J/mol" : " °C");
    }

    private static string Measured(string? by, string? instrument, int? times, double? mean, double? spread, string unit) => by is null
        ? ""
        : $" by {by}, {instrument}, n = {times}, mean {Figure.Text(mean ?? 0, 2)}{unit}{(spread is { } known ? $", standard deviation {Figure.Text(known, 2)}{unit}" : "")}";
}
