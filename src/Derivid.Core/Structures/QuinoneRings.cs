using System.Collections.Immutable;

namespace Derivid.Core.Structures;

/// <summary>Finds quinone rings as <see cref="StructureFeature.Quinone"/> defines them.</summary>
internal static class QuinoneRings
{
    private const int RingSize = 6;

    public static bool AnyIn(StructureView view)
    {
        for (int atom = 0; atom < view.Molecule.Atoms.Length; atom++)
        {
            if (view.IsKetone(atom) && view.Molecule.IsRingAtom(atom) && Extend(view, [atom]))
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Depth is at most <see cref="RingSize"/>; every atom on the way has at most three neighbours.</summary>
    private static bool Extend(StructureView view, List<int> path)
    {
        ImmutableArray<BondedAtom> neighbours = view.Molecule.NeighboursOf(path[^1]);
        if (path.Count == RingSize)
        {
            return neighbours.Any(next => next.Atom == path[0]) && IsQuinone(view, path);
        }

        foreach (BondedAtom next in neighbours)
        {
            if (!view.Molecule.IsRingBond(next.Bond) || path.Contains(next.Atom) || !MayBelong(view, next.Atom))
            {
                continue;
            }

            path.Add(next.Atom);
            if (Extend(view, path))
            {
                return true;
            }

            path.RemoveAt(path.Count - 1);
        }

        return false;
    }

    private static bool MayBelong(StructureView view, int atom) =>
        view.IsKetone(atom) || view.IsAryl(atom) || view.IsAlkene(atom);

    /// <summary>The ring starts at a ketone; the second one is beside it or opposite.</summary>
    private static bool IsQuinone(StructureView view, List<int> ring) =>
        ring.Count(view.IsKetone) == 2 && (view.IsKetone(ring[1]) || view.IsKetone(ring[3]) || view.IsKetone(ring[5]));
}
