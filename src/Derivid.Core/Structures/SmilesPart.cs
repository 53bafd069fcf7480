using System.Globalization;

namespace Derivid.Core.Structures;

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
