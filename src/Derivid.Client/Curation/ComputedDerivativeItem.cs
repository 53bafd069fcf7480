namespace Derivid.Client.Curation;

/// <summary>A derivative that a structure could form, on paper.</summary>
/// <param name="Kind">Key of the kind.</param>
/// <param name="CarbonylsCondensed">Carbonyl groups that react.</param>
/// <param name="Formula">Molecular formula in Hill order.</param>
/// <param name="MolarMass">Molar mass. Units: g/mol.</param>
public sealed record ComputedDerivativeItem(string Kind, int CarbonylsCondensed, string Formula, double MolarMass);
