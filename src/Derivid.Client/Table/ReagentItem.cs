namespace Derivid.Client.Table;

/// <summary>The reagent a derivative is made with, as the free base.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Smiles">Structure in the OpenSMILES notation.</param>
/// <param name="Formula">Molecular formula in Hill order.</param>
/// <param name="MolarMassGramsPerMole">Molar mass. Units: g/mol.</param>
public sealed record ReagentItem(string Name, string Smiles, string Formula, double MolarMassGramsPerMole);
