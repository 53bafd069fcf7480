using Derivid.Core.Compounds;

namespace Derivid.Api.Table;

/// <summary>A parent carbonyl compound.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Name">The name shown.</param>
/// <param name="Synonyms">Other names accepted in requests.</param>
/// <param name="CasNumber">CAS Registry Number.</param>
/// <param name="Smiles">Structure in the OpenSMILES notation.</param>
/// <param name="Formula">Molecular formula in Hill order.</param>
/// <param name="MolarMassGramsPerMole">Molar mass. Units: g/mol.</param>
/// <param name="Kind">The carbonyl function it brings.</param>
/// <param name="Hazards">Cautions for the compound itself. Missing: none recorded, which does not mean none.</param>
/// <param name="Note">A curator's remark. Missing: none.</param>
public sealed record ParentItem(
    string Key,
    string Name,
    IReadOnlyList<string> Synonyms,
    string CasNumber,
    string Smiles,
    string Formula,
    double MolarMassGramsPerMole,
    ParentKind Kind,
    string? Hazards,
    string? Note)
{
    /// <summary>Translates.</summary>
    /// <param name="parent">The row.</param>
    public static ParentItem Of(Parent parent)
    {
        ArgumentNullException.ThrowIfNull(parent);
        return new ParentItem(
            parent.Key,
            parent.Name,
            parent.Synonyms,
            parent.CasNumber,
            parent.Smiles,
            parent.Formula,
            parent.MolarMass,
            parent.Kind,
            parent.Hazards,
            parent.Note);
    }
}
