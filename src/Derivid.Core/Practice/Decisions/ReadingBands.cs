namespace Derivid.Core.Practice.Decisions;

/// <summary>Gathers fine bins of readings into as few bands as tell the compounds in play apart.</summary>
/// <remarks>
/// Neighbours are joined one pair at a time, the pair whose joining loses least of the mutual information of compound and
/// reading, as long as that is next to nothing or there are more bands than anybody wants to read. Compounds count by their
/// probabilities now.
/// </remarks>
internal static class ReadingBands
{
    /// <summary>Information that joining two bands may lose. Units: nats. Chosen: far below what makes a step worth taking.</summary>
    private const double LeastLoss = 0.001;

    /// <summary>Bands beyond one a compound: between and outside. Chosen.</summary>
    private const int Spare = 6;

    /// <summary>Most bands of all. Chosen.</summary>
    private const int Most = 32;

    /// <summary>Joins bins.</summary>
    /// <param name="cells">Probability of each bin of each compound. Shape: one row a compound, as long as there are bins.</param>
    /// <param name="belief">Probabilities of the compounds.</param>
    /// <returns>The last bin of each band, from the lowest band up.</returns>
    public static IReadOnlyList<int> Join(IReadOnlyList<ReadOnlyMemory<float>> cells, ReadOnlySpan<double> belief)
    {
        var bins = cells[0].Length;
        var bands = new List<double[]>(bins);
        for (var bin = 0; bin < bins; bin++)
        {
            var joint = new double[cells.Count];
            for (var compound = 0; compound < joint.Length; compound++)
            {
                joint[compound] = belief[compound] * cells[compound].Span[bin];
            }

            bands.Add(joint);
        }

        var ends = Enumerable.Range(0, bins).ToList();
        var losses = Enumerable.Range(0, bins - 1).Select(i => Loss(bands[i], bands[i + 1])).ToList();
        var most = Math.Min(Most, cells.Count + Spare);
        while (losses.Count > 0)
        {
            var least = losses.IndexOf(losses.Min());
            if (losses[least] > LeastLoss && ends.Count <= most)
            {
                break;
            }

            bands[least] = [.. bands[least].Zip(bands[least + 1], (low, high) => low + high)];
            bands.RemoveAt(least + 1);
            ends.RemoveAt(least);
            losses.RemoveAt(least);
            for (var pair = Math.Max(0, least - 1); pair < Math.Min(least + 1, losses.Count); pair++)
            {
                losses[pair] = Loss(bands[pair], bands[pair + 1]);
            }
        }

        return ends;
    }

    /// <summary>What joining two bands loses. Units: nats.</summary>
    private static double Loss(double[] low, double[] high)
    {
        var (lowTotal, highTotal) = (low.Sum(), high.Sum());
        var loss = 0.0;
        for (var compound = 0; compound < low.Length; compound++)
        {
            var share = (low[compound] + high[compound]) / (lowTotal + highTotal);
            loss += Term(low[compound], lowTotal, share) + Term(high[compound], highTotal, share);
        }

        return lowTotal + highTotal > 0 ? loss : 0;
    }

    private static double Term(double joint, double total, double share) =>
        joint > 0 ? joint * Math.Log(joint / (total * share)) : 0;
}
