namespace Derivid.Core.Teaching.HandOuts;

/// <summary>Evens out how often each compound is used, without making neighbours alike.</summary>
/// <remarks>
/// In the slots of a much used and a little used compound, a chain of slots that hem each other in is exchanged whole, so
/// that nobody becomes like a neighbour (a Kempe chain). Where students only have neighbours along benches, every chain
/// is a line, whose two compounds differ in number by one at most, and the uses always come out even to within one.
/// </remarks>
internal static class EvenUse
{
    /// <summary>Changes a valid colouring into an evener one.</summary>
    /// <param name="graph">The slots.</param>
    /// <param name="colours">The compound of each slot; changed in place.</param>
    /// <param name="count">Number of compounds.</param>
    /// <param name="stop">Gives up.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static void Improve(SlotGraph graph, int[] colours, int count, CancellationToken stop)
    {
        // The sum of squares of the uses falls with each exchange, so this ends.
        while (ExchangeOne(graph, colours, count, stop))
        {
        }
    }

    private static bool ExchangeOne(SlotGraph graph, int[] colours, int count, CancellationToken stop)
    {
        var uses = new int[count];
        foreach (var colour in colours)
        {
            uses[colour]++;
        }

        var pairs =
            from much in Enumerable.Range(0, count)
            from little in Enumerable.Range(0, count)
            let gap = uses[much] - uses[little]
            where gap >= 2
            orderby gap descending
            select (much, little, gap);
        foreach (var (much, little, gap) in pairs)
        {
            stop.ThrowIfCancellationRequested();
            if (Chain(graph, colours, much, little, gap) is { } chain)
            {
                foreach (var slot in chain)
                {
                    colours[slot] = colours[slot] == much ? little : much;
                }

                return true;
            }
        }

        return false;
    }

    /// <summary>The first chain whose exchange brings the two uses closer. Missing: null, there is none.</summary>
    private static List<int>? Chain(SlotGraph graph, int[] colours, int much, int little, int gap)
    {
        var seen = new bool[colours.Length];
        for (var start = 0; start < colours.Length; start++)
        {
            if (colours[start] != much || seen[start])
            {
                continue;
            }

            seen[start] = true;
            var chain = new List<int> { start };
            for (var i = 0; i < chain.Count; i++)
            {
                foreach (var next in graph.Adjacent[chain[i]]
                    .Where(next => !seen[next] && (colours[next] == much || colours[next] == little)))
                {
                    seen[next] = true;
                    chain.Add(next);
                }
            }

            var excess = chain.Sum(slot => colours[slot] == much ? 1 : -1);
            if (excess > 0 && excess < gap)
            {
                return chain;
            }
        }

        return null;
    }
}
