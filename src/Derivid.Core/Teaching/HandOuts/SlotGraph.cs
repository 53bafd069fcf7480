namespace Derivid.Core.Teaching.HandOuts;

/// <summary>The unknowns to be handed out and which of them must differ.</summary>
/// <remarks>
/// A slot is one student's first, second ... unknown. The slots of one student differ from each other, and from every
/// slot of a neighbour. Slot number: student index × unknowns per student + 0, 1 ...
/// </remarks>
internal sealed class SlotGraph
{
    public SlotGraph(Roster roster, int unknownsPerStudent)
    {
        UnknownsPerStudent = unknownsPerStudent;
        Adjacent = new int[roster.Seats.Count * unknownsPerStudent][];
        for (var slot = 0; slot < Adjacent.Length; slot++)
        {
            var student = StudentOf(slot);
            Adjacent[slot] = [.. SlotsOf(student).Where(other => other != slot)
                .Concat(roster.NeighboursOf(student).SelectMany(SlotsOf))];
        }
    }

    public int UnknownsPerStudent { get; }

    /// <summary>The slots that each slot must differ from.</summary>
    public int[][] Adjacent { get; }

    public int StudentOf(int slot) => slot / UnknownsPerStudent;

    /// <summary>The slots reached from each other through neighbours. Shape: one list a group, in order of the first slot.</summary>
    public List<List<int>> Components()
    {
        var components = new List<List<int>>();
        var seen = new bool[Adjacent.Length];
        for (var start = 0; start < seen.Length; start++)
        {
            if (seen[start])
            {
                continue;
            }

            seen[start] = true;
            var component = new List<int> { start };
            for (var i = 0; i < component.Count; i++)
            {
                foreach (var next in Adjacent[component[i]].Where(next => !seen[next]))
                {
                    seen[next] = true;
                    component.Add(next);
                }
            }

            components.Add(component);
        }

        return components;
    }

    /// <summary>As many slots as one look finds that must all differ from each other.</summary>
    /// <param name="stop">Gives up.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public List<int> AllDiffering(CancellationToken stop)
    {
        var largest = new List<int>();
        var near = new Dictionary<int, HashSet<int>>();
        HashSet<int> Near(int slot) => near.TryGetValue(slot, out var known) ? known : near[slot] = [.. Adjacent[slot]];

        // A student's slots differ from the same others, so one of them is enough to begin at.
        for (var start = 0; start < Adjacent.Length; start += UnknownsPerStudent)
        {
            stop.ThrowIfCancellationRequested();
            var clique = new List<int> { start };
            foreach (var next in Adjacent[start].OrderByDescending(slot => Adjacent[slot].Length).ThenBy(slot => slot))
            {
                if (Near(next).IsSupersetOf(clique))
                {
                    clique.Add(next);
                }
            }

            largest = clique.Count > largest.Count ? clique : largest;
        }

        return largest;
    }

    private IEnumerable<int> SlotsOf(int student) =>
        Enumerable.Range(student * UnknownsPerStudent, UnknownsPerStudent);
}
