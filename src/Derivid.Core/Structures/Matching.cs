namespace Derivid.Core.Structures;

/// <summary>Pairs up as many vertices of a graph as can be paired along its edges.</summary>
/// <remarks>
/// Odd rings (azulene, fullerenes) are why a simple walk will not do.
/// Source: J. Edmonds, "Paths, trees, and flowers", Can. J. Math. 1965, 17, 449-467. Departures: starts from a greedy
/// pairing, which in ring systems leaves little to improve.
/// </remarks>
internal sealed class Matching
{
    /// <summary>The partner of a vertex that has none.</summary>
    public const int Alone = -1;

    private readonly List<int>[] _edges;
    private readonly int[] _partner;
    private readonly int[] _cameFrom;
    private readonly int[] _base;
    private readonly bool[] _isOuter;
    private readonly Queue<int> _open = new();

    private Matching(int vertices, IEnumerable<(int First, int Second)> edges)
    {
        _edges = [.. Enumerable.Range(0, vertices).Select(_ => new List<int>())];
        _partner = new int[vertices];
        _cameFrom = new int[vertices];
        _base = new int[vertices];
        _isOuter = new bool[vertices];
        Array.Fill(_partner, Alone);
        foreach ((int first, int second) in edges)
        {
            _edges[first].Add(second);
            _edges[second].Add(first);
            if (_partner[first] == Alone && _partner[second] == Alone)
            {
                _partner[first] = second;
                _partner[second] = first;
            }
        }
    }

    /// <summary>The partner of each vertex, or <see cref="Alone"/>.</summary>
    public static int[] Largest(int vertices, IEnumerable<(int First, int Second)> edges)
    {
        var matching = new Matching(vertices, edges);
        for (int vertex = 0; vertex < vertices; vertex++)
        {
            if (matching._partner[vertex] == Alone && matching._edges[vertex].Count > 0)
            {
                matching.Flip(matching.FreeEndFrom(vertex));
            }
        }

        return matching._partner;
    }

    /// <summary>Exchanges paired and unpaired edges along the path that ends at a free vertex.</summary>
    private void Flip(int end)
    {
        while (end != Alone)
        {
            int before = _cameFrom[end];
            int next = _partner[before];
            _partner[end] = before;
            _partner[before] = end;
            end = next;
        }
    }

    /// <summary>The end of an alternating path from a free vertex to another, or <see cref="Alone"/>.</summary>
    private int FreeEndFrom(int root)
    {
        Array.Clear(_isOuter);
        Array.Fill(_cameFrom, Alone);
        for (int vertex = 0; vertex < _base.Length; vertex++)
        {
            _base[vertex] = vertex;
        }

        _isOuter[root] = true;
        _open.Clear();
        _open.Enqueue(root);
        while (_open.TryDequeue(out int vertex))
        {
            foreach (int next in _edges[vertex])
            {
                int end = Visit(root, vertex, next);
                if (end != Alone)
                {
                    return end;
                }
            }
        }

        return Alone;
    }

    private int Visit(int root, int vertex, int next)
    {
        if (_base[vertex] == _base[next] || _partner[vertex] == next)
        {
            return Alone;
        }

        if (next == root || (_partner[next] != Alone && _cameFrom[_partner[next]] != Alone))
        {
            Contract(vertex, next);
        }
        else if (_cameFrom[next] == Alone)
        {
            _cameFrom[next] = vertex;
            if (_partner[next] == Alone)
            {
                return next;
            }

            _isOuter[_partner[next]] = true;
            _open.Enqueue(_partner[next]);
        }

        return Alone;
    }

    /// <summary>Two outer vertices meet: the odd ring through them becomes one vertex, its members all outer.</summary>
    private void Contract(int one, int other)
    {
        int meeting = CommonBase(one, other);
        var inRing = new bool[_base.Length];
        MarkUpTo(meeting, one, other, inRing);
        MarkUpTo(meeting, other, one, inRing);
        for (int vertex = 0; vertex < _base.Length; vertex++)
        {
            if (!inRing[_base[vertex]])
            {
                continue;
            }

            _base[vertex] = meeting;
            if (!_isOuter[vertex])
            {
                _isOuter[vertex] = true;
                _open.Enqueue(vertex);
            }
        }
    }

    private void MarkUpTo(int meeting, int vertex, int child, bool[] inRing)
    {
        while (_base[vertex] != meeting)
        {
            int partner = _partner[vertex];
            inRing[_base[vertex]] = inRing[_base[partner]] = true;
            _cameFrom[vertex] = child;
            child = partner;
            vertex = _cameFrom[partner];
        }
    }

    private int CommonBase(int one, int other)
    {
        var onPath = new bool[_base.Length];
        while (true)
        {
            one = _base[one];
            onPath[one] = true;
            if (_partner[one] == Alone)
            {
                break;
            }

            one = _cameFrom[_partner[one]];
        }

        other = _base[other];
        while (!onPath[other])
        {
            other = _base[_cameFrom[_partner[other]]];
        }

        return other;
    }
}
