using System.Globalization;

namespace Derivid.Core.Structures;

/// <summary>Walks once through a SMILES text and collects its atoms and bonds.</summary>
internal sealed class SmilesScanner(string text, SmilesDraft draft)
{
    private const int None = -1;

    private readonly Stack<(int Atom, int Position)> _branches = new();
    private readonly SmilesRingClosures _closures = new(draft);
    private int _at;
    private int _previous = None;
    private BondSymbol? _bond;
    private bool _atomMustFollow = true;

    public SmilesError? Scan()
    {
        while (_at < text.Length)
        {
            if (Step() is SmilesError error)
            {
                return error;
            }
        }

        return AtEnd();
    }

    private SmilesError? Step()
    {
        char symbol = text[_at];
        return symbol switch
        {
            '[' => Take(BracketAtom.Read(text, ref _at, out DraftAtom? inBracket), inBracket),
            '(' => OpenBranch(),
            ')' => CloseBranch(),
            '.' => Dot(),
            '-' or '=' or '#' or '$' or ':' or '/' or '\\' => TakeBond(symbol),
            '%' or (>= '0' and <= '9') => TakeClosure(),
            _ => Take(OrganicSubset.Read(text, ref _at, out DraftAtom? bare), bare),
        };
    }

    private SmilesError? Take(SmilesError? error, DraftAtom? atom)
    {
        if (error is not null)
        {
            return error;
        }

        int index = draft.Atoms.Count;
        draft.Atoms.Add(atom!);
        if (_previous != None)
        {
            int order = _bond?.Order ?? DraftBond.LeftOut;
            draft.Bonds.Add(new DraftBond(_previous, index, _bond?.Position ?? atom!.Position)
            {
                Order = order,
                Rise = _bond?.Rise ?? 0,
            });
        }

        _previous = index;
        _bond = null;
        _atomMustFollow = false;
        return null;
    }

    private SmilesError? TakeBond(char symbol)
    {
        if (_bond is not null || _previous == None)
        {
            return At(_at, $"The bond \"{symbol}\" has no atom before it; write atom, bond, atom.");
        }

        _bond = new BondSymbol(symbol, _at + 1);
        _at++;
        return null;
    }

    private SmilesError? TakeClosure()
    {
        int start = _at;
        if (_atomMustFollow)
        {
            return At(start, "A ring closure has no atom before it; write its number right after an atom.");
        }

        bool twoDigits = text[_at] == '%';
        int digits = twoDigits ? 2 : 1;
        int from = twoDigits ? _at + 1 : _at;
        if (from + digits > text.Length || text.AsSpan(from, digits).ContainsAnyExceptInRange('0', '9'))
        {
            return At(start, "\"%\" is not followed by two digits; ring closures are 0 to 9, or %10 to %99.");
        }

        int number = int.Parse(text.AsSpan(from, digits), NumberStyles.None, CultureInfo.InvariantCulture);
        _at = from + digits;
        SmilesError? error = _closures.Take(number, _previous, _bond, start + 1);
        _bond = null;
        return error;
    }

    private SmilesError? OpenBranch()
    {
        if (_atomMustFollow || _bond is not null)
        {
            return At(
                _at, "A branch opens where an atom is expected; write \"(\" after an atom, ring closure or branch.");
        }

        _branches.Push((_previous, _at));
        _at++;
        _atomMustFollow = true;
        return null;
    }

    private SmilesError? CloseBranch()
    {
        if (_branches.Count == 0)
        {
            return At(_at, "\")\" closes a branch that was not opened; every \")\" needs a \"(\" before it.");
        }

        if (_atomMustFollow || _bond is not null)
        {
            return At(_at, "The branch ends where an atom is expected; a branch holds at least one atom.");
        }

        _previous = _branches.Pop().Atom;
        _at++;
        return null;
    }

    private SmilesError? Dot()
    {
        bool opensBranch = _atomMustFollow && _branches.Count > 0 && text[_at - 1] == '(';
        if ((_atomMustFollow && !opensBranch) || _bond is not null)
        {
            return At(_at, "The dot stands where an atom is expected; write it between two parts, such as \"CCO.O\".");
        }

        _previous = None;
        _at++;
        _atomMustFollow = true;
        return null;
    }

    private SmilesError? AtEnd()
    {
        if (_bond is not null || _atomMustFollow)
        {
            return At(text.Length, "The structure ends where an atom is expected; add one or leave the last sign out.");
        }

        return _branches.TryPeek(out (int Atom, int Position) open)
            ? At(open.Position, "The branch that opens here is not closed; every \"(\" needs a \")\" after it.")
            : _closures.StillOpen();
    }

    private static SmilesError At(int index, string sentence) => new(index + 1, sentence);
}
