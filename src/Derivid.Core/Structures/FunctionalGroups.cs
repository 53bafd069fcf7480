namespace Derivid.Core.Structures;

/// <summary>The features that ask for a group anywhere in the molecule.</summary>
internal static class FunctionalGroups
{
    public static StructureFeature Of(StructureView view)
    {
        StructureFeature features = StructureFeature.None;
        for (int atom = 0; atom < view.Molecule.Atoms.Length; atom++)
        {
            features |= view.Symbol(atom) switch
            {
                "C" => OfCarbon(view, atom),
                "N" => OfNitrogen(view, atom),
                _ => StructureFeature.None,
            };
        }

        return features;
    }

    private static StructureFeature OfCarbon(StructureView view, int atom) =>
        When(view.IsAlkene(atom), StructureFeature.Alkene)
        | When(IsAlkyne(view, atom), StructureFeature.Alkyne)
        | When(view.IsAryl(atom) && view.HasHydroxyl(atom), StructureFeature.Phenol)
        | When(view.IsCarboxyl(atom), StructureFeature.CarboxylicAcid)
        | When(view.IsEster(atom), StructureFeature.Ester)
        | When(IsAlcohol(view, atom), StructureFeature.PrimaryOrSecondaryAlcohol)
        | When(IsMethylCarbinol(view, atom), StructureFeature.AlphaMethylCarbinol);

    private static bool IsAlkyne(StructureView view, int atom) =>
        view.Molecule.NeighboursOf(atom).Any(next => next.Order == 3 && view.IsCarbon(next.Atom));

    private static bool IsAlcohol(StructureView view, int atom) => view.IsSaturatedCarbon(atom)
        && view.Hydrogens(atom) > 0
        && view.HasHydroxyl(atom)
        && view.Neighbours(atom).Count(next => view.Symbol(next) == "O") == 1;

    /// <summary>CH3-CH(OH)-C, or CH3-CH2-OH.</summary>
    private static bool IsMethylCarbinol(StructureView view, int atom) => IsAlcohol(view, atom)
        && view.Carbons(atom).Any(view.IsMethyl)
        && (view.Hydrogens(atom), view.Carbons(atom).Count()) is (1, 2) or (2, 1);

    private static StructureFeature OfNitrogen(StructureView view, int atom)
    {
        bool amine = IsAmine(view, atom);
        return When(IsNitro(view, atom), StructureFeature.Nitro)
            | When(amine, StructureFeature.Amine)
            | When(amine && view.Neighbours(atom).Any(view.IsAryl), StructureFeature.ArylAmine);
    }

    private static bool IsNitro(StructureView view, int atom)
    {
        int bareOxygens = view.Neighbours(atom).Count(next => view.Symbol(next) == "O"
            && view.Hydrogens(next) == 0 && view.Molecule.NeighboursOf(next).Length == 1);
        return bareOxygens == 2 && view.Carbons(atom).Any();
    }

    private static bool IsAmine(StructureView view, int atom) => view.IsNeutral(atom)
        && !view.Molecule.IsAromatic(atom)
        && view.HasSingleBondsOnly(atom)
        && view.Neighbours(atom).Any()
        && view.Neighbours(atom).All(next => view.IsCarbon(next) && !HasMultipleBondToAnotherElement(view, next));

    private static bool HasMultipleBondToAnotherElement(StructureView view, int carbon) =>
        !view.Molecule.IsAromatic(carbon)
        && view.Molecule.NeighboursOf(carbon).Any(next => next.Order > 1 && !view.IsCarbon(next.Atom));

    private static StructureFeature When(bool holds, StructureFeature feature) =>
        holds ? feature : StructureFeature.None;
}

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
