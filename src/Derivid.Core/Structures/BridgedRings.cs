using System.Collections.Immutable;

namespace Derivid.Core.Structures;

/// <summary>Tells cages and bridged ring systems, as of camphor and adamantane, from rings that are only fused.</summary>
/// <remarks>
/// Rule: two rings without a bond across, of at most <see cref="LargestRing"/> atoms, share two bonds or more. Fused rings share
/// one, spiro rings none. Thread safety: no state.
/// </remarks>
public static class BridgedRings
{
    /// <summary>Larger rings go round several fused ones, which are no cage.</summary>
    private const int LargestRing = 7;

    /// <summary>Whether a structure has any.</summary>
    /// <param name="molecule">The structure.</param>
    public static bool AreIn(Molecule molecule)
    {
        ArgumentNullException.ThrowIfNull(molecule);
        var rings = new List<ImmutableHashSet<int>>();
        for (int start = 0; start < molecule.Atoms.Length; start++)
        {
            Extend(molecule, [start], [], rings);
        }

        // A ring in either direction is the same set of bonds, and is not compared with itself.
        return rings.Any(ring => rings.Any(other => ring.Intersect(other).Count is var shared && shared >= 2 && shared < Math.Max(ring.Count, other.Count)));
    }

    /// <summary>Rings from their lowest atom, as sets of bonds. Depth is at most <see cref="LargestRing"/>.</summary>
    private static void Extend(Molecule molecule, ImmutableList<int> path, ImmutableHashSet<int> bonds, List<ImmutableHashSet<int>> rings)
    {
        foreach (BondedAtom next in molecule.NeighboursOf(path[^1]).Where(next => molecule.IsRingBond(next.Bond) && !bonds.Contains(next.Bond)))
        {
            if (next.Atom == path[0])
            {
                if (!HasChord(molecule, path))
                {
                    rings.Add(bonds.Add(next.Bond));
                }
            }
            else if (next.Atom > path[0] && path.Count < LargestRing && !path.Contains(next.Atom))
            {
                Extend(molecule, path.Add(next.Atom), bonds.Add(next.Bond), rings);
            }
        }
    }

    private static bool HasChord(Molecule molecule, ImmutableList<int> ring) =>
        ring.Sum(atom => molecule.NeighboursOf(atom).Count(next => ring.Contains(next.Atom))) > 2 * ring.Count;
}
