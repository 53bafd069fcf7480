using Derivid.Core.Structures;

namespace Derivid.Core.Compounds;

/// <summary>One printed melting range of one derivative of one parent.</summary>
/// <remarks>
/// Several records for one pair of parent and kind are normal: the literature disagrees, and polymorphs and E/Z forms
/// melt apart. Nothing is averaged here.
/// </remarks>
public record Derivative
{
    /// <summary>Stable key of the record; unique in a table.</summary>
    public required string Key { get; init; }

    /// <summary>The parent it was made from.</summary>
    public required string ParentKey { get; init; }

    /// <summary>Which kind of derivative it is.</summary>
    public required string KindKey { get; init; }

    /// <summary>Carbonyl groups that reacted: 1, or 2 for a bis-derivative.</summary>
    public required int CarbonylsCondensed { get; init; }

    /// <summary>Which polymorph, E/Z form, enantiomer or hydrate the record is of. Missing: null, unstated.</summary>
    public string? Form { get; init; }

    /// <summary>Lower end of the printed range. Units: °C.</summary>
    public required double LowCelsius { get; init; }

    /// <summary>Upper end of the printed range, equal to the lower where one figure is printed. Units: °C.</summary>
    public required double HighCelsius { get; init; }

    /// <summary>Whether it lies outside the usual span of its kind: a curator looked again, and it stands.</summary>
    public bool IsUnusual { get; init; }

    /// <summary>Whether the source says it melts with decomposition.</summary>
    public bool Decomposes { get; init; }

    /// <summary>Recorded colour, a key of the colour vocabulary. Missing: null.</summary>
    public string? ColourKey { get; init; }

    /// <summary>The source that prints the range.</summary>
    public required string SourceKey { get; init; }

    /// <summary>Table, page or entry in the source. Missing: null.</summary>
    public string? Locator { get; init; }

    /// <summary>The range as the source prints it, or as recalled. Missing: null, it was measured, or nobody took down the print.</summary>
    public string? AsPrinted { get; init; }

    /// <summary>Whether the source says the thermometer was corrected. Missing: null, unstated.</summary>
    public bool? Corrected { get; init; }

    /// <summary>How far the value was followed back.</summary>
    public required Verification Verification { get; init; }

    /// <summary>Who measured it. Missing: null, it is a printed value.</summary>
    public string? MeasuredBy { get; init; }

    /// <summary>What it was measured with. Missing: null, it is a printed value.</summary>
    public string? Instrument { get; init; }

    /// <summary>How many samples were melted. Missing: null, it is a printed value.</summary>
    public int? Determinations { get; init; }

    /// <summary>Mean of their clear points. Units: °C. Missing: null, it is a printed value.</summary>
    public double? MeanCelsius { get; init; }

    /// <summary>
    /// Sample standard deviation of their clear points. Units: °C, a difference. Missing: null, it is a printed value, or one sample
    /// was melted.
    /// </summary>
    public double? SpreadCelsius { get; init; }

    /// <summary>A curator's remark. Missing: null.</summary>
    public string? Note { get; init; }

    /// <summary>The range in words: as printed, or, where there is no print, as it was found.</summary>
    public string RangeInWords() => AsPrinted ?? Figure.Range(LowCelsius, HighCelsius, Decomposes);
}

/// <summary>The mass balance of a derivative: parent and reagent, less the water given off.</summary>
public static class DerivativeFormula
{
    /// <summary>Works out the formula of a derivative.</summary>
    /// <param name="parent">Formula of the parent.</param>
    /// <param name="kind">The kind, with its reagent.</param>
    /// <param name="carbonylsCondensed">Carbonyl groups that reacted, from 1.</param>
    /// <exception cref="ArgumentException">The kind's reagent formula can't be read, or there is too little to give the water off.</exception>
    public static MolecularFormula Of(MolecularFormula parent, DerivativeKind kind, int carbonylsCondensed)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return parent
            + (carbonylsCondensed * kind.ReagentsPerCarbonyl * MolecularFormula.Parse(kind.ReagentFormula))
            - (carbonylsCondensed * kind.WatersPerCarbonyl * MolecularFormula.Water);
    }
}
