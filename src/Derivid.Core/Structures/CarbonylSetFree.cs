namespace Derivid.Core.Structures;

/// <summary>Whether a structure has an aldehyde or ketone group, or one that a test could set free.</summary>
public static class CarbonylSetFree
{
    private static readonly string[] LetGo = ["O", "N", "S"];

    /// <summary>What is said of a structure without one, in a sentence.</summary>
    public const string None =
        "a structure with an aldehyde or ketone group, or with an acetal, hydrate or the like that sets one free; this has none, so it forms no derivative";

    /// <summary>Whether it has one.</summary>
    /// <param name="molecule">The structure.</param>
    public static bool HasCarbonyl(Molecule molecule)
    {
        ArgumentNullException.ThrowIfNull(molecule);
        return CarbonylEnvironment.Of(molecule).CarbonylGroups > 0 || Enumerable.Range(0, molecule.Atoms.Length).Any(atom => IsMasked(molecule, atom));
    }

    // A saturated carbon with two oxygens, nitrogens or sulfurs: acetal, hydrate, bisulfite compound, aminal.
    private static bool IsMasked(Molecule molecule, int atom)
    {
        var view = new StructureView(molecule);
        return view.IsSaturatedCarbon(atom) && view.Neighbours(atom).Count(next => LetGo.Contains(view.Symbol(next))) == 2;
    }
}
