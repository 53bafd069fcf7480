using System.Collections.Frozen;
using System.Globalization;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Structures;

namespace Derivid.Core.Estimates;

/// <summary>The normal boiling point that a structure alone suggests, by adding up groups.</summary>
/// <remarks>
/// Source: S. E. Stein and R. L. Brown, "Estimation of normal boiling points from group contributions", J. Chem. Inf.
/// Comput. Sci. 1994, 34, 581-587, with the constant 198.18 K of the program MPBPWIN. The paper itself was not read; the
/// increments are in <c>seed-tables/boiling-point-groups.csv</c>, and its README says where each was read.
/// Departures: an aromatic oxygen counts as one in a ring (32.98 K): the 15.00 K that MPBPWIN gives it puts the four furans
/// of the seed tables 13 to 22 °C too low. Chlorine is primary, secondary or tertiary by the hydrogens of its carbon.
/// Measured: against MPBPWIN's own estimates of 162 parents all but those furans agree within 0.06 °C; against listed
/// boiling points see <see cref="BoilingPointEstimates"/>. Thread safety: immutable.
/// </remarks>
public static class BoilingPointGroups
{
    private const double BaseKelvin = 198.18;
    private const double HighKelvin = 700;

    private static readonly FrozenDictionary<string, double> Increments = EmbeddedTable
        .Rows("boiling-point-groups.csv", "group,increment_kelvin,how_read")
        .ToFrozenDictionary(row => row[0], row => double.Parse(row[1], CultureInfo.InvariantCulture), StringComparer.Ordinal);

    /// <summary>Estimates the normal boiling point.</summary>
    /// <param name="molecule">One uncharged molecule.</param>
    /// <returns>Units: °C. Missing: null, an atom belongs to no group that has an increment.</returns>
    public static double? CelsiusOf(Molecule molecule)
    {
        ArgumentNullException.ThrowIfNull(molecule);
        var view = new StructureView(molecule);
        var sum = BaseKelvin;
        for (var atom = 0; atom < molecule.Atoms.Length; atom++)
        {
            if (GroupOf(view, atom) is not { } group)
            {
                return null;
            }

            sum += group.Length == 0 ? 0 : Increments[group];
        }

        // A plain sum runs high for large molecules; both corrections are the paper's.
        var kelvin = sum <= HighKelvin
            ? -94.84 + (1.5577 * sum) - (0.0007705 * sum * sum)
            : 282.7 + (0.4791 * sum);
        return kelvin - Kelvin.AtZeroCelsius;
    }

    // Each atom brings its group or, as the oxygen of a carbonyl group, none of its own (empty). Missing: null, unknown.
    private static string? GroupOf(StructureView view, int atom) => view.Symbol(atom) switch
    {
        _ when !view.IsNeutral(atom) && !IsOfNitro(view, atom) => null,
        "C" => OfCarbon(view, atom),
        "O" => OfOxygen(view, atom),
        "N" => OfNitrogen(view, atom),
        "S" => OfSulfur(view, atom),
        "F" => OnCarbon(view, atom) is { } carbon ? view.IsAryl(carbon) ? "fluorine-aryl" : "fluorine" : null,
        "Cl" => OnCarbon(view, atom) is { } carbon ? OfChlorine(view, carbon) : null,
        "Br" => OnCarbon(view, atom) is { } carbon ? view.IsAryl(carbon) ? "bromine-aryl" : "bromine" : null,
        "I" => OnCarbon(view, atom) is { } carbon ? view.IsAryl(carbon) ? "iodine-aryl" : "iodine" : null,
        _ => null,
    };

    private static string? OfCarbon(StructureView view, int atom)
    {
        var bonds = view.Molecule.NeighboursOf(atom);
        var isInRing = view.Molecule.IsRingAtom(atom);
        if (view.IsCarbonyl(atom))
        {
            return OfCarbonyl(view, atom, isInRing);
        }

        if (view.Molecule.IsAromatic(atom))
        {
            return view.Hydrogens(atom) == 1 ? "aromatic-ch"
                : bonds.All(bond => view.Molecule.IsAromatic(bond.Atom)) ? "aromatic-c-fused"
                : "aromatic-c";
        }

        if (bonds.FirstOrDefault(bond => bond.Order == 3) is { Order: 3 } triple)
        {
            return view.Symbol(triple.Atom) == "N"
                ? view.Neighbours(atom).Any(view.IsAryl) ? "nitrile-aryl" : "nitrile"
                : view.IsCarbon(triple.Atom) ? view.Hydrogens(atom) == 1 ? "alkyne-ch" : "alkyne-c" : null;
        }

        if (view.HasSingleBondsOnly(atom))
        {
            return (view.Hydrogens(atom), isInRing) switch
            {
                (3 or 4, _) => "ch3",
                (2, true) => "ch2-ring",
                (2, false) => "ch2",
                (1, true) => "ch-ring",
                (1, false) => "ch",
                (_, true) => "c-ring",
                _ => "c",
            };
        }

        return bonds.Count(bond => bond.Order == 2) > 1 || !view.IsAlkene(atom) ? null : (view.Hydrogens(atom), isInRing) switch
        {
            (2, _) => "alkene-ch2",
            (1, true) => "alkene-ch-ring",
            (1, false) => "alkene-ch",
            (_, true) => "alkene-c-ring",
            _ => "alkene-c",
        };
    }

    private static string? OfCarbonyl(StructureView view, int atom, bool isInRing) =>
        view.IsCarboxyl(atom) ? "acid"
        : view.IsEster(atom) ? isInRing ? "ester-ring" : "ester"
        : view.IsAldehyde(atom) ? "aldehyde"
        : view.IsKetone(atom) ? isInRing ? "ketone-ring" : "ketone"
        : AmideNitrogen(view, atom) is { } nitrogen ? (view.Hydrogens(nitrogen), isInRing) switch
        {
            (2, _) => "amide-primary",
            (1, true) => "amide-ring",
            (1, false) => "amide",
            (_, true) => "amide-tertiary-ring",
            _ => "amide-tertiary",
        }
        : null;

    private static string? OfOxygen(StructureView view, int atom)
    {
        var bonds = view.Molecule.NeighboursOf(atom);
        if (IsOfNitro(view, atom) || (bonds is [{ Order: 2 } bond] && view.IsCarbonyl(bond.Atom)))
        {
            return "";
        }

        if (!view.Neighbours(atom).All(view.IsCarbon))
        {
            return null;
        }

        if (view.Neighbours(atom).Any(view.IsCarbonyl))
        {
            // Counted with the carbon of the acid or ester; the middle oxygen of an anhydride isn't.
            return view.Neighbours(atom).Count(view.IsCarbonyl) == 1 ? "" : null;
        }

        return bonds.Length == 2 ? view.Molecule.IsRingAtom(atom) ? "ether-ring" : "ether"
            : bonds is not [var only] ? null
            : view.IsAryl(only.Atom) ? "phenol"
            : !view.IsSaturatedCarbon(only.Atom) ? "alcohol-other"
            : view.Hydrogens(only.Atom) switch { 0 => "alcohol-tertiary", 1 => "alcohol-secondary", _ => "alcohol-primary" };
    }

    private static string? OfNitrogen(StructureView view, int atom)
    {
        if (IsOfNitro(view, atom))
        {
            return "nitro";
        }

        var bonds = view.Molecule.NeighboursOf(atom);
        if (!view.Neighbours(atom).All(view.IsCarbon))
        {
            return null;
        }

        if (bonds is [{ Order: 3 }])
        {
            return "";
        }

        if (view.Molecule.IsAromatic(atom))
        {
            return view.Hydrogens(atom) == 1 ? "aromatic-nh" : bonds.Length == 2 ? "aromatic-n" : null;
        }

        if (!view.HasSingleBondsOnly(atom))
        {
            return null;
        }

        if (view.Neighbours(atom).Any(carbon => AmideNitrogen(view, carbon) == atom))
        {
            return "";
        }

        var isInRing = view.Molecule.IsRingAtom(atom);
        return view.Hydrogens(atom) switch
        {
            0 => isInRing ? "amine-tertiary-ring" : "amine-tertiary",
            1 => isInRing ? "amine-secondary-ring" : "amine-secondary",
            _ => view.Neighbours(atom).Any(view.IsAryl) ? "amine-aryl-primary" : "amine-primary",
        };
    }

    private static string? OfSulfur(StructureView view, int atom)
    {
        var bonds = view.Molecule.NeighboursOf(atom);
        return !view.HasSingleBondsOnly(atom) || !view.Neighbours(atom).All(view.IsCarbon) ? null
            : bonds.Length == 2 ? view.Molecule.IsRingAtom(atom) ? "sulfide-ring" : "sulfide"
            : bonds is not [var only] ? null
            : view.IsAryl(only.Atom) ? "thiol-aryl" : "thiol";
    }

    private static string OfChlorine(StructureView view, int carbon) =>
        view.IsAryl(carbon) ? "chlorine-aryl"
        : !view.IsSaturatedCarbon(carbon) ? "chlorine-other"
        : view.Hydrogens(carbon) switch { 0 => "chlorine-tertiary", 1 => "chlorine-secondary", _ => "chlorine-primary" };

    private static int? OnCarbon(StructureView view, int atom) =>
        view.Molecule.NeighboursOf(atom) is [{ Order: 1 } bond] && view.IsCarbon(bond.Atom) ? bond.Atom : null;

    private static int? AmideNitrogen(StructureView view, int carbon) =>
        view.IsCarbonyl(carbon)
        && view.Molecule.NeighboursOf(carbon).FirstOrDefault(bond => view.Symbol(bond.Atom) == "N") is { Order: 1 } bond
            ? bond.Atom
            : null;

    // -NO2 on carbon: the nitrogen, or one of the two oxygens, drawn with charges or without.
    private static bool IsOfNitro(StructureView view, int atom)
    {
        var nitrogen = view.Symbol(atom) == "N" ? atom : view.Neighbours(atom).FirstOrDefault(-1);
        return nitrogen >= 0
            && view.Symbol(atom) is "N" or "O"
            && view.Symbol(nitrogen) == "N"
            && view.Carbons(nitrogen).Any()
            && view.Neighbours(nitrogen).Count(
                next => view.Symbol(next) == "O" && view.Molecule.NeighboursOf(next).Length == 1 && view.Hydrogens(next) == 0) == 2;
    }
}
