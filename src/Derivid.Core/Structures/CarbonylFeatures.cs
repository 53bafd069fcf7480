using System.Collections.Immutable;

namespace Derivid.Core.Structures;

/// <summary>What one aldehyde or ketone group adds to the features, whichever it is.</summary>
internal static class CarbonylFeatures
{
    public static StructureFeature Of(StructureView view, int carbonyl)
    {
        int[] alphas = [.. view.Carbons(carbonyl)];
        int[] saturated = [.. alphas.Where(view.IsSaturatedCarbon)];
        return When(saturated.Length == alphas.Length, StructureFeature.SaturatedCarbonyl)
            | When(Conjugation.IsExtended(view, carbonyl), StructureFeature.ExtendedConjugation)
            | When(alphas.Any(view.IsAldehydeOrKetone), StructureFeature.OneTwoDicarbonyl)
            | When(saturated.Any(view.HasHydroxyl), StructureFeature.AlphaHydroxyCarbonyl)
            | When(saturated.Any(alpha => HasHalogen(view, alpha)), StructureFeature.AlphaHaloCarbonyl)
            | When(saturated.Any(alpha => view.Hydrogens(alpha) > 0), StructureFeature.AlphaHydrogen)
            | When(alphas.Any(alpha => DonorRings.HasDonor(view, alpha)), StructureFeature.ParaDonorAryl)
            | OneThree(view, carbonyl, alphas);
    }

    private static StructureFeature OneThree(StructureView view, int carbonyl, int[] alphas)
    {
        StructureFeature features = StructureFeature.None;
        foreach (int alpha in alphas.Where(alpha => !view.IsAryl(alpha) && !view.IsCarbonyl(alpha)))
        {
            ImmutableArray<BondedAtom> beside = view.Molecule.NeighboursOf(alpha);
            int[] others =
                [.. beside.Where(next => next.Order == 1 && next.Atom != carbonyl).Select(next => next.Atom)];
            bool second = others.Any(view.IsAldehydeOrKetone);
            features |= When(second || others.Any(view.IsEster), StructureFeature.OneThreeDicarbonyl);
            features |= When(
                second && view.IsSaturatedCarbon(alpha) && view.Hydrogens(alpha) > 0, StructureFeature.EnolStable);
        }

        return features;
    }

    private static bool HasHalogen(StructureView view, int atom) =>
        view.Neighbours(atom).Any(next => view.Symbol(next) is "F" or "Cl" or "Br" or "I");

    private static StructureFeature When(bool holds, StructureFeature feature) =>
        holds ? feature : StructureFeature.None;
}
