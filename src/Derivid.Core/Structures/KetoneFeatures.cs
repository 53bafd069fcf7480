namespace Derivid.Core.Structures;

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
