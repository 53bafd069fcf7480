using System.Collections.Immutable;

namespace Derivid.Core.Structures;

/// <summary>A structure: atoms, the bonds between them, and what follows from the two.</summary>
/// <remarks>
/// May be several unconnected parts (a salt, a hydrate); the formula is that of all of them. Configuration is not kept.
/// Aromatic ring systems have one Kekulé drawing, which of the possible ones is not settled; ask
/// <see cref="IsAromatic"/> instead of looking for alternating bonds. Equality: by reference. Thread safety: immutable.
/// </remarks>
public sealed class Molecule
{
    private readonly ImmutableArray<ImmutableArray<BondedAtom>> _neighbours;
    private readonly ImmutableArray<bool> _ringBonds;
    private readonly ImmutableArray<bool> _aromatic;

    internal Molecule(ImmutableArray<Atom> atoms, ImmutableArray<Bond> bonds)
    {
        Atoms = atoms;
        Bonds = bonds;
        _neighbours = Adjacency.Of(atoms.Length, bonds);
        _ringBonds = RingBonds.Of(_neighbours, bonds.Length);
        AromaticRings = Aromaticity.Of(this);
        var aromatic = new bool[atoms.Length];
        foreach (int atom in AromaticRings.SelectMany(ring => ring))
        {
            aromatic[atom] = true;
        }

        _aromatic = [.. aromatic];
        Formula = MolecularFormula.FromCounts(
            atoms.Select(atom => KeyValuePair.Create(atom.Symbol, 1))
                .Append(KeyValuePair.Create("H", atoms.Sum(atom => atom.Hydrogens))));
    }

    /// <summary>The atoms; hydrogens are counted on the atoms that carry them wherever they can be.</summary>
    /// <remarks>Shape: order of the text they were read from.</remarks>
    public ImmutableArray<Atom> Atoms { get; }

    /// <summary>The bonds. Shape: no order promised.</summary>
    public ImmutableArray<Bond> Bonds { get; }

    /// <summary>Molecular formula of all parts; isotopes count as their element.</summary>
    public MolecularFormula Formula { get; }

    /// <summary>Formal charge of all parts together. Units: elementary charges.</summary>
    public int Charge => Atoms.Sum(atom => atom.Charge);

    /// <summary>The aromatic rings, found in the Kekulé drawing, so that upper and lower case give the same.</summary>
    /// <remarks>
    /// Shape: the atom indices of each in ring order; fused systems are given ring by ring.
    /// Rule, for each ring of 5 to 7 atoms without a bond across: an atom offers the ring one electron (it has a double
    /// bond that is itself part of some ring), two (O, S, Se, Te, N, P or As with single bonds only, or C⁻) or none
    /// (C⁺, or B with single bonds only); the ring is aromatic if they sum to 6. An atom with a double bond out of the
    /// ring system, or with four bonds, rules its rings out: quinones, cyclic dienones, tropone, pyridones, pyranones
    /// are not aromatic, in whatever case they were written.
    /// Limits: systems that count only as a whole (azulene, porphyrin, large annulenes) are not seen; a ring whose
    /// double bonds all lie in neighbour rings is taken as aromatic even where it is not (s-indacene).
    /// </remarks>
    public ImmutableArray<ImmutableArray<int>> AromaticRings { get; }

    /// <summary>What an atom is bonded to, hydrogens left out.</summary>
    /// <param name="atom">Index of the atom.</param>
    public ImmutableArray<BondedAtom> NeighboursOf(int atom) => _neighbours[atom];

    /// <summary>Whether an atom belongs to an aromatic ring.</summary>
    /// <param name="atom">Index of the atom.</param>
    public bool IsAromatic(int atom) => _aromatic[atom];

    /// <summary>Whether a bond belongs to a ring of any size.</summary>
    /// <param name="bond">Index of the bond.</param>
    public bool IsRingBond(int bond) => _ringBonds[bond];

    /// <summary>Whether an atom belongs to a ring of any size.</summary>
    /// <param name="atom">Index of the atom.</param>
    public bool IsRingAtom(int atom)
    {
        foreach (BondedAtom neighbour in _neighbours[atom])
        {
            if (_ringBonds[neighbour.Bond])
            {
                return true;
            }
        }

        return false;
    }
}
