namespace Derivid.Core.Compounds;

/// <summary>A kind of crystalline derivative, such as the semicarbazone, with its reagent and mass balance.</summary>
/// <remarks>A new kind is a row of the table, not code.</remarks>
public record DerivativeKind
{
    /// <summary>Stable key, lower case with hyphens; unique in a table.</summary>
    public required string Key { get; init; }

    /// <summary>The name shown, such as "2,4-dinitrophenylhydrazone".</summary>
    public required string Name { get; init; }

    /// <summary>Other names and abbreviations accepted in requests, such as "2,4-DNPH". Shape: may be empty.</summary>
    public IReadOnlyList<string> Synonyms { get; init; } = [];

    /// <summary>The reagent's name.</summary>
    public required string ReagentName { get; init; }

    /// <summary>The reagent's structure in the OpenSMILES notation, free base.</summary>
    public required string ReagentSmiles { get; init; }

    /// <summary>The reagent's molecular formula in Hill order.</summary>
    public required string ReagentFormula { get; init; }

    /// <summary>The reagent's molar mass. Units: g/mol.</summary>
    public required double ReagentMolarMass { get; init; }

    /// <summary>Molecules of reagent taken up by one carbonyl group (2 for the dimedone derivative, else 1).</summary>
    public required int ReagentsPerCarbonyl { get; init; }

    /// <summary>Molecules of water given off by one carbonyl group.</summary>
    public required int WatersPerCarbonyl { get; init; }

    /// <summary>
    /// Features a parent must have to form it, joined by "+", or "any"; see <c>Structures.StructureFeature</c>.
    /// </summary>
    public string AppliesTo { get; init; } = "any";

    /// <summary>
    /// The ring that a 1,3-dicarbonyl compound may close with the reagent instead of forming the derivative. Missing: null,
    /// none.
    /// </summary>
    public ClosedRing? ClosesTo { get; init; }

    /// <summary>
    /// The spot test run with the reagent: one mixing, so a derivative that fails and the test are weighed once, and the
    /// test's rates are those of the kind's crystals. Missing: null, no such test.
    /// </summary>
    public string? TestKey { get; init; }

    /// <summary>
    /// Melting point of the reagent itself, whose crystals may be mistaken for the product. Units: °C. Missing: null.
    /// </summary>
    public double? ReagentMeltingCelsius { get; init; }

    /// <summary>Whether its crystals show a colour that says something about the parent.</summary>
    public required bool ColourInforms { get; init; }

    /// <summary>Solvents it is usually recrystallised from.</summary>
    public required string RecrystallisationSolvents { get; init; }

    /// <summary>Usual lowest melting point listed for the kind. Units: °C.</summary>
    public required double UsualLowCelsius { get; init; }

    /// <summary>Usual highest melting point listed for the kind. Units: °C.</summary>
    public required double UsualHighCelsius { get; init; }

    /// <summary>Rough time to make, dry and melt it. Units: min.</summary>
    public required double Minutes { get; init; }

    /// <summary>Rough hazard class of the reagent.</summary>
    public required Hazard Hazard { get; init; }

    /// <summary>Whether what is handled can explode: its reagent, when dry or heated.</summary>
    /// <remarks>Told first among cautions, apart from <see cref="Hazard"/>, which weighs time against any harm.</remarks>
    public bool CanExplode { get; init; }

    /// <summary>The usual cautions for reagent and product; shown as <see cref="Caution"/> shows them.</summary>
    public required string Cautions { get; init; }

    /// <summary>Source of the practical data of this row.</summary>
    public required string SourceKey { get; init; }
}

/// <summary>A ring that a 1,3-dicarbonyl compound closes with a reagent, to a product of another composition.</summary>
public enum ClosedRing
{
    /// <summary>1,2-diazole, from a hydrazine.</summary>
    Pyrazole,

    /// <summary>1,2-oxazole, from hydroxylamine.</summary>
    Isoxazole,
}
