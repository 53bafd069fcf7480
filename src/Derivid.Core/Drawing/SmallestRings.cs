using System.Collections.Immutable;
using System.Numerics;
using Derivid.Core.Structures;

namespace Derivid.Core.Drawing;

/// <summary>The rings a chemist counts: as few and as small as make up all rings of a molecule.</summary>
/// <remarks>
/// Source: J. D. Horton, "A polynomial-time algorithm to find the shortest cycle basis of a graph", SIAM J. Comput. 1987,
/// 16, 358-366. Where several choices are as small (cubane has six faces, of which five suffice), the one that comes
/// first in the order of the atoms is taken.
/// </remarks>
internal static class SmallestRings
{
    /// <summary>The rings. Shape: atoms of each in ring order, smallest rings first.</summary>
    public static ImmutableArray<ImmutableArray<int>> Of(Molecule molecule)
    {
        int wanted = Count(molecule);
        var rings = ImmutableArray.CreateBuilder<ImmutableArray<int>>();
        var kept = new List<(BigInteger Bonds, int Pivot)>();
        foreach ((ImmutableArray<int> ring, BigInteger bonds) in Candidates(molecule))
        {
            if (rings.Count == wanted)
            {
                break;
            }

            BigInteger rest = bonds;
            foreach ((BigInteger other, int pivot) in kept)
            {
                if (!((rest >> pivot) & 1).IsZero)
                {
                    rest ^= other;
                }
            }

            if (!rest.IsZero)
            {
                kept.Add((rest, (int)rest.GetBitLength() - 1));
                rings.Add(ring);
            }
        }

        return rings.ToImmutable();
    }

    /// <summary>Ring bonds less ring atoms, plus one for each connected ring system.</summary>
    private static int Count(Molecule molecule)
    {
        int bonds = Enumerable.Range(0, molecule.Bonds.Length).Count(molecule.IsRingBond);
        int[] atoms = [.. Enumerable.Range(0, molecule.Atoms.Length).Where(molecule.IsRingAtom)];
        return bonds - atoms.Length + RingSystems.Of(molecule).Length;
    }

    /// <summary>For each ring bond and each atom, the ring by the shortest ways from the atom to both ends.</summary>
    private static IEnumerable<(ImmutableArray<int> Ring, BigInteger Bonds)> Candidates(Molecule molecule)
    {
        var found = new List<(ImmutableArray<int> Ring, BigInteger Bonds)>();
        var known = new HashSet<BigInteger>();
        for (int root = 0; root < molecule.Atoms.Length; root++)
        {
            if (!molecule.IsRingAtom(root))
            {
                continue;
            }

            (int[] cameFrom, bool[] reached) = Ways(molecule, root);
            for (int index = 0; index < molecule.Bonds.Length; index++)
            {
                Bond bond = molecule.Bonds[index];
                if (molecule.IsRingBond(index) && reached[bond.First] && reached[bond.Second]
                    && RingOf(cameFrom, root, bond) is { } ring
                    && BondsOf(molecule, ring) is var bonds && known.Add(bonds))
                {
                    found.Add((ring, bonds));
                }
            }
        }

        return found.OrderBy(candidate => candidate.Ring.Length);
    }

    private static (int[] CameFrom, bool[] Reached) Ways(Molecule molecule, int root)
    {
        var cameFrom = new int[molecule.Atoms.Length];
        var reached = new bool[molecule.Atoms.Length];
        var open = new Queue<int>([root]);
        reached[root] = true;
        while (open.TryDequeue(out int atom))
        {
            foreach (BondedAtom next in molecule.NeighboursOf(atom))
            {
                if (molecule.IsRingBond(next.Bond) && !reached[next.Atom])
                {
                    reached[next.Atom] = true;
                    cameFrom[next.Atom] = atom;
                    open.Enqueue(next.Atom);
                }
            }
        }

        return (cameFrom, reached);
    }

    /// <summary>Missing: null where the two ways have more than the root in common.</summary>
    private static ImmutableArray<int>? RingOf(int[] cameFrom, int root, Bond bond)
    {
        List<int> one = Way(cameFrom, root, bond.First);
        List<int> other = Way(cameFrom, root, bond.Second);
        if (one.Count + other.Count < 4 || one.Skip(1).Intersect(other.Skip(1)).Any())
        {
            return null;
        }

        return [.. one, .. other.Skip(1).Reverse()];
    }

    private static List<int> Way(int[] cameFrom, int root, int atom)
    {
        var way = new List<int> { atom };
        while (way[^1] != root)
        {
            way.Add(cameFrom[way[^1]]);
        }

        way.Reverse();
        return way;
    }

    private static BigInteger BondsOf(Molecule molecule, ImmutableArray<int> ring)
    {
        BigInteger bonds = BigInteger.Zero;
        for (int index = 0; index < ring.Length; index++)
        {
            int next = ring[(index + 1) % ring.Length];
            bonds |= BigInteger.One << molecule.NeighboursOf(ring[index]).First(beside => beside.Atom == next).Bond;
        }

        return bonds;
    }
}

/// <summary>The ring systems of a molecule: rings that share atoms belong together.</summary>
internal static class RingSystems
{
    /// <summary>The atoms of each system. Shape: ascending; systems by their first atom.</summary>
    public static ImmutableArray<ImmutableArray<int>> Of(Molecule molecule)
    {
        var systems = ImmutableArray.CreateBuilder<ImmutableArray<int>>();
        var seen = new bool[molecule.Atoms.Length];
        for (int start = 0; start < seen.Length; start++)
        {
            if (seen[start] || !molecule.IsRingAtom(start))
            {
                continue;
            }

            var system = new List<int>();
            var open = new Queue<int>([start]);
            seen[start] = true;
            while (open.TryDequeue(out int atom))
            {
                system.Add(atom);
                foreach (BondedAtom next in molecule.NeighboursOf(atom))
                {
                    if (molecule.IsRingBond(next.Bond) && !seen[next.Atom])
                    {
                        seen[next.Atom] = true;
                        open.Enqueue(next.Atom);
                    }
                }
            }

            systems.Add([.. system.Order()]);
        }

        return systems.ToImmutable();
    }
}
