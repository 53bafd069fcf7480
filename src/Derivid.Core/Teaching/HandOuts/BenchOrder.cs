namespace Derivid.Core.Teaching.HandOuts;

/// <summary>The order of benches as people count them: digits by the number they write, so that B3 stands before B10; else ordinal.</summary>
public sealed class BenchOrder : IComparer<string?>
{
    private BenchOrder()
    {
    }

    /// <summary>The order.</summary>
    public static BenchOrder Instance { get; } = new();

    /// <inheritdoc/>
    /// <remarks>No bench stands first. Different names are never equal: B3 stands before B03.</remarks>
    public int Compare(string? x, string? y)
    {
        if (x is null || y is null)
        {
            return string.CompareOrdinal(x, y);
        }

        var left = x.AsSpan();
        var right = y.AsSpan();
        while (!left.IsEmpty && !right.IsEmpty)
        {
            var first = Run(left);
            var second = Run(right);
            if (ComparedRuns(first, second) is not 0 and var order)
            {
                return order;
            }

            left = left[first.Length..];
            right = right[second.Length..];
        }

        return left.Length != right.Length ? left.Length - right.Length
            : x.Length != y.Length ? x.Length - y.Length
            : string.CompareOrdinal(x, y);
    }

    // All digits that a text begins with, else its first letter.
    private static ReadOnlySpan<char> Run(ReadOnlySpan<char> text) => text.IndexOfAnyExceptInRange('0', '9') switch
    {
        0 => text[..1],
        -1 => text,
        var end => text[..end],
    };

    private static int ComparedRuns(ReadOnlySpan<char> x, ReadOnlySpan<char> y)
    {
        if (char.IsAsciiDigit(x[0]) && char.IsAsciiDigit(y[0]))
        {
            x = x.TrimStart('0');
            y = y.TrimStart('0');
            if (x.Length != y.Length)
            {
                return x.Length - y.Length;
            }
        }

        return x.SequenceCompareTo(y);
    }
}
