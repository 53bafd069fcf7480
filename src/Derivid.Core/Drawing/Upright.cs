using System.Collections.Immutable;
using System.Numerics;
using Derivid.Core.Structures;

namespace Derivid.Core.Drawing;

/// <summary>
/// Turns a finished layout as a chemist would hold it: wide, fused rings side by side, bonds at multiples of 30°, C=O
/// upwards, C=N-X to the right.
/// </summary>
/// <remarks>A bridged ring system stands as it was built; it is only turned over where that serves.</remarks>
internal static class Upright
{
    private const double Sixth = Math.PI / 6;

    /// <summary>Turns one connected part.</summary>
    /// <param name="molecule">The molecule.</param>
    /// <param name="part">The part's atoms.</param>
    /// <param name="rings">The molecule's smallest rings.</param>
    /// <param name="places">Points of the whole molecule; those of the part are changed.</param>
    public static void Set(
        Molecule molecule, ImmutableArray<int> part, ImmutableArray<ImmutableArray<int>> rings, Complex[] places)
    {
        Complex[] start = [.. part.Select(atom => places[atom])];
        ImmutableArray<int> fused = RingSystems.Of(molecule)
            .Where(system => system.Length > 7 && part.Contains(system[0]))
            .OrderByDescending(system => system.Length)
            .FirstOrDefault([]);
        bool asBuilt = RingSystemLayout.IsBridged(part, rings);
        double askew = asBuilt ? 0 : Askew(molecule, part, rings, places);
        (double, Complex[]) best = (double.NegativeInfinity, start);
        for (int way = 0; way < (asBuilt ? 2 : 24); way++)
        {
            Complex turn = Plane.Step(((way / 2) * Sixth) - askew);
            Complex[] turned = [.. start.Select(place => turn * place)];
            turned = way % 2 == 0 ? turned : [.. turned.Select(place => -Complex.Conjugate(place))];
            for (int index = 0; index < part.Length; index++)
            {
                places[part[index]] = turned[index];
            }

            double merit = Merit(molecule, part, fused, places);
            best = merit > best.Item1 + 1e-6 ? (merit, turned) : best;
        }

        for (int index = 0; index < part.Length; index++)
        {
            places[part[index]] = best.Item2[index];
        }
    }

    /// <summary>By how much most bonds miss the multiples of 30°; those of five- or seven-membered rings hardly count.</summary>
    private static double Askew(
        Molecule molecule, ImmutableArray<int> part, ImmutableArray<ImmutableArray<int>> rings, Complex[] places)
    {
        (double Angle, double Weight)[] bonds = [.. molecule.Bonds
            .Select((bond, index) => (bond, index))
            .Where(entry => part.Contains(entry.bond.First))
            .Select(entry => (
                (places[entry.bond.Second] - places[entry.bond.First]).Phase,
                !molecule.IsRingBond(entry.index) ? 1
                    : rings.Any(ring => ring.Length % 3 == 0
                        && ring.Contains(entry.bond.First) && ring.Contains(entry.bond.Second)) ? 1.01
                    : 0.1))];
        return bonds.Length == 0 ? 0 : bonds
            .Select(bond => bond.Angle)
            .MaxBy(angle => Math.Round(bonds.Sum(bond => bond.Weight * Math.Cos(12 * (bond.Angle - angle))), 6));
    }

    private static double Merit(
        Molecule molecule, ImmutableArray<int> part, ImmutableArray<int> rings, Complex[] places)
    {
        double merit = (0.7 * Lie(part, places)) + (2 * Lie(rings, places));
        foreach (int atom in part.Where(atom => molecule.Atoms[atom].Symbol == "C"))
        {
            foreach (BondedAtom next in molecule.NeighboursOf(atom).Where(next =>
                next.Order == 2 && !molecule.IsRingBond(next.Bond) && molecule.Atoms[next.Atom].Symbol != "C"))
            {
                Complex bond = places[next.Atom] - places[atom];
                bool ends = molecule.NeighboursOf(next.Atom).Length == 1;
                merit += ends ? 4 * bond.Imaginary : (0.5 * bond.Imaginary) + (0.5 * bond.Real);
            }
        }

        return merit;
    }

    /// <summary>How much wider than high some atoms lie; 0 for none.</summary>
    private static double Lie(ImmutableArray<int> atoms, Complex[] places) => atoms.IsEmpty ? 0
        : atoms.Max(atom => places[atom].Real) - atoms.Min(atom => places[atom].Real)
            - atoms.Max(atom => places[atom].Imaginary) + atoms.Min(atom => places[atom].Imaginary);
}
