namespace Derivid.Core.Structures;

/// <summary>A molecule while its text is being read.</summary>
internal sealed class SmilesDraft
{
    public List<DraftAtom> Atoms { get; } = [];

    public List<DraftBond> Bonds { get; } = [];

    /// <summary>Sum of bond orders of each atom, an aromatic bond counting as one.</summary>
    public int[] BondSums()
    {
        var sums = new int[Atoms.Count];
        foreach (DraftBond bond in Bonds)
        {
            int order = bond.Order is DraftBond.Aromatic or DraftBond.LeftOut ? 1 : bond.Order;
            sums[bond.First] += order;
            sums[bond.Second] += order;
        }

        return sums;
    }

    /// <summary>The molecule, hydrogen atoms with one single bond to another element counted on that atom.</summary>
    public Molecule ToMolecule()
    {
        int?[] carriers = HydrogenCarriers();
        var indices = new int[Atoms.Count];
        var kept = new List<DraftAtom>();
        for (int atom = 0; atom < Atoms.Count; atom++)
        {
            indices[atom] = kept.Count;
            if (carriers[atom] is int carrier)
            {
                Atoms[carrier].Hydrogens++;
            }
            else
            {
                kept.Add(Atoms[atom]);
            }
        }

        return new Molecule(
            [.. kept.Select(atom => new Atom(atom.Symbol, atom.Charge, atom.Hydrogens ?? 0, atom.Isotope))],
            [.. Bonds
                .Where(bond => carriers[bond.First] is null && carriers[bond.Second] is null)
                .Select(bond => new Bond(indices[bond.First], indices[bond.Second], bond.Order))]);
    }

    private int?[] HydrogenCarriers()
    {
        var bondsOf = new int[Atoms.Count];
        foreach (DraftBond bond in Bonds)
        {
            bondsOf[bond.First]++;
            bondsOf[bond.Second]++;
        }

        var carriers = new int?[Atoms.Count];
        foreach (DraftBond bond in Bonds.Where(bond => bond.Order == 1))
        {
            Claim(bond.First, bond.Second);
            Claim(bond.Second, bond.First);
        }

        return carriers;

        void Claim(int hydrogen, int carrier)
        {
            DraftAtom atom = Atoms[hydrogen];
            if (atom is { Symbol: "H", Charge: 0, Hydrogens: 0 }
                && bondsOf[hydrogen] == 1
                && Atoms[carrier].Symbol != "H")
            {
                carriers[hydrogen] = carrier;
            }
        }
    }
}
