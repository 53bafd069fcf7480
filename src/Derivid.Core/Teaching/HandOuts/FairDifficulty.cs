namespace Derivid.Core.Teaching.HandOuts;

/// <summary>Exchanges compounds between students so that difficulty is spread fairly, uses staying as they are.</summary>
/// <remarks>
/// Fair is the least sum of squared excesses: of what each student's total, and each bench's mean weighted by its slots, is
/// further from the mean than allowed. Evened out to the last digit, the hardest compound would always go with the easiest,
/// whatever the seed, and whoever knew one unknown would know the other. So a student may depart by <see cref="Fair"/>, and
/// by more where one of their compounds would otherwise be left with fewer than <see cref="LeastPartners"/> of the others
/// that it can go with; a bench by a tenth a slot, or as one of its students may.
/// Exchanges of two slots are tried in a drawn order, so that no seat is favoured, until none helps; where an excess is left,
/// which neighbours may have caused, from the beginning in another order. The best of <see cref="MostStarts"/> is kept: a good
/// spread, not proven the best there is.
/// </remarks>
internal sealed class FairDifficulty
{
    /// <summary>Chosen: of 200 hand-outs to 24 students one was stuck at the first.</summary>
    private const int MostStarts = 4;

    /// <summary>Rounds over all pairs of slots. Chosen; the first three or four do nearly all.</summary>
    private const int MostRounds = 20;

    private const double LeastGain = 1e-9;

    /// <summary>A departure from the mean that nobody would call unfair. Units: difficulty, 0 to 1. Chosen; a tenth of what a hopeless one counts.</summary>
    private const double Fair = 0.1;

    /// <summary>The share of the other compounds that each compound must be able to go with. Chosen.</summary>
    private const double LeastPartners = 0.5;

    private readonly SlotGraph _graph;
    private readonly int[] _colours;
    private readonly double[] _difficulty;
    private readonly double[] _allowed;
    private readonly double _most;
    private readonly SplitMix64 _stream;
    private readonly int[] _benchOfStudent;
    private readonly double[] _studentTotals;
    private readonly double[] _benchTotals;
    private readonly int[] _benchSlots;
    private readonly double _meanTotal;
    private readonly double _mean;

    public FairDifficulty(SlotGraph graph, int[] colours, double[] difficulty, Roster roster, SplitMix64 stream)
    {
        _graph = graph;
        _colours = colours;
        _difficulty = difficulty;
        _stream = stream;
        var benches = roster.Seats.Select(seat => seat.Bench ?? "").Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal).ToList();
        _benchOfStudent = [.. roster.Seats.Select(seat => benches.IndexOf(seat.Bench ?? ""))];
        _studentTotals = new double[roster.Seats.Count];
        _benchTotals = new double[benches.Count];
        _benchSlots = new int[benches.Count];
        foreach (var bench in _benchOfStudent)
        {
            _benchSlots[bench] += graph.UnknownsPerStudent;
        }

        _mean = colours.Length == 0 ? 0 : colours.Average(colour => difficulty[colour]);
        _meanTotal = _mean * graph.UnknownsPerStudent;
        _allowed = [.. Enumerable.Range(0, difficulty.Length).Select(Allowed)];
        _most = _allowed.Max();
    }

    /// <summary>Totals of each student after <see cref="Improve"/>. Shape: in the order of the roster.</summary>
    public IReadOnlyList<double> StudentTotals => _studentTotals;

    /// <summary>Exchanges while it helps; changes the colours in place.</summary>
    /// <param name="stop">Gives up.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public void Improve(CancellationToken stop)
    {
        var given = _colours.ToArray();
        var (best, kept) = (double.PositiveInfinity, given);
        for (var start = 0; start < MostStarts && best > LeastGain; start++)
        {
            given.CopyTo(_colours, 0);
            Total();
            var order = _stream.Order(_colours.Length);
            for (var round = 0; round < MostRounds && Round(order, stop); round++)
            {
            }

            var excess = Excess();
            if (excess < best)
            {
                (best, kept) = (excess, _colours.ToArray());
            }
        }

        kept.CopyTo(_colours, 0);
        Total();
    }

    private bool Round(int[] order, CancellationToken stop)
    {
        var hasChanged = false;
        for (var first = 0; first < order.Length; first++)
        {
            stop.ThrowIfCancellationRequested();
            for (var second = first + 1; second < order.Length; second++)
            {
                hasChanged |= TryExchange(order[first], order[second]);
            }
        }

        return hasChanged;
    }

    private void Total()
    {
        Array.Clear(_studentTotals);
        Array.Clear(_benchTotals);
        for (var slot = 0; slot < _colours.Length; slot++)
        {
            _studentTotals[_graph.StudentOf(slot)] += _difficulty[_colours[slot]];
            _benchTotals[BenchOf(slot)] += _difficulty[_colours[slot]];
        }
    }

    private double Excess()
    {
        // One slot of each student and of each bench stands for it.
        var students = Enumerable.Range(0, _studentTotals.Length).Select(student => student * _graph.UnknownsPerStudent).ToList();
        return students.Sum(slot => OfStudent(slot, _colours[slot])) + students.DistinctBy(BenchOf).Sum(slot => OfBench(slot, 0));
    }

    /// <summary>How far a student with a compound may depart: as two unknowns of mean difficulty are reckoned, however many there are.</summary>
    private double Allowed(int compound)
    {
        var departures = Enumerable.Range(0, _difficulty.Length).Where(other => other != compound)
            .Select(other => Math.Abs(_difficulty[compound] + _difficulty[other] - (2 * _mean))).Order().ToList();
        return departures.Count == 0 ? Fair : Math.Max(Fair, departures[(int)Math.Ceiling(LeastPartners * departures.Count) - 1]);
    }

    private bool TryExchange(int first, int second)
    {
        if (_difficulty[_colours[second]] == _difficulty[_colours[first]]
            || Gain(first, second) < LeastGain
            || !CanExchange(first, second))
        {
            return false;
        }

        var moved = _difficulty[_colours[second]] - _difficulty[_colours[first]];
        (_colours[first], _colours[second]) = (_colours[second], _colours[first]);
        _studentTotals[_graph.StudentOf(first)] += moved;
        _studentTotals[_graph.StudentOf(second)] -= moved;
        _benchTotals[BenchOf(first)] += moved;
        _benchTotals[BenchOf(second)] -= moved;
        return true;
    }

    /// <summary>By how much the sum of squared excesses falls when two slots exchange their compounds.</summary>
    private double Gain(int first, int second)
    {
        if (_graph.StudentOf(first) == _graph.StudentOf(second))
        {
            return 0;
        }

        var gain = OfStudent(first, _colours[first]) + OfStudent(second, _colours[second])
            - OfStudent(first, _colours[second]) - OfStudent(second, _colours[first]);
        if (BenchOf(first) == BenchOf(second))
        {
            return gain;
        }

        var moved = _difficulty[_colours[second]] - _difficulty[_colours[first]];
        return gain + OfBench(first, 0) + OfBench(second, 0) - OfBench(first, moved) - OfBench(second, -moved);
    }

    /// <summary>The squared excess of a slot's student if it held a compound.</summary>
    private double OfStudent(int slot, int compound)
    {
        var student = _graph.StudentOf(slot);
        var allowed = _allowed[compound];
        for (var own = student * _graph.UnknownsPerStudent; own < (student + 1) * _graph.UnknownsPerStudent; own++)
        {
            allowed = own == slot ? allowed : Math.Max(allowed, _allowed[_colours[own]]);
        }

        return Squared(_studentTotals[student] + _difficulty[compound] - _difficulty[_colours[slot]] - _meanTotal, allowed);
    }

    /// <summary>The squared excess of a slot's bench if its total changed by an amount, weighted by its slots.</summary>
    private double OfBench(int slot, double change)
    {
        var bench = BenchOf(slot);
        var slots = _benchSlots[bench];
        return Squared(_benchTotals[bench] + change - (slots * _mean), Math.Max(slots * Fair, _most)) / slots;
    }

    private static double Squared(double departure, double allowed)
    {
        var excess = Math.Max(0, Math.Abs(departure) - allowed);
        return excess * excess;
    }

    private bool CanExchange(int first, int second) =>
        Array.TrueForAll(_graph.Adjacent[first], slot => slot == second || _colours[slot] != _colours[second])
        && Array.TrueForAll(_graph.Adjacent[second], slot => slot == first || _colours[slot] != _colours[first]);

    private int BenchOf(int slot) => _benchOfStudent[_graph.StudentOf(slot)];
}
