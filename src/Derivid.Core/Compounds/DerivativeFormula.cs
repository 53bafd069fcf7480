using Derivid.Core.Structures;

namespace Derivid.Core.Compounds;

/// <summary>The mass balance of a derivative: parent and reagent, less the water given off.</summary>
public static class DerivativeFormula
{
    /// <summary>Works out the formula of a derivative.</summary>
    /// <param name="parent">Formula of the parent.</param>
    /// <param name="kind">The kind, with its reagent.</param>
    /// <param name="carbonylsCondensed">Carbonyl groups that reacted, from 1.</param>
    /// <exception cref="ArgumentException">The kind's reagent formula can't be read, or there is too little to give the water off.</exception>
    public static MolecularFormula Of(MolecularFormula parent, DerivativeKind kind, int carbonylsCondensed)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return parent
            + (carbonylsCondensed * kind.ReagentsPerCarbonyl * MolecularFormula.Parse(kind.ReagentFormula))
            - (carbonylsCondensed * kind.WatersPerCarbonyl * MolecularFormula.Water);
    }
}
