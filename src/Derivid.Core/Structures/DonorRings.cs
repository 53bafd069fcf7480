using System.Collections.Immutable;

namespace Derivid.Core.Structures;

/// <summary>Finds oxygen and nitrogen that push electrons through a six-ring to a group on it.</summary>
internal static class DonorRings
{
    private const int RingSize = 6;

    public static bool HasDonor(StructureView view, int aryl)
    {
        foreach (ImmutableArray<int> ring in view.Molecule.AromaticRings)
        {
            int at = ring.IndexOf(aryl);
            if (at < 0 || ring.Length != RingSize)
            {
                continue;
            }

            // Ortho, para, ortho.
            foreach (int step in (ReadOnlySpan<int>)[1, 3, 5])
            {
                int position = ring[(at + step) % RingSize];
                if (view.IsCarbon(position) && view.Neighbours(position).Any(next => IsDonor(view, next, position)))
                {
                    return true;
                }
            }
        }

        return false;
    }

    public static bool IsDonor(StructureView view, int atom, int ringAtom)
    {
        if (view.Molecule.IsAromatic(atom) || !view.HasSingleBondsOnly(atom))
        {
            return false;
        }

        bool hasLonePair = (view.Symbol(atom), view.Molecule.Atoms[atom].Charge) is ("O", 0 or -1) or ("N", 0);
        return hasLonePair && view.Neighbours(atom).All(next => next == ringAtom || !Withdraws(view, next));
    }

    private static bool Withdraws(StructureView view, int atom) => view.Symbol(atom) switch
    {
        "N" => true,
        "C" or "S" => view.Molecule.NeighboursOf(atom).Any(next => next.Order == 2 && view.Symbol(next.Atom) == "O"),
        _ => false,
    };
}
