using System.Collections.Immutable;

namespace Derivid.Core.Structures;

/// <summary>Finds the aromatic rings of a Kekulé drawing by the rule at <see cref="Molecule.AromaticRings"/>.</summary>
internal static class Aromaticity
{
    private const int SmallestRing = 5;
    private const int LargestRing = 7;
    private const int Electrons = 6;

    public static ImmutableArray<ImmutableArray<int>> Of(Molecule molecule)
    {
        var offers = new int?[molecule.Atoms.Length];
        for (int atom = 0; atom < offers.Length; atom++)
        {
            offers[atom] = Offer(molecule, atom);
        }

        var rings = ImmutableArray.CreateBuilder<ImmutableArray<int>>();
        for (int start = 0; start < offers.Length; start++)
        {
            if (offers[start] is not null)
            {
                Extend(molecule, offers, [start], rings);
            }
        }

        return rings.ToImmutable();
    }

    /// <summary>Depth is at most <see cref="LargestRing"/>; atoms on the way have at most three neighbours.</summary>
    private static void Extend(
        Molecule molecule, int?[] offers, List<int> path, ImmutableArray<ImmutableArray<int>>.Builder rings)
    {
        int start = path[0];
        foreach (BondedAtom next in molecule.NeighboursOf(path[^1]))
        {
            if (!molecule.IsRingBond(next.Bond) || offers[next.Atom] is null)
            {
                continue;
            }

            // Each ring once: from its lowest index, in the direction of the lower of the two indices beside it.
            if (next.Atom == start && path.Count >= SmallestRing && path[1] < path[^1])
            {
                if (path.Sum(atom => offers[atom]) == Electrons && !HasChord(molecule, path))
                {
                    rings.Add([.. path]);
                }
            }
            else if (next.Atom > start && path.Count < LargestRing && !path.Contains(next.Atom))
            {
                path.Add(next.Atom);
                Extend(molecule, offers, path, rings);
                path.RemoveAt(path.Count - 1);
            }
        }
    }

    private static bool HasChord(Molecule molecule, List<int> ring)
    {
        int bondsWithin = ring.Sum(atom => molecule.NeighboursOf(atom).Count(next => ring.Contains(next.Atom)));
        return bondsWithin > 2 * ring.Count;
    }

    private static int? Offer(Molecule molecule, int index)
    {
        Atom atom = molecule.Atoms[index];
        ImmutableArray<BondedAtom> neighbours = molecule.NeighboursOf(index);
        if (neighbours.Length + atom.Hydrogens > 3 || neighbours.Any(next => next.Order > 2))
        {
            return null;
        }

        BondedAtom[] doubles = [.. neighbours.Where(next => next.Order == 2)];
        return doubles.Length > 0
            ? doubles.Any(next => molecule.IsRingBond(next.Bond)) ? OfDoubleBond(atom, doubles.Length) : null
            : OfSingleBonds(atom, neighbours.Length + atom.Hydrogens);
    }

    /// <summary>A second double bond is allowed on N only, for N-oxides drawn N=O.</summary>
    private static int? OfDoubleBond(Atom atom, int doubles) => doubles == 1 || atom.Symbol == "N" ? 1 : null;

    private static int? OfSingleBonds(Atom atom, int bonds) => (atom.Symbol, atom.Charge, bonds) switch
    {
        ("O" or "S" or "Se" or "Te", 0, 2) => 2,
        ("N" or "P" or "As", 0, 3) => 2,
        ("N", -1, 2) => 2,
        ("C", -1, 3) => 2,
        ("C", 1, 3) => 0,
        ("B", 0, 3) => 0,
        _ => null,
    };
}

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
