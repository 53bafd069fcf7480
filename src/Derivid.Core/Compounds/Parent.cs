namespace Derivid.Core.Compounds;

/// <summary>A parent carbonyl compound: what the unknown may turn out to be.</summary>
/// <remarks>Equality: by reference to its lists; compare <see cref="Key"/> to ask whether two are the same compound.</remarks>
public sealed record Parent
{
    /// <summary>Stable key, lower case with hyphens; unique in a table.</summary>
    public required string Key { get; init; }

    /// <summary>The name shown.</summary>
    public required string Name { get; init; }

    /// <summary>Other names in use. Shape: may be empty; never holds <see cref="Name"/>.</summary>
    public IReadOnlyList<string> Synonyms { get; init; } = [];

    /// <summary>CAS Registry Number with a right check digit, such as "67-64-1". Missing: null, nobody has looked it up.</summary>
    public string? CasNumber { get; init; }

    /// <summary>Structure in the OpenSMILES notation.</summary>
    public required string Smiles { get; init; }

    /// <summary>Molecular formula in Hill order, such as "C3H6O".</summary>
    public required string Formula { get; init; }

    /// <summary>Molar mass. Units: g/mol.</summary>
    public required double MolarMass { get; init; }

    /// <summary>Which carbonyl function it brings.</summary>
    public required ParentKind Kind { get; init; }

    /// <summary>Cautions for the compound itself, in the words of the usual sheets. Missing: null.</summary>
    public string? Hazards { get; init; }

    /// <summary>How likely one is to meet it at all. Missing: null, not judged.</summary>
    public Commonness? Commonness { get; init; }

    /// <summary>What that judgement counted, such as "13 compilations, 2 teaching texts". Missing: null.</summary>
    public string? CommonnessBasis { get; init; }

    /// <summary>A curator's remark. Missing: null.</summary>
    public string? Note { get; init; }
}

/// <summary>How common a compound is, by the independent compilations and teaching texts that name it.</summary>
/// <remarks>The rule of the seed tables stands in their README; what a tier is worth is a matter of the ranking.</remarks>
public enum Commonness
{
    /// <summary>In nearly every compilation: a solvent, a bulk chemical, the example of every course.</summary>
    Everyday,

    /// <summary>In many of them.</summary>
    Usual,

    /// <summary>In a few or none.</summary>
    Rare,
}

/// <summary>What carbonyl function a parent brings to the reagent.</summary>
public enum ParentKind
{
    /// <summary>One or more aldehyde groups, no ketone.</summary>
    Aldehyde,

    /// <summary>One or more ketone groups, no aldehyde.</summary>
    Ketone,

    /// <summary>Aldehyde and ketone in one molecule.</summary>
    Both,

    /// <summary>The carbonyl group is set free only under the conditions of the test (acetal, hydrate).</summary>
    Masked,
}

/// <summary>One printed boiling point, melting point or enthalpy of fusion of a parent.</summary>
public record ParentConstant
{
    /// <summary>The parent it belongs to.</summary>
    public required string ParentKey { get; init; }

    /// <summary>What was measured, which also settles the unit.</summary>
    public required ParentProperty Property { get; init; }

    /// <summary>Lower end of the printed span. Units: see <see cref="ParentProperty"/>.</summary>
    public required double Low { get; init; }

    /// <summary>Upper end of the printed span, equal to the lower where one figure is printed.</summary>
    public required double High { get; init; }

    /// <summary>Pressure of a boiling point. Units: kPa. Missing: null for other properties.</summary>
    public double? PressureKilopascals { get; init; }

    /// <summary>The source that prints it.</summary>
    public required string SourceKey { get; init; }

    /// <summary>Table, page or entry in the source. Missing: null.</summary>
    public string? Locator { get; init; }

    /// <summary>How far it was followed back.</summary>
    public required Verification Verification { get; init; }

    /// <summary>Who measured it. Missing: null, it is a printed value.</summary>
    public string? MeasuredBy { get; init; }

    /// <summary>What it was measured with. Missing: null, it is a printed value.</summary>
    public string? Instrument { get; init; }

    /// <summary>How often it was measured, each time anew. Missing: null, it is a printed value.</summary>
    public int? Determinations { get; init; }

    /// <summary>Mean of the determinations. Units: see <see cref="ParentProperty"/>. Missing: null, it is a printed value.</summary>
    public double? Mean { get; init; }

    /// <summary>Their sample standard deviation. Units: as the mean. Missing: null, it is a printed value, or was measured once.</summary>
    public double? Spread { get; init; }

    /// <summary>A curator's remark. Missing: null.</summary>
    public string? Note { get; init; }
}

/// <summary>A physical constant the table keeps of a parent.</summary>
public enum ParentProperty
{
    /// <summary>Boiling point. Units: °C at the stated pressure.</summary>
    BoilingPoint,

    /// <summary>Melting point. Units: °C.</summary>
    MeltingPoint,

    /// <summary>Enthalpy of fusion. Units: J/mol.</summary>
    EnthalpyOfFusion,
}
