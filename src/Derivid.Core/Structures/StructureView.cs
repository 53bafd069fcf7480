namespace Derivid.Core.Structures;

/// <summary>The questions about one atom that the features are put together from.</summary>
internal sealed class StructureView(Molecule molecule)
{
    public Molecule Molecule => molecule;

    public string Symbol(int atom) => molecule.Atoms[atom].Symbol;

    public int Hydrogens(int atom) => molecule.Atoms[atom].Hydrogens;

    public bool IsCarbon(int atom) => Symbol(atom) == "C";

    public bool IsNeutral(int atom) => molecule.Atoms[atom].Charge == 0;

    public IEnumerable<int> Neighbours(int atom) => molecule.NeighboursOf(atom).Select(next => next.Atom);

    public IEnumerable<int> Carbons(int atom) => Neighbours(atom).Where(IsCarbon);

    public bool HasSingleBondsOnly(int atom) => molecule.NeighboursOf(atom).All(next => next.Order == 1);

    public bool IsSaturatedCarbon(int atom) => IsCarbon(atom) && HasSingleBondsOnly(atom) && !molecule.IsAromatic(atom);

    public bool IsMethyl(int atom) => IsSaturatedCarbon(atom) && Hydrogens(atom) == 3;

    /// <summary>A carbon of an aromatic ring.</summary>
    public bool IsAryl(int atom) => IsCarbon(atom) && molecule.IsAromatic(atom);

    /// <summary>A carbon of a C=C that is not part of an aromatic ring.</summary>
    public bool IsAlkene(int atom) => AlkenePartners(atom).Any();

    public IEnumerable<int> AlkenePartners(int atom) => IsCarbon(atom)
        ? molecule.NeighboursOf(atom)
            .Where(next => next.Order == 2 && IsCarbon(next.Atom) && !InOneAromaticRing(atom, next.Atom))
            .Select(next => next.Atom)
        : [];

    /// <summary>A carbon with a double bond to an uncharged oxygen that has no other bond.</summary>
    public bool IsCarbonyl(int atom) => IsCarbon(atom)
        && IsNeutral(atom)
        && molecule.NeighboursOf(atom).Any(next => next.Order == 2 && IsTerminalOxygen(next.Atom));

    public bool IsAldehyde(int atom) => IsCarbonyl(atom) && (Hydrogens(atom), molecule.NeighboursOf(atom).Length) switch
    {
        (2, 1) => true,
        (1, 2) => Carbons(atom).Any(),
        _ => false,
    };

    public bool IsKetone(int atom) => IsCarbonyl(atom)
        && molecule.NeighboursOf(atom).Count(next => next.Order == 1 && IsCarbon(next.Atom)) == 2;

    public bool IsAldehydeOrKetone(int atom) => IsAldehyde(atom) || IsKetone(atom);

    /// <summary>-CO-O-C on carbon or hydrogen, the far carbon having no C=O of its own.</summary>
    public bool IsEster(int atom) => IsAcyl(atom)
        && SingleOxygens(atom).Any(oxygen => Carbons(oxygen).Any(far => far != atom && !IsCarbonyl(far)));

    public bool IsCarboxyl(int atom) => IsAcyl(atom)
        && SingleOxygens(atom).Any(oxygen => molecule.NeighboursOf(oxygen).Length == 1);

    /// <summary>A hydroxyl oxygen: one hydrogen, one neighbour.</summary>
    public bool HasHydroxyl(int atom) => SingleOxygens(atom).Any(oxygen =>
        Hydrogens(oxygen) == 1 && molecule.NeighboursOf(oxygen).Length == 1);

    private IEnumerable<int> SingleOxygens(int atom) => molecule.NeighboursOf(atom)
        .Where(next => next.Order == 1 && Symbol(next.Atom) == "O")
        .Select(next => next.Atom);

    private bool IsTerminalOxygen(int atom) => Symbol(atom) == "O"
        && IsNeutral(atom) && Hydrogens(atom) == 0 && molecule.NeighboursOf(atom).Length == 1;

    private bool IsAcyl(int atom) => IsCarbonyl(atom) && (Hydrogens(atom) == 1 || Carbons(atom).Any());

    private bool InOneAromaticRing(int one, int other) =>
        molecule.AromaticRings.Any(ring => ring.Contains(one) && ring.Contains(other));
}
