namespace Derivid.Core.Structures;

/// <summary>Fills hydrogens up to the usual valences and refuses atoms with more bonds than they take.</summary>
/// <remarks>The valences are those of OpenSMILES; see <see cref="SmilesReader"/> for the departures.</remarks>
internal static class Valence
{
    public static SmilesError? FillAndCheck(SmilesDraft draft)
    {
        int[] sums = draft.BondSums();
        bool[] hasMultiple = HasMultipleBond(draft);
        for (int index = 0; index < sums.Length; index++)
        {
            DraftAtom atom = draft.Atoms[index];
            atom.Hydrogens ??= atom.IsAromatic
                ? AromaticHydrogens(atom.Symbol, sums[index], hasMultiple[index])
                : Hydrogens(atom.Symbol, sums[index]);
            int bonds = sums[index] + atom.Hydrogens.Value;
            if (Most(atom) is int most && bonds > most)
            {
                return new SmilesError(
                    atom.Position, $"{Named(atom)} has {bonds} bonds, hydrogens included; at most {most} are allowed.");
            }
        }

        return null;
    }

    /// <summary>Valences an atom has without being a radical. Shape: ascending; empty where no rule is kept.</summary>
    public static ReadOnlySpan<int> Usual(string symbol, int charge) => (symbol, charge) switch
    {
        ("B", 0) or ("C", 1) or ("C", -1) or ("O" or "Te", 1) => [3],
        ("B", -1) or ("C", 0) or ("N", 1) or ("P" or "As", 1) => [4],
        ("N" or "P" or "As", 0) => [3, 5],
        ("N" or "P" or "As", -1) or ("O", 0) => [2],
        ("S" or "Se" or "Te", 0) => [2, 4, 6],
        ("S" or "Se", 1) => [3, 5],
        ("O" or "S" or "Se", -1) or ("F" or "Cl" or "Br" or "I", 0) => [1],
        _ => [],
    };

    private static int Hydrogens(string symbol, int bonds)
    {
        foreach (int valence in Usual(symbol, 0))
        {
            if (bonds <= valence)
            {
                return valence - bonds;
            }
        }

        return 0;
    }

    /// <summary>Only c takes hydrogens left out: one bond of its four is kept for the ring's electrons.</summary>
    private static int AromaticHydrogens(string symbol, int bonds, bool hasMultiple) =>
        symbol == "C" ? Math.Max(0, (hasMultiple ? 4 : 3) - bonds) : 0;

    private static int? Most(DraftAtom atom) => (atom.Symbol, atom.Charge) switch
    {
        ("H", 0) => 1,
        ("Cl" or "Br" or "I", 0) => 7,
        ("C" or "N" or "O" or "F" or "B" or "P" or "S", 0) or ("C" or "N" or "O", 1 or -1) =>
            Usual(atom.Symbol, atom.Charge)[^1],
        _ => null,
    };

    private static string Named(DraftAtom atom) => atom.Charge switch
    {
        0 => atom.Symbol,
        > 0 => $"{atom.Symbol} with a positive charge",
        < 0 => $"{atom.Symbol} with a negative charge",
    };

    private static bool[] HasMultipleBond(SmilesDraft draft)
    {
        var has = new bool[draft.Atoms.Count];
        foreach (DraftBond bond in draft.Bonds.Where(bond => bond.Order > 1))
        {
            has[bond.First] = has[bond.Second] = true;
        }

        return has;
    }
}
