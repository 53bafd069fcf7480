namespace Derivid.Core.Structures;

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
