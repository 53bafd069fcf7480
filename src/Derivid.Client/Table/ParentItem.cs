namespace Derivid.Client.Table;

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
    string Kind,
    string? Hazards,
    string? Note);
