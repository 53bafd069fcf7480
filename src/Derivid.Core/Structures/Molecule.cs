using System.Collections.Immutable;

namespace Derivid.Core.Structures;

/// <summary>A structure: atoms, the bonds between them, and what follows from the two.</summary>
/// <remarks>
/// May be several unconnected parts (a salt, a hydrate); the formula is that of all of them. Of configuration only that
/// of double bonds is kept, and only for a drawing: no feature, formula or fingerprint depends on it.
/// Aromatic ring systems have one Kekulé drawing, which of the possible ones is not settled; ask
/// <see cref="IsAromatic"/> instead of looking for alternating bonds. Equality: by reference. Thread safety: immutable.
/// </remarks>
public sealed class Molecule
{
    private readonly ImmutableArray<ImmutableArray<BondedAtom>> _neighbours;
    private readonly ImmutableArray<bool> _ringBonds;
    private readonly ImmutableArray<bool> _aromatic;

    internal Molecule(
        ImmutableArray<Atom> atoms, ImmutableArray<Bond> bonds, ImmutableArray<DoubleBondConfiguration> configurations)
    {
        Atoms = atoms;
        Bonds = bonds;
        Configurations = configurations;
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

    /// <summary>The double bonds whose configuration was given. Shape: at most one a bond.</summary>
    public ImmutableArray<DoubleBondConfiguration> Configurations { get; }

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

/// <summary>One atom of a <see cref="Molecule"/>.</summary>
/// <param name="Symbol">Element symbol, such as "Cl".</param>
/// <param name="Charge">Formal charge. Units: elementary charges.</param>
/// <param name="Hydrogens">Hydrogen atoms it carries, however the notation gave them.</param>
/// <param name="Isotope">Mass number. Missing: null, the natural mixture.</param>
public sealed record Atom(string Symbol, int Charge, int Hydrogens, int? Isotope)
{
    /// <summary>Mass numbers of the labelled ones among its <see cref="Hydrogens"/>, added up: 2 for one deuterium. Missing: 0, none is.</summary>
    public int HydrogenLabels { get; init; }
}

/// <summary>One bond of a <see cref="Molecule"/>, in a Kekulé drawing.</summary>
/// <param name="First">Index of one atom.</param>
/// <param name="Second">Index of the other atom.</param>
/// <param name="Order">1 single to 4 quadruple; aromatic rings have alternating 1 and 2.</param>
public readonly record struct Bond(int First, int Second, int Order);

/// <summary>On which sides of a double bond two of its neighbours lie.</summary>
/// <param name="First">The double bond's atom that carries <paramref name="BesideFirst"/>.</param>
/// <param name="Second">Its other atom.</param>
/// <param name="BesideFirst">A neighbour of the one.</param>
/// <param name="BesideSecond">A neighbour of the other.</param>
/// <param name="SameSide">Whether the two neighbours lie on the same side.</param>
public readonly record struct DoubleBondConfiguration(
    int First, int Second, int BesideFirst, int BesideSecond, bool SameSide);

/// <summary>The far end of a bond, seen from one of its atoms.</summary>
/// <param name="Atom">Index of the atom at the far end.</param>
/// <param name="Bond">Index of the bond.</param>
/// <param name="Order">Order of the bond, 1 to 4.</param>
public readonly record struct BondedAtom(int Atom, int Bond, int Order);

/// <summary>Turns a list of bonds into a list of neighbours for each atom.</summary>
internal static class Adjacency
{
    public static ImmutableArray<ImmutableArray<BondedAtom>> Of(int atoms, IReadOnlyList<Bond> bonds)
    {
        var neighbours = new ImmutableArray<BondedAtom>.Builder[atoms];
        for (int atom = 0; atom < atoms; atom++)
        {
            neighbours[atom] = ImmutableArray.CreateBuilder<BondedAtom>();
        }

        for (int index = 0; index < bonds.Count; index++)
        {
            (int first, int second, int order) = bonds[index];
            neighbours[first].Add(new BondedAtom(second, index, order));
            neighbours[second].Add(new BondedAtom(first, index, order));
        }

        return [.. neighbours.Select(list => list.ToImmutable())];
    }
}

/// <summary>Steps over the configuration of a bracket atom, which nothing depends on.</summary>
internal static class Configuration
{
    private static readonly (string Name, int Highest)[] Classes =
        [("TH", 2), ("AL", 2), ("SP", 3), ("TB", 20), ("OH", 30)];

    /// <summary>Stops where the configuration is not one of the notation's, so that the caller reports it.</summary>
    public static void Skip(ref SmilesPart rest)
    {
        if (!rest.Take('@') || rest.Take('@'))
        {
            return;
        }

        foreach ((string name, int highest) in Classes)
        {
            SmilesPart after = rest;
            if (after.Take(name) && after.Number(2) is int number && number >= 1 && number <= highest)
            {
                rest = after;
                return;
            }
        }
    }
}
