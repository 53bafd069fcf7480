namespace Derivid.Core.Structures;

/// <summary>The carbonyl groups of a molecule and what surrounds them.</summary>
/// <param name="Features">Every feature of the molecule.</param>
/// <param name="AldehydeGroups">-CHO groups; methanal has one.</param>
/// <param name="KetoneGroups">C=O groups between two carbons, quinone carbonyls included.</param>
public sealed record CarbonylEnvironment(StructureFeature Features, int AldehydeGroups, int KetoneGroups)
{
    /// <summary>Groups that can condense with a reagent: the most that a derivative may count as condensed.</summary>
    public int CarbonylGroups => AldehydeGroups + KetoneGroups;

    /// <summary>
    /// Whether a ketone group is joined to an sp3 carbon with three further carbons, as pinacolone's is. No feature of the
    /// table's rules: with a small other side such a ketone reacts, though slowly.
    /// </summary>
    public bool HasTertiaryKetone { get; private init; }

    /// <summary>Looks at a molecule.</summary>
    /// <param name="molecule">Any molecule; one without carbonyl groups has the features that need none.</param>
    public static CarbonylEnvironment Of(Molecule molecule)
    {
        ArgumentNullException.ThrowIfNull(molecule);
        var view = new StructureView(molecule);
        StructureFeature features = ElementFeatures.Of(molecule)
            | FunctionalGroups.Of(view)
            | (QuinoneRings.AnyIn(view) ? StructureFeature.Quinone : StructureFeature.None);
        int aldehydes = 0;
        int ketones = 0;
        bool isTertiary = false;
        for (int atom = 0; atom < molecule.Atoms.Length; atom++)
        {
            if (view.IsAldehyde(atom))
            {
                aldehydes++;
                features |= AldehydeFeatures.Of(view, atom) | CarbonylFeatures.Of(view, atom);
            }
            else if (view.IsKetone(atom))
            {
                ketones++;
                features |= KetoneFeatures.Of(view, atom) | CarbonylFeatures.Of(view, atom);
                isTertiary |= view.Carbons(atom).Any(alpha => view.IsSaturatedCarbon(alpha) && view.Carbons(alpha).Count() == 4);
            }
        }

        return new CarbonylEnvironment(features, aldehydes, ketones) { HasTertiaryKetone = isTertiary };
    }
}
