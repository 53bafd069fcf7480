namespace Derivid.Validation.Metrics;

/// <summary>Which half of the parents a published value belongs to: one is fitted on, the other reported.</summary>
public static class Halves
{
    /// <summary>
    /// Whether a parent belongs to the fitting half: by a hash of its key alone, so that a new row moves no other parent.
    /// </summary>
    /// <remarks>The highest bit of FNV-1a, 32 bits.</remarks>
    public static bool IsFitting(string parentKey)
    {
        var hash = 2166136261u;
        foreach (var letter in parentKey)
        {
            hash = unchecked((hash ^ letter) * 16777619u);
        }

        return hash >> 31 == 0;
    }
}
