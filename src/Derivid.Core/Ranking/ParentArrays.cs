using System.Collections.Concurrent;

namespace Derivid.Core.Ranking;

/// <summary>Arrays of one number a parent, lent for the time of one answer: made anew, those of a large table would cost more than what is reckoned in them.</summary>
/// <remarks>Thread safe. One that is not given back is left to be collected.</remarks>
/// <param name="length">How many parents there are.</param>
internal sealed class ParentArrays(int length)
{
    private readonly ConcurrentBag<double[]> _free = [];

    /// <summary>Lends one, with whatever it last held.</summary>
    public double[] Take() => _free.TryTake(out var array) ? array : new double[length];

    /// <summary>Takes one back; whoever gives it no longer looks at it.</summary>
    public void Give(double[] array) => _free.Add(array);
}
