using System.Collections.Immutable;

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
                Atoms[carrier].HydrogenLabels += Atoms[atom].Isotope ?? 0;
            }
            else
            {
                kept.Add(Atoms[atom]);
            }
        }

        return new Molecule(
            [.. kept.Select(atom => new Atom(atom.Symbol, atom.Charge, atom.Hydrogens ?? 0, atom.Isotope) { HydrogenLabels = atom.HydrogenLabels })],
            [.. Bonds
                .Where(bond => carriers[bond.First] is null && carriers[bond.Second] is null)
                .Select(bond => new Bond(indices[bond.First], indices[bond.Second], bond.Order))],
            DirectedBonds.Configurations(this, atom => carriers[atom] is null ? indices[atom] : null));
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

/// <summary>An atom while its text is being read.</summary>
internal sealed class DraftAtom
{
    public required string Symbol { get; init; }

    public required int Position { get; init; }

    public bool IsAromatic { get; init; }

    public int Charge { get; init; }

    public int? Isotope { get; init; }

    public int HydrogenLabels { get; set; }

    /// <summary>Null until the valence rules have filled it, for an atom of the organic subset.</summary>
    public int? Hydrogens { get; set; }
}

/// <summary>A bond while its text is being read.</summary>
internal sealed record DraftBond(int First, int Second, int Position)
{
    /// <summary>The order of a bond whose symbol was left out.</summary>
    public const int LeftOut = 0;

    /// <summary>The order of a bond in a lower-case ring system, until a Kekulé drawing is settled.</summary>
    public const int Aromatic = -1;

    public required int Order { get; set; }

    /// <summary>1 where the second atom lies above the first ("/"), -1 below ("\"), 0 where nothing was said.</summary>
    public int Rise { get; init; }
}

/// <summary>Reads the configuration of double bonds off the slanted bonds beside them.</summary>
internal static class DirectedBonds
{
    /// <summary>The configurations given. An atom without an index is a hydrogen counted on its carrier.</summary>
    public static ImmutableArray<DoubleBondConfiguration> Configurations(SmilesDraft draft, Func<int, int?> indexOf)
    {
        var configurations = ImmutableArray.CreateBuilder<DoubleBondConfiguration>();
        if (!draft.Bonds.Exists(bond => bond.Rise != 0))
        {
            return [];
        }

        foreach (DraftBond bond in draft.Bonds.Where(bond => bond.Order == 2))
        {
            if (Beside(draft, bond.First, bond.Second, indexOf) is (int first, int firstHeight)
                && Beside(draft, bond.Second, bond.First, indexOf) is (int second, int secondHeight))
            {
                configurations.Add(new DoubleBondConfiguration(
                    indexOf(bond.First)!.Value,
                    indexOf(bond.Second)!.Value,
                    first,
                    second,
                    firstHeight == secondHeight));
            }
        }

        return configurations.ToImmutable();
    }

    /// <summary>A neighbour that is drawn and whether it lies above (1) or below (-1) the atom.</summary>
    private static (int Atom, int Height)? Beside(SmilesDraft draft, int atom, int partner, Func<int, int?> indexOf)
    {
        (int Atom, int Rise)[] neighbours = [.. draft.Bonds
            .Where(bond => bond.Order == 1 && (bond.First == atom || bond.Second == atom))
            .Select(bond => bond.First == atom ? (bond.Second, bond.Rise) : (bond.First, -bond.Rise))
            .Where(beside => beside.Item1 != partner)];
        int height = neighbours.Select(beside => beside.Rise).FirstOrDefault(rise => rise != 0);
        if (height == 0)
        {
            return null;
        }

        int said = neighbours.First(beside => beside.Rise != 0).Atom;
        foreach ((int neighbour, _) in neighbours)
        {
            if (indexOf(neighbour) is int drawn)
            {
                return (drawn, neighbour == said ? height : -height);
            }
        }

        return null;
    }
}

/// <summary>A bond symbol and the character it stands at, counted from 1.</summary>
internal sealed record BondSymbol(char Symbol, int Position)
{
    public int Order => Symbol switch
    {
        '=' => 2,
        '#' => 3,
        '$' => 4,
        ':' => DraftBond.Aromatic,
        _ => 1,
    };

    public int Rise => Symbol switch
    {
        '/' => 1,
        '\\' => -1,
        _ => 0,
    };
}

/// <summary>The ring closures of a text: which are open, and the bonds that closing them makes.</summary>
internal sealed class SmilesRingClosures(SmilesDraft draft)
{
    private readonly Dictionary<int, (int Atom, BondSymbol? Bond, int Position)> _open = [];

    public SmilesError? Take(int number, int atom, BondSymbol? bond, int position)
    {
        if (!_open.Remove(number, out (int Atom, BondSymbol? Bond, int Position) opening))
        {
            _open[number] = (atom, bond, position);
            return null;
        }

        if (opening.Atom == atom)
        {
            return new SmilesError(
                position, $"Ring closure {number} joins an atom to itself; its two ends belong on two atoms.");
        }

        if (opening.Bond is not null && bond is not null && opening.Bond.Order != bond.Order)
        {
            return new SmilesError(
                position,
                $"Ring closure {number} is a \"{opening.Bond.Symbol}\" bond where it opens and a \"{bond.Symbol}\" "
                + "bond where it closes; write the bond at one end, or the same at both.");
        }

        if (draft.Bonds.Exists(other => Joins(other, opening.Atom, atom)))
        {
            return new SmilesError(
                position,
                $"Ring closure {number} joins two atoms that have a bond already; write a double bond as \"=\".");
        }

        int order = (opening.Bond ?? bond)?.Order ?? DraftBond.LeftOut;
        int rise = opening.Bond is { Rise: not 0 } ? opening.Bond.Rise : -(bond?.Rise ?? 0);
        draft.Bonds.Add(new DraftBond(opening.Atom, atom, position) { Order = order, Rise = rise });
        return null;
    }

    public SmilesError? StillOpen()
    {
        if (_open.Count == 0)
        {
            return null;
        }

        (int number, (int Atom, BondSymbol? Bond, int Position) opening) = _open.MinBy(entry => entry.Value.Position);
        return new SmilesError(
            opening.Position,
            $"Ring closure {number} is not closed; the number comes once more at the atom it is joined to.");
    }

    private static bool Joins(DraftBond bond, int one, int other) =>
        (bond.First == one && bond.Second == other) || (bond.First == other && bond.Second == one);
}
