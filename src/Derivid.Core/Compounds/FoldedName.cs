using System.Text;

namespace Derivid.Core.Compounds;

/// <summary>Names as they are compared: without what people write one way or another, and by how few slips part them.</summary>
public static class FoldedName
{
    /// <summary>
    /// A name in small letters, without spaces, dashes, commas, apostrophes, primes and brackets. Signs and per cents stay: they
    /// tell enantiomers and solutions apart.
    /// </summary>
    /// <param name="name">The name.</param>
    public static string Of(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var folded = new StringBuilder(name.Length);
        foreach (var letter in name)
        {
            if (char.IsLetterOrDigit(letter) || letter is '+' or '%')
            {
                folded.Append(char.ToLowerInvariant(letter));
            }
        }

        return folded.ToString();
    }

    /// <summary>
    /// How many letters must be put in, taken out, exchanged or swapped with their neighbour to make one word of another, no
    /// letter touched twice (optimal string alignment).
    /// </summary>
    /// <param name="one">A word.</param>
    /// <param name="other">Another.</param>
    public static int Distance(string one, string other)
    {
        ArgumentNullException.ThrowIfNull(one);
        ArgumentNullException.ThrowIfNull(other);
        var (before, last, row) = (new int[other.Length + 1], new int[other.Length + 1], new int[other.Length + 1]);
        for (var j = 0; j <= other.Length; j++)
        {
            last[j] = j;
        }

        for (var i = 1; i <= one.Length; i++)
        {
            row[0] = i;
            for (var j = 1; j <= other.Length; j++)
            {
                row[j] = Math.Min(Math.Min(row[j - 1], last[j]) + 1, last[j - 1] + (one[i - 1] == other[j - 1] ? 0 : 1));
                if (i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1])
                {
                    row[j] = Math.Min(row[j], before[j - 2] + 1);
                }
            }

            (before, last, row) = (last, row, before);
        }

        return last[other.Length];
    }
}
