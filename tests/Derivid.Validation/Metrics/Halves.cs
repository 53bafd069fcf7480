namespace Derivid.Validation.Metrics;

/// <summary>Which half of the parents a published value belongs to: one is fitted on, the other reported.</summary>
public static class Halves
{
    /// <summary>
    /// Whether a parent belongs to the fitting half: by a hash of its key alone, so that a new row moves no other parent.
    /// </summary>
    /// <remarks>FNV-1a, 32 bits; the parity of its bits folded together.</remarks>
    public static bool IsFitting(string parentKey)
    {
        var hash = 2166136261u;
        foreach (var letter in parentKey)
        {
            hash = unchecked((hash ^ letter) * 16777619u);
        }

        return System.Numerics.BitOperations.PopCount(hash) % 2 == 0;
    }
}
