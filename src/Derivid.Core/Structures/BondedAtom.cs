namespace Derivid.Core.Structures;

/// <summary>The far end of a bond, seen from one of its atoms.</summary>
/// <param name="Atom">Index of the atom at the far end.</param>
/// <param name="Bond">Index of the bond.</param>
/// <param name="Order">Order of the bond, 1 to 4.</param>
public readonly record struct BondedAtom(int Atom, int Bond, int Order);
