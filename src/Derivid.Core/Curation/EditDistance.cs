namespace Derivid.Core.Curation;

/// <summary>How many letters must be put in, taken out or exchanged to make one word of another.</summary>
/// <remarks>Source: V. I. Levenshtein, Soviet Physics Doklady 1966, 10, 707-710; recalled.</remarks>
internal static class EditDistance
{
    /// <summary>Whether that many edits are enough.</summary>
    public static bool IsAtMost(string one, string other, int edits)
    {
        if (Math.Abs(one.Length - other.Length) > edits)
        {
            return false;
        }

        var above = Enumerable.Range(0, other.Length + 1).ToArray();
        for (var i = 1; i <= one.Length; i++)
        {
            var row = new int[above.Length];
            row[0] = i;
            for (var j = 1; j < row.Length; j++)
            {
                row[j] = Math.Min(
                    Math.Min(above[j], row[j - 1]) + 1, above[j - 1] + (one[i - 1] == other[j - 1] ? 0 : 1));
            }

            above = row;
        }

        return above[^1] <= edits;
    }
}
