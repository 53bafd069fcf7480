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

/// <summary>What one aldehyde group adds to the features.</summary>
internal static class AldehydeFeatures
{
    public static StructureFeature Of(StructureView view, int carbonyl)
    {
        StructureFeature features = StructureFeature.Aldehyde;
        int[] carbons = [.. view.Carbons(carbonyl)];
        if (carbons.Length == 0)
        {
            return features | StructureFeature.AliphaticAldehyde | StructureFeature.Methanal;
        }

        int alpha = carbons[0];
        features |= !view.IsAryl(alpha) ? StructureFeature.AliphaticAldehyde
            : IsInHeteroaromaticRing(view, alpha) ? StructureFeature.HeteroaromaticAldehyde
            : StructureFeature.AromaticAldehyde;
        if (view.IsAlkene(alpha))
        {
            features |= StructureFeature.ConjugatedEnal;
        }

        if (view.IsMethyl(alpha))
        {
            features |= StructureFeature.AcetaldehydeType;
        }

        return features;
    }

    private static bool IsInHeteroaromaticRing(StructureView view, int atom) =>
        view.Molecule.AromaticRings.Any(ring => ring.Contains(atom) && !ring.All(view.IsCarbon));
}

/// <summary>What one ketone group adds to the features.</summary>
internal static class KetoneFeatures
{
    public static StructureFeature Of(StructureView view, int carbonyl)
    {
        int[] alphas = [.. view.Carbons(carbonyl)];
        StructureFeature features = StructureFeature.Ketone;
        features |= alphas.Count(view.IsAryl) switch
        {
            0 => StructureFeature.None,
            1 => StructureFeature.ArylKetone,
            _ => StructureFeature.ArylKetone | StructureFeature.DiarylKetone,
        };
        features |= alphas.Count(view.IsAlkene) switch
        {
            0 => StructureFeature.None,
            1 => StructureFeature.ConjugatedEnone,
            _ => StructureFeature.ConjugatedEnone | StructureFeature.CrossConjugatedDienone,
        };
        if (alphas.Any(view.IsMethyl))
        {
            features |= StructureFeature.MethylKetone;
            features |= alphas.Any(view.IsAryl) ? StructureFeature.ArylMethylKetone : StructureFeature.None;
        }

        if (view.Molecule.IsRingAtom(carbonyl))
        {
            features |= StructureFeature.CyclicKetone;
        }

        return IsHindered(view, carbonyl, alphas) ? features | StructureFeature.HinderedKetone : features;
    }

    /// <summary>The three cases of <see cref="StructureFeature.HinderedKetone"/>.</summary>
    private static bool IsHindered(StructureView view, int carbonyl, int[] alphas)
    {
        int[] branches = [.. alphas.Where(view.IsSaturatedCarbon).Select(alpha => view.Carbons(alpha).Count() - 1)];
        return (branches.Length == 2 && branches.Min() >= 2)
            || (branches.Contains(3) && !alphas.Any(view.IsMethyl))
            || view.Molecule.NeighboursOf(carbonyl).Any(next => view.IsAryl(next.Atom)
                && !view.Molecule.IsRingBond(next.Bond)
                && IsBlockedAryl(view, carbonyl, next.Atom));
    }

    private static bool IsBlockedAryl(StructureView view, int carbonyl, int aryl) =>
        view.Neighbours(aryl).Where(ortho => ortho != carbonyl)
            .All(ortho => view.IsAryl(ortho) && view.Hydrogens(ortho) == 0);
}

/// <summary>Follows the C=C and aryl units that are conjugated with a carbonyl group.</summary>
/// <remarks>From carbon to carbon through C=C; an aryl is counted and ends the way, as does another C=O.</remarks>
internal static class Conjugation
{
    public static bool IsExtended(StructureView view, int carbonyl)
    {
        int alkeneCarbons = 0;
        bool aryl = false;
        var seen = new HashSet<int> { carbonyl };
        var open = new Queue<int>(seen);
        while (open.TryDequeue(out int atom))
        {
            foreach (int next in view.Carbons(atom).Where(seen.Add))
            {
                if (view.IsAryl(next))
                {
                    aryl = true;
                }
                else if (view.IsAlkene(next) && !view.IsCarbonyl(next))
                {
                    alkeneCarbons++;
                    open.Enqueue(next);
                }
            }
        }

        // Each C=C has two of its carbons on the way, and the three of C=C=C are two of them.
        int alkenes = (alkeneCarbons + 1) / 2;
        return alkenes >= 2 || (alkenes == 1 && aryl);
    }
}
