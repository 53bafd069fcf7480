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

    /// <summary>CAS Registry Number with a right check digit, such as "67-64-1".</summary>
    public required string CasNumber { get; init; }

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
/// <param name="ParentKey">The parent it belongs to.</param>
/// <param name="Property">What was measured, which also settles the unit.</param>
/// <param name="Low">Lower end of the printed span. Units: see <see cref="ParentProperty"/>.</param>
/// <param name="High">Upper end of the printed span, equal to <paramref name="Low"/> where one figure is printed.</param>
/// <param name="PressureKilopascals">Pressure of a boiling point. Units: kPa. Missing: null for other properties.</param>
/// <param name="SourceKey">The source that prints it.</param>
/// <param name="Locator">Table, page or entry in the source. Missing: null.</param>
/// <param name="Verification">How far it was followed back.</param>
/// <param name="Note">A curator's remark. Missing: null.</param>
public record ParentConstant(
    string ParentKey,
    ParentProperty Property,
    double Low,
    double High,
    double? PressureKilopascals,
    string SourceKey,
    string? Locator,
    Verification Verification,
    string? Note);

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
