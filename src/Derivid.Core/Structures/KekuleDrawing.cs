namespace Derivid.Core.Structures;

/// <summary>Gives lower-case ring systems alternating single and double bonds.</summary>
internal static class KekuleDrawing
{
    public static SmilesError? Settle(SmilesDraft draft)
    {
        int[] sums = draft.BondSums();
        var needsDouble = new bool[draft.Atoms.Count];
        for (int index = 0; index < needsDouble.Length; index++)
        {
            DraftAtom atom = draft.Atoms[index];
            if (!atom.IsAromatic)
            {
                continue;
            }

            int bonds = sums[index] + (atom.Hydrogens ?? 0);
            ReadOnlySpan<int> usual = Valence.Usual(atom.Symbol, atom.Charge);
            needsDouble[index] = !usual.Contains(bonds);
            if (needsDouble[index] && !usual.Contains(bonds + 1))
            {
                return new SmilesError(
                    atom.Position,
                    $"Lower-case {atom.Symbol} with charge {atom.Charge} and {bonds} bonds, hydrogens included, "
                    + "is not read as aromatic; write the ring in upper case with its double bonds.");
            }
        }

        return Pair(draft, needsDouble);
    }

    private static SmilesError? Pair(SmilesDraft draft, bool[] needsDouble)
    {
        var candidates = draft.Bonds
            .Where(bond => bond.Order == DraftBond.Aromatic && needsDouble[bond.First] && needsDouble[bond.Second]);
        int[] partners = Matching.Largest(draft.Atoms.Count, candidates.Select(bond => (bond.First, bond.Second)));
        for (int index = 0; index < partners.Length; index++)
        {
            if (needsDouble[index] && partners[index] == Matching.Alone)
            {
                return new SmilesError(
                    draft.Atoms[index].Position,
                    "The lower-case (aromatic) ring system of this atom has no drawing with alternating single and "
                    + "double bonds; write a pyrrole-type nitrogen as [nH], and saturated ring atoms in upper case.");
            }
        }

        foreach (DraftBond bond in draft.Bonds.Where(bond => bond.Order == DraftBond.Aromatic))
        {
            bond.Order = partners[bond.First] == bond.Second ? 2 : 1;
        }

        return null;
    }
}
