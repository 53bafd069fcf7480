using System.Collections.Frozen;
using Derivid.Core.Compounds;

namespace Derivid.Core.Practice;

/// <summary>Something that is weighed or measured out for a preparation: a form of a reagent, an acid, a solvent.</summary>
/// <remarks>From <c>seed-tables/practice-substances.csv</c>, whose README describes the columns. Thread safety: immutable.</remarks>
/// <param name="Key">Stable key.</param>
/// <param name="Name">The name shown.</param>
/// <param name="KindKey">The derivative kind of whose reagent it is a form, as a salt or wetted. Missing: null, of none.</param>
/// <param name="Formula">Its formula in Hill order, without the water it is wetted with. Missing: null, a mixture.</param>
/// <param name="MassShare">How much of its mass that formula is. Bounds: above 0, at most 1. Missing: null, no source says.</param>
/// <param name="GramsPerMillilitre">Its density near room temperature. Units: g/mL. Missing: null, a solid or no source.</param>
/// <param name="CanExplode">Whether it can explode, dry or heated.</param>
/// <param name="Cautions">The usual cautions. Missing: null, none beyond ordinary care.</param>
/// <param name="SourceKey">Source of share and density, else of the cautions.</param>
/// <param name="Locator">Entry or section in the source. Missing: null.</param>
/// <param name="Verification">How far it was followed back. Missing: null, there is nothing to read.</param>
/// <param name="Note">A curator's remark. Missing: null.</param>
public sealed record PracticeSubstance(
    string Key,
    string Name,
    string? KindKey,
    string? Formula,
    double? MassShare,
    double? GramsPerMillilitre,
    bool CanExplode,
    string? Cautions,
    string SourceKey,
    string? Locator,
    Verification? Verification,
    string? Note)
{
    private const string Header =
        "key,name,kind_key,formula,mass_share,grams_per_millilitre,can_explode,cautions,source_key,locator,verification,note";

    /// <summary>All of them. Shape: by key.</summary>
    public static IReadOnlyList<PracticeSubstance> All { get; } =
        [.. EmbeddedTable.Rows("practice-substances.csv", Header).Select(Read)];

    private static FrozenDictionary<string, PracticeSubstance> ByKey { get; } =
        All.ToFrozenDictionary(substance => substance.Key, StringComparer.Ordinal);

    /// <summary>Molar mass of the formula. Units: g/mol. Missing: null, a mixture.</summary>
    public double? MolarMass { get; } = Formula is null ? null : Structures.MolecularFormula.Parse(Formula).MolarMass;

    /// <summary>What has to be weighed for an amount of it. Units: mg. Missing: null, formula or share is not known.</summary>
    /// <param name="millimoles">The amount. Units: mmol.</param>
    public double? MilligramsOf(double millimoles) => millimoles * MolarMass / MassShare;

    /// <summary>What was weighed, as an amount. Units: mmol. Missing: null, formula or share is not known.</summary>
    /// <param name="milligrams">What was weighed. Units: mg.</param>
    public double? MillimolesIn(double milligrams) => milligrams * MassShare / MolarMass;

    /// <summary>The forms in which a kind's reagent is weighed. Shape: by key; empty where the table of practice has none.</summary>
    /// <param name="kindKey">The kind.</param>
    public static IEnumerable<PracticeSubstance> FormsOf(string kindKey) => All.Where(substance => substance.KindKey == kindKey);

    /// <summary>One of them.</summary>
    /// <param name="key">Its key.</param>
    /// <exception cref="KeyNotFoundException">There is none.</exception>
    public static PracticeSubstance Of(string key) => ByKey[key];

    private static PracticeSubstance Read(IReadOnlyList<string> cells) => new(
        cells[0],
        cells[1],
        EmbeddedTable.OrNull(cells[2]),
        EmbeddedTable.OrNull(cells[3]),
        EmbeddedTable.Number(cells[4]),
        EmbeddedTable.Number(cells[5]),
        cells[6] == "yes",
        EmbeddedTable.OrNull(cells[7]),
        cells[8],
        EmbeddedTable.OrNull(cells[9]),
        EmbeddedTable.Member<Verification>(cells[10]),
        EmbeddedTable.OrNull(cells[11]));
}
