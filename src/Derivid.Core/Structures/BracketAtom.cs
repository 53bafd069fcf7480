using System.Globalization;

namespace Derivid.Core.Structures;

/// <summary>Reads an atom in brackets: isotope, symbol, configuration, hydrogens, charge, class.</summary>
internal static class BracketAtom
{
    private const int MaximumCharge = 15;

    private static readonly string[] AromaticSymbols = ["se", "as", "b", "c", "n", "o", "p", "s"];

    public static SmilesError? Read(string text, ref int at, out DraftAtom? atom)
    {
        atom = null;
        int open = at;
        int close = text.IndexOf(']', open);
        if (close < 0)
        {
            return new SmilesError(
                open + 1, "The bracket that opens here is not closed; write bracket atoms as in [NH4+].");
        }

        ReadOnlySpan<char> inside = text.AsSpan(open + 1, close - open - 1);
        var rest = new SmilesPart(inside, open + 2);
        int? isotope = rest.Number(3);
        string? symbol = Symbol(ref rest, out bool aromatic);
        if (symbol is null)
        {
            return new SmilesError(
                rest.Position,
                "No element symbol is read here; in brackets come isotope, element, configuration, hydrogens and "
                + "charge, as in [13CH4] or [NH4+]; elements without a standard atomic weight and \"*\" are not read.");
        }

        Configuration.Skip(ref rest);
        int hydrogens = rest.Take('H') ? rest.Number(1) ?? 1 : 0;
        int? charge = Charge(ref rest);
        bool hasClass = rest.Take(':');
        int? atomClass = hasClass ? rest.Number(4) : null;
        if (charge is null || !rest.IsEmpty || hasClass != (atomClass is not null))
        {
            return new SmilesError(
                rest.Position,
                "The bracket is not read from here on; after the element come configuration (@ or @@), hydrogens "
                + $"(H to H9), charge (- or + to {MaximumCharge}) and class (:0 to :9999), in this order.");
        }

        at = close + 1;
        atom = new DraftAtom
        {
            Symbol = symbol,
            IsAromatic = aromatic,
            Position = open + 1,
            Isotope = isotope,
            Charge = charge.Value,
            Hydrogens = hydrogens,
        };
        return null;
    }

    private static string? Symbol(ref SmilesPart rest, out bool aromatic)
    {
        foreach (string candidate in AromaticSymbols)
        {
            if (rest.Take(candidate))
            {
                aromatic = true;
                return char.ToUpperInvariant(candidate[0]) + candidate[1..];
            }
        }

        aromatic = false;
        return rest.Element();
    }

    /// <summary>0 where none is written, null where it is out of bounds.</summary>
    private static int? Charge(ref SmilesPart rest)
    {
        int sign = rest.Take('+') ? 1 : rest.Take('-') ? -1 : 0;
        if (sign == 0)
        {
            return 0;
        }

        char mark = sign > 0 ? '+' : '-';
        if (rest.Number(2) is not int size)
        {
            size = 1;
            while (rest.Take(mark))
            {
                size++;
            }
        }

        return size <= MaximumCharge ? sign * size : null;
    }
}

/// <summary>What is left of a bracket, taken from the front.</summary>
internal ref struct SmilesPart(ReadOnlySpan<char> text, int position)
{
    private ReadOnlySpan<char> _rest = text;

    /// <summary>Where the rest starts in the whole text, counted from 1.</summary>
    public int Position { get; private set; } = position;

    public readonly bool IsEmpty => _rest.IsEmpty;

    public bool Take(char expected)
    {
        if (_rest.IsEmpty || _rest[0] != expected)
        {
            return false;
        }

        Drop(1);
        return true;
    }

    public bool Take(string expected)
    {
        if (!_rest.StartsWith(expected, StringComparison.Ordinal))
        {
            return false;
        }

        Drop(expected.Length);
        return true;
    }

    /// <summary>As many digits as there are, up to a number of them; null where there is none.</summary>
    public int? Number(int mostDigits)
    {
        int length = 0;
        while (length < mostDigits && length < _rest.Length && char.IsAsciiDigit(_rest[length]))
        {
            length++;
        }

        if (length == 0)
        {
            return null;
        }

        int number = int.Parse(_rest[..length], NumberStyles.None, CultureInfo.InvariantCulture);
        Drop(length);
        return number;
    }

    /// <summary>The longest symbol of an element with a standard atomic weight; null where there is none.</summary>
    public string? Element()
    {
        for (int length = Math.Min(2, _rest.Length); length > 0; length--)
        {
            string symbol = _rest[..length].ToString();
            if (StandardAtomicWeights.Of(symbol) is not null)
            {
                Drop(length);
                return symbol;
            }
        }

        return null;
    }

    private void Drop(int length)
    {
        _rest = _rest[length..];
        Position += length;
    }
}
