namespace Derivid.Core.Structures;

/// <summary>One atom of a <see cref="Molecule"/>.</summary>
/// <param name="Symbol">Element symbol, such as "Cl".</param>
/// <param name="Charge">Formal charge. Units: elementary charges.</param>
/// <param name="Hydrogens">Hydrogen atoms it carries, however the notation gave them.</param>
/// <param name="Isotope">Mass number. Missing: null, the natural mixture. Deuterium folded into
/// <paramref name="Hydrogens"/> leaves no mark.</param>
public sealed record Atom(string Symbol, int Charge, int Hydrogens, int? Isotope);
