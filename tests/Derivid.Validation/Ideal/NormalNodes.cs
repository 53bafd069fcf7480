using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Ideal;

/// <summary>Nodes and weights to average over a standard normal, out to four standard deviations.</summary>
public static class NormalNodes
{
    private const int Count = 41;

    /// <summary>Place and weight of each node. Shape: rising, weights summing to 1.</summary>
    public static IReadOnlyList<(double Place, double Weight)> All { get; } = Make();

    private static (double Place, double Weight)[] Make()
    {
        var places = Enumerable.Range(0, Count).Select(i => -4 + (8.0 * i / (Count - 1))).ToArray();
        var total = places.Sum(place => Normal.PDF(0, 1, place));
        return [.. places.Select(place => (place, Normal.PDF(0, 1, place) / total))];
    }
}
