using System.Collections.Immutable;

namespace Derivid.Core.Structures;

/// <summary>Finds which bonds lie in a ring: those whose removal leaves their two atoms connected.</summary>
/// <remarks>
/// Source: R. E. Tarjan, "A note on finding the bridges of a graph", Inf. Process. Lett. 1974, 2, 160-161.
/// Departures: the walk keeps its own stack, so that a long chain cannot exhaust the thread's.
/// </remarks>
internal static class RingBonds
{
    public static ImmutableArray<bool> Of(ImmutableArray<ImmutableArray<BondedAtom>> neighbours, int bonds)
    {
        var inRing = new bool[bonds];
        var found = new int[neighbours.Length];
        var lowest = new int[neighbours.Length];
        int clock = 0;
        for (int root = 0; root < neighbours.Length; root++)
        {
            if (found[root] == 0)
            {
                Walk(neighbours, root, found, lowest, ref clock, inRing);
            }
        }

        return [.. inRing];
    }

    private static void Walk(
        ImmutableArray<ImmutableArray<BondedAtom>> neighbours,
        int root,
        int[] found,
        int[] lowest,
        ref int clock,
        bool[] inRing)
    {
        var path = new Stack<(int Atom, int CameBy, int Next)>();
        path.Push((root, -1, 0));
        found[root] = lowest[root] = ++clock;
        while (path.TryPop(out (int Atom, int CameBy, int Next) step))
        {
            (int atom, int cameBy, int next) = step;
            if (next == neighbours[atom].Length)
            {
                Return(path, atom, cameBy, found, lowest, inRing);
                continue;
            }

            path.Push((atom, cameBy, next + 1));
            BondedAtom neighbour = neighbours[atom][next];
            if (neighbour.Bond == cameBy)
            {
                continue;
            }

            if (found[neighbour.Atom] == 0)
            {
                found[neighbour.Atom] = lowest[neighbour.Atom] = ++clock;
                path.Push((neighbour.Atom, neighbour.Bond, 0));
            }
            else
            {
                inRing[neighbour.Bond] = true;
                lowest[atom] = Math.Min(lowest[atom], found[neighbour.Atom]);
            }
        }
    }

    private static void Return(
        Stack<(int Atom, int CameBy, int Next)> path, int atom, int cameBy, int[] found, int[] lowest, bool[] inRing)
    {
        if (path.TryPeek(out (int Atom, int CameBy, int Next) parent))
        {
            lowest[parent.Atom] = Math.Min(lowest[parent.Atom], lowest[atom]);
            inRing[cameBy] = lowest[atom] <= found[parent.Atom];
        }
    }
}
