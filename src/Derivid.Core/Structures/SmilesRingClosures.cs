namespace Derivid.Core.Structures;

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
        draft.Bonds.Add(new DraftBond(opening.Atom, atom, position) { Order = order });
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
