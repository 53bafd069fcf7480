namespace Derivid.Client.Identifications;

/// <summary>A parent as a ranking names it.</summary>
/// <param name="Key">Its key; more at /api/v1/parents/{key}.</param>
/// <param name="Name">The name shown.</param>
/// <param name="CasNumber">CAS Registry Number.</param>
/// <param name="Formula">Molecular formula in Hill order.</param>
/// <param name="Smiles">Structure in the OpenSMILES notation.</param>
public sealed record CandidateParent(string Key, string Name, string CasNumber, string Formula, string Smiles);
