using System.Collections.Immutable;

namespace Derivid.Core.Structures;

/// <summary>Decides which bonds whose symbol was left out are aromatic and which are single.</summary>
internal static class AromaticBonds
{
    public static SmilesError? Settle(SmilesDraft draft)
    {
        ImmutableArray<Bond> plain = [.. draft.Bonds.Select(bond => new Bond(bond.First, bond.Second, 1))];
        ImmutableArray<bool> inRing = RingBonds.Of(Adjacency.Of(draft.Atoms.Count, plain), plain.Length);
        var ringAtom = new bool[draft.Atoms.Count];
        for (int index = 0; index < inRing.Length; index++)
        {
            DraftBond bond = draft.Bonds[index];
            bool canBeAromatic =
                inRing[index] && draft.Atoms[bond.First].IsAromatic && draft.Atoms[bond.Second].IsAromatic;
            if (bond.Order == DraftBond.Aromatic && !canBeAromatic)
            {
                return new SmilesError(
                    bond.Position, "The aromatic bond \":\" is read only in a ring, between two lower-case atoms.");
            }

            if (bond.Order == DraftBond.LeftOut)
            {
                bond.Order = canBeAromatic ? DraftBond.Aromatic : 1;
            }

            ringAtom[bond.First] |= inRing[index];
            ringAtom[bond.Second] |= inRing[index];
        }

        int outside = Enumerable.Range(0, ringAtom.Length)
            .FirstOrDefault(atom => draft.Atoms[atom].IsAromatic && !ringAtom[atom], -1);
        return outside < 0
            ? null
            : new SmilesError(
                draft.Atoms[outside].Position,
                "A lower-case (aromatic) atom is in no ring; write atoms outside rings in upper case.");
    }
}
