namespace Derivid.Core.Teaching.HandOuts;

/// <summary>Gives every slot a compound so that slots which must differ do.</summary>
/// <remarks>
/// Graph colouring, most hemmed-in slot first, the least used of its free compounds first, with backtracking; each group
/// of connected slots by itself. Within <see cref="MostSteps"/> the search is complete, so a failure is a proof.
/// Source: Brélaz, D. New methods to color the vertices of a graph. Commun. ACM 1979, 22, 251–256 (the order of slots).
/// </remarks>
internal sealed class NeighbourColouring
{
    /// <summary>Placements tried in one group of slots before giving up. Chosen: a few seconds at most.</summary>
    public const int MostSteps = 50_000;

    private const int Open = -1;

    private readonly SlotGraph _graph;
    private readonly SplitMix64 _stream;
    private readonly int[] _rank;
    private readonly int[] _uses;
    private readonly int[,] _blocked;
    private readonly int[] _blockedColours;

    public NeighbourColouring(SlotGraph graph, int colours, SplitMix64 stream)
    {
        _graph = graph;
        _stream = stream;
        var slots = graph.Adjacent.Length;
        _rank = stream.Order(slots);
        _uses = new int[colours];
        _blocked = new int[slots, colours];
        _blockedColours = new int[slots];
        Colours = new int[slots];
        Array.Fill(Colours, Open);
    }

    /// <summary>The compound of each slot, once <see cref="Run"/> has answered true.</summary>
    public int[] Colours { get; }

    /// <summary>The group of slots that could not be served. Missing: null, none failed.</summary>
    public IReadOnlyList<int>? Failed { get; private set; }

    /// <summary>Whether the search gave up before it had tried everything.</summary>
    public bool GaveUp { get; private set; }

    /// <summary>Colours every group.</summary>
    /// <param name="stop">Gives up.</param>
    /// <returns>Whether every slot has a compound.</returns>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public bool Run(CancellationToken stop)
    {
        foreach (var component in _graph.Components().OrderBy(component => _rank[component[0]]))
        {
            if (!Serve(component, stop))
            {
                Failed = component;
                return false;
            }
        }

        return true;
    }

    private bool Serve(List<int> component, CancellationToken stop)
    {
        var choices = new Stack<Choice>();
        var usesHere = new int[_uses.Length];
        for (var steps = 0; choices.Count < component.Count;)
        {
            stop.ThrowIfCancellationRequested();
            var slot = component
                .Where(slot => Colours[slot] == Open)
                .MaxBy(slot => (_blockedColours[slot], _rank[slot]));
            choices.Push(new Choice(slot, Options(slot, usesHere)));
            while (choices.Peek().Options.Count == 0)
            {
                choices.Pop();
                if (choices.Count == 0)
                {
                    return false;
                }

                Change(choices.Peek().Slot, Open, usesHere);
            }

            if (++steps > MostSteps)
            {
                GaveUp = true;
                return false;
            }

            Change(choices.Peek().Slot, choices.Peek().Options.Dequeue(), usesHere);
        }

        return true;
    }

    /// <summary>
    /// Free compounds, least used first, ties as drawn. Of those not yet used in the group one is enough to try: they
    /// differ in name only.
    /// </summary>
    private Queue<int> Options(int slot, int[] usesHere)
    {
        var free = Enumerable.Range(0, _uses.Length)
            .Where(colour => _blocked[slot, colour] == 0)
            .Select(colour => (colour, tie: _stream.Next()))
            .OrderBy(item => _uses[item.colour])
            .ThenBy(item => item.tie)
            .Select(item => item.colour)
            .ToList();
        var fresh = free.Find(colour => usesHere[colour] == 0);
        return new Queue<int>(free.Where(colour => usesHere[colour] > 0 || colour == fresh));
    }

    private void Change(int slot, int colour, int[] usesHere)
    {
        var (changed, step) = colour == Open ? (Colours[slot], -1) : (colour, 1);
        Colours[slot] = colour;
        _uses[changed] += step;
        usesHere[changed] += step;
        foreach (var other in _graph.Adjacent[slot])
        {
            var before = _blocked[other, changed] > 0;
            _blocked[other, changed] += step;
            var after = _blocked[other, changed] > 0;
            _blockedColours[other] += (after ? 1 : 0) - (before ? 1 : 0);
        }
    }

    private sealed record Choice(int Slot, Queue<int> Options);
}
