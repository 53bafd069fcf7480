namespace Derivid.Core.Compounds;

/// <summary>One printed span of °C in the table, whatever record it comes from, ready to be held against another.</summary>
/// <param name="ParentKey">The parent it is of.</param>
/// <param name="Quantity">What was measured, so that two spans can be held against each other.</param>
/// <param name="Subject">The same in words, such as "oxime", "oxime, bis" or "boiling point".</param>
/// <param name="Form">The form it is of. Missing: null, unstated.</param>
/// <param name="LowCelsius">Lower end. Units: °C.</param>
/// <param name="HighCelsius">Upper end. Units: °C.</param>
/// <param name="Source">The source that prints it.</param>
/// <param name="Verification">How far it was followed back.</param>
public sealed record PrintedSpan(
    string ParentKey,
    PrintedQuantity Quantity,
    string Subject,
    string? Form,
    double LowCelsius,
    double HighCelsius,
    Source Source,
    Verification Verification)
{
    /// <summary>Every melting range of a derivative and every boiling and melting point of a parent.</summary>
    /// <returns>Shape: derivatives first, each list in the order of the table.</returns>
    public static IReadOnlyList<PrintedSpan> AllOf(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var sources = table.Sources.ToDictionary(source => source.Key);
        var kinds = table.Kinds.ToDictionary(kind => kind.Key);
        var derivatives = table.Derivatives.Select(derivative => new PrintedSpan(
            derivative.ParentKey,
            new PrintedQuantity(derivative.KindKey, derivative.CarbonylsCondensed, null),
            kinds[derivative.KindKey].Name + (derivative.CarbonylsCondensed == 2 ? ", bis" : ""),
            derivative.Form,
            derivative.LowCelsius,
            derivative.HighCelsius,
            sources[derivative.SourceKey],
            derivative.Verification));
        var constants = table.Constants
            .Where(constant => constant.Property != ParentProperty.EnthalpyOfFusion)
            .Select(constant => new PrintedSpan(
                constant.ParentKey,
                new PrintedQuantity(null, 0, constant.Property),
                constant.Property == ParentProperty.BoilingPoint ? "boiling point" : "melting point",
                null,
                constant.Low,
                constant.High,
                sources[constant.SourceKey],
                constant.Verification));
        return [.. derivatives, .. constants];
    }

    /// <summary>Whether the two are of one thing: same parent, same quantity, and the same form or a form unstated.</summary>
    public bool IsOfTheSame(PrintedSpan other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return ParentKey == other.ParentKey
            && Quantity == other.Quantity
            && (Form is null || other.Form is null || Form == other.Form);
    }

    /// <summary>Whether neither source can have copied the other. What was measured is copied from no print, whatever family its source is of.</summary>
    public bool IsIndependentOf(PrintedSpan other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return Source.Family != other.Source.Family
            || (Verification == Verification.Measured) != (other.Verification == Verification.Measured);
    }

    /// <summary>How far the nearer ends lie apart. Units: °C, a difference. 0 where the spans meet.</summary>
    public double GapCelsius(PrintedSpan other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return Math.Max(0, Math.Max(LowCelsius, other.LowCelsius) - Math.Min(HighCelsius, other.HighCelsius));
    }
}

/// <summary>What a printed span is a measurement of.</summary>
/// <param name="KindKey">The derivative kind. Missing: null, a constant of the parent.</param>
/// <param name="CarbonylsCondensed">Carbonyl groups that reacted; 0 for a constant.</param>
/// <param name="Property">The constant. Missing: null, a derivative.</param>
public sealed record PrintedQuantity(string? KindKey, int CarbonylsCondensed, ParentProperty? Property);
