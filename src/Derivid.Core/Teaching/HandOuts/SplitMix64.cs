namespace Derivid.Core.Teaching.HandOuts;

/// <summary>A small reproducible generator, for shuffling and breaking ties.</summary>
/// <remarks>
/// Not for secrets: its state can be worked out from what it returns, so nothing it returns is shown to a student as it
/// stands. Thread safety: none, one generator a task.
/// Source: Steele, G. L.; Lea, D.; Flood, C. H. Fast splittable pseudorandom number generators. OOPSLA 2014, with the
/// golden-ratio increment and the mixing constants 0xBF58476D1CE4E5B9 and 0x94D049BB133111EB.
/// </remarks>
/// <param name="seed">Any 64 bits.</param>
public sealed class SplitMix64(ulong seed)
{
    private ulong _state = seed;

    /// <summary>The next 64 bits.</summary>
    public ulong Next()
    {
        unchecked
        {
            _state += 0x9E3779B97F4A7C15;
            var mixed = _state;
            mixed = (mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9;
            mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EB;
            return mixed ^ (mixed >> 31);
        }
    }

    /// <summary>A whole number from 0 up to, not including, a bound; every one alike.</summary>
    /// <param name="bound">Bounds: 1 up.</param>
    /// <exception cref="ArgumentOutOfRangeException">The bound is below 1.</exception>
    public int Below(int bound)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(bound, 1);

        // Draws past the last whole multiple of the bound are thrown away, so that no remainder comes up more often.
        var limit = ulong.MaxValue - (ulong.MaxValue % (ulong)bound);
        ulong drawn;
        do
        {
            drawn = Next();
        }
        while (drawn >= limit);
        return (int)(drawn % (ulong)bound);
    }

    /// <summary>The numbers from 0 to <paramref name="count"/> less 1 in a drawn order; every order alike.</summary>
    /// <param name="count">Bounds: 0 up.</param>
    public int[] Order(int count)
    {
        var order = new int[count];
        for (var i = 0; i < count; i++)
        {
            var place = Below(i + 1);
            order[i] = order[place];
            order[place] = i;
        }

        return order;
    }
}
