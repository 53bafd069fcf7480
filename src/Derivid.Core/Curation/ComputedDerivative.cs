using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>A derivative that a structure could form, on paper.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="CarbonylsCondensed">Carbonyl groups that react.</param>
/// <param name="Formula">Its formula; the molar mass follows from it.</param>
public sealed record ComputedDerivative(DerivativeKind Kind, int CarbonylsCondensed, MolecularFormula Formula);
