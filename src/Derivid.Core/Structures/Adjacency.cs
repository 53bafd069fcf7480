using System.Collections.Immutable;

namespace Derivid.Core.Structures;

/// <summary>Turns a list of bonds into a list of neighbours for each atom.</summary>
internal static class Adjacency
{
    public static ImmutableArray<ImmutableArray<BondedAtom>> Of(int atoms, IReadOnlyList<Bond> bonds)
    {
        var neighbours = new ImmutableArray<BondedAtom>.Builder[atoms];
        for (int atom = 0; atom < atoms; atom++)
        {
            neighbours[atom] = ImmutableArray.CreateBuilder<BondedAtom>();
        }

        for (int index = 0; index < bonds.Count; index++)
        {
            (int first, int second, int order) = bonds[index];
            neighbours[first].Add(new BondedAtom(second, index, order));
            neighbours[second].Add(new BondedAtom(first, index, order));
        }

        return [.. neighbours.Select(list => list.ToImmutable())];
    }
}
