using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Ideal;

/// <summary>Nodes and weights to average over a standard normal, out to four standard deviations.</summary>
public static class NormalNodes
{
    /// <summary>Place and weight of each node, for smooth functions. Shape: rising, weights summing to 1.</summary>
    public static IReadOnlyList<(double Place, double Weight)> All { get; } = Make(41);

    /// <summary>The same, few, where means over many cases are taken anyway.</summary>
    public static IReadOnlyList<(double Place, double Weight)> Few { get; } = Make(11);

    /// <summary>The same, close enough together for functions with steps.</summary>
    public static IReadOnlyList<(double Place, double Weight)> Fine { get; } = Make(241);

    private static (double Place, double Weight)[] Make(int count)
    {
        var places = Enumerable.Range(0, count).Select(i => -4 + (8.0 * i / (count - 1))).ToArray();
        var total = places.Sum(place => Normal.PDF(0, 1, place));
        return [.. places.Select(place => (place, Normal.PDF(0, 1, place) / total))];
    }
}
