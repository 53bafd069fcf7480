namespace Derivid.Core.Structures;

/// <summary>The features that only ask which elements are there.</summary>
internal static class ElementFeatures
{
    public static StructureFeature Of(Molecule molecule)
    {
        StructureFeature features = StructureFeature.None;
        foreach (string symbol in molecule.Formula.Counts.Keys)
        {
            features |= symbol switch
            {
                "F" => StructureFeature.Fluorine | StructureFeature.Halogen,
                "Cl" => StructureFeature.Chlorine | StructureFeature.Halogen,
                "Br" => StructureFeature.Bromine | StructureFeature.Halogen,
                "I" => StructureFeature.Iodine | StructureFeature.Halogen,
                "N" => StructureFeature.Nitrogen,
                "S" => StructureFeature.Sulfur,
                _ => StructureFeature.None,
            };
        }

        return features;
    }
}
