namespace Derivid.Core.Teaching.HandOuts;

/// <summary>Exchanges compounds between students so that difficulty is spread fairly, uses staying as they are.</summary>
/// <remarks>
/// Fair is the least sum of squared excesses: of what each student's total, and each bench's mean weighted by its slots, is
/// further from the mean than allowed. Evened out to the last digit, the hardest compound would always go with the easiest,
/// whatever the seed, and whoever knew all unknowns of a student but one would know that too. So a student may depart by
/// <see cref="Fair"/>, and by more where their other unknowns would otherwise leave fewer than <see cref="LeastChoice"/> of the
/// compounds for one of them; a bench by a tenth a slot, or as one of its students may, or as any compound by itself would take it,
/// lest a seat alone at a bench rule some out.
/// Exchanges of two slots are tried in a drawn order, so that no seat is favoured, until none helps; where an excess is left,
/// which neighbours may have caused, from the beginning in another order. The best of <see cref="MostStarts"/> is kept: a good
/// spread, not proven the best there is. Difficulties count in thousandths, so that how far the compounds would take a student
/// is worked out once for each sum of the others.
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

    /// <summary>The share of the compounds not among a student's other unknowns that each unknown must be able to be. Chosen.</summary>
    private const double LeastChoice = 0.5;

    private const double Thousandths = 1000;

    private readonly SlotGraph _graph;
    private readonly int[] _colours;
    private readonly SplitMix64 _stream;
    private readonly int[] _difficulty;
    private readonly double _mean;
    private readonly double[]?[] _departures;
    private readonly int[] _benchOfStudent;
    private readonly int[] _benchSlots;
    private readonly double[] _benchAllowed;
    private readonly int[] _studentTotals;
    private readonly int[] _benchTotals;
    private readonly double[] _studentExcess;
    private readonly double[] _benchExcess;

    public FairDifficulty(SlotGraph graph, int[] colours, IEnumerable<double> difficulty, Roster roster, SplitMix64 stream)
    {
        _graph = graph;
        _colours = colours;
        _stream = stream;
        _difficulty = [.. difficulty.Select(own => (int)Math.Round(own * Thousandths, MidpointRounding.ToEven))];
        _mean = colours.Length == 0 ? 0 : colours.Average(colour => _difficulty[colour]);
        var benches = roster.Seats.Select(seat => seat.Bench ?? "").Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal).ToList();
        _benchOfStudent = [.. roster.Seats.Select(seat => benches.IndexOf(seat.Bench ?? ""))];
        _benchSlots = new int[benches.Count];
        foreach (var bench in _benchOfStudent)
        {
            _benchSlots[bench] += graph.UnknownsPerStudent;
        }

        _departures = new double[]?[((graph.UnknownsPerStudent - 1) * (int)Thousandths) + 1];

        // A bench is reckoned as a student whose unknowns but two are of mean difficulty.
        var most = _difficulty.Max(own => Allowed(
            Departures(own + ((graph.UnknownsPerStudent - 2) * _mean), 1), [Departure(own, own + ((graph.UnknownsPerStudent - 2) * _mean))]));
        var farthest = _difficulty.Max(own => Math.Abs(own - _mean));
        _benchAllowed = [.. _benchSlots.Select(slots => Math.Max(slots * Fair * Thousandths, Math.Max(most, farthest)))];
        _studentTotals = new int[roster.Seats.Count];
        _benchTotals = new int[benches.Count];
        _studentExcess = new double[roster.Seats.Count];
        _benchExcess = new double[benches.Count];
    }

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

            var excess = _studentExcess.Sum() + _benchExcess.Sum();
            if (excess < best)
            {
                (best, kept) = (excess, _colours.ToArray());
            }
        }

        kept.CopyTo(_colours, 0);
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

        for (var slot = 0; slot < _colours.Length; slot += _graph.UnknownsPerStudent)
        {
            Weigh(slot);
        }
    }

    private void Weigh(int slot)
    {
        _studentExcess[_graph.StudentOf(slot)] = OfStudent(slot, _colours[slot]);
        _benchExcess[BenchOf(slot)] = OfBench(slot, 0);
    }

    /// <summary>How far a student may depart for the sake of one unknown, given what the others are.</summary>
    /// <param name="departures">Where that many compounds, and those held with the others, would take them; see <see cref="Departures"/>.</param>
    /// <param name="held">Where those of the others would take them. Shape: any order; sorted here.</param>
    private static double Allowed(double[] departures, Span<double> held)
    {
        held.Sort();
        var last = 0;
        foreach (var departure in held)
        {
            last += departure <= departures[last] ? 1 : 0;
        }

        return Math.Max(Fair * Thousandths, departures[last]);
    }

    /// <summary>The departures that the choice of one more compound can come to.</summary>
    /// <param name="others">Sum of a student's other difficulties.</param>
    /// <param name="held">How many compounds the others are, and so no choice.</param>
    /// <returns>Shape: ascending; if none of those held is nearer, if one of them is, and so on.</returns>
    private double[] Departures(double others, int held)
    {
        var choice = (int)Math.Ceiling(LeastChoice * (_difficulty.Length - held));
        var ascending = _difficulty.Select(own => Departure(own, others)).Order().ToArray();
        return [.. Enumerable.Range(Math.Max(choice, 1) - 1, held + 1).Select(at => ascending[Math.Min(at, ascending.Length - 1)])];
    }

    private double Departure(int own, double others) => Math.Abs(own + others - (_graph.UnknownsPerStudent * _mean));

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
        Weigh(first);
        Weigh(second);
        return true;
    }

    /// <summary>By how much the sum of squared excesses falls when two slots exchange their compounds.</summary>
    private double Gain(int first, int second)
    {
        var (own, other) = (_graph.StudentOf(first), _graph.StudentOf(second));
        var (bench, otherBench) = (BenchOf(first), BenchOf(second));
        var excess = _studentExcess[own] + _studentExcess[other] + (bench == otherBench ? 0 : _benchExcess[bench] + _benchExcess[otherBench]);
        if (excess < LeastGain || own == other)
        {
            return 0;
        }

        var gain = excess - OfStudent(first, _colours[second]) - OfStudent(second, _colours[first]);
        if (bench == otherBench)
        {
            return gain;
        }

        var moved = _difficulty[_colours[second]] - _difficulty[_colours[first]];
        return gain - OfBench(first, moved) - OfBench(second, -moved);
    }

    /// <summary>The squared excess of a slot's student if it held a compound.</summary>
    private double OfStudent(int slot, int compound)
    {
        var student = _graph.StudentOf(slot);
        var total = _studentTotals[student] + _difficulty[compound] - _difficulty[_colours[slot]];
        var allowed = 0.0;
        Span<double> held = stackalloc double[_graph.UnknownsPerStudent - 1];
        for (var one = student * _graph.UnknownsPerStudent; one < (student + 1) * _graph.UnknownsPerStudent; one++)
        {
            var others = total - Difficulty(one);
            var count = 0;
            for (var other = student * _graph.UnknownsPerStudent; other < (student + 1) * _graph.UnknownsPerStudent; other++)
            {
                if (other != one)
                {
                    held[count++] = Departure(Difficulty(other), others);
                }
            }

            allowed = Math.Max(allowed, Allowed(_departures[others] ??= Departures(others, count), held));
        }

        return SquaredExcess(total - (_graph.UnknownsPerStudent * _mean), allowed);

        int Difficulty(int own) => _difficulty[own == slot ? compound : _colours[own]];
    }

    /// <summary>The squared excess of a slot's bench if its total changed by an amount, weighted by its slots.</summary>
    private double OfBench(int slot, int change)
    {
        var bench = BenchOf(slot);
        var slots = _benchSlots[bench];
        return SquaredExcess(_benchTotals[bench] + change - (slots * _mean), _benchAllowed[bench]) / slots;
    }

    private static double SquaredExcess(double departure, double allowed)
    {
        var excess = Math.Max(0, Math.Abs(departure) - allowed) / Thousandths;
        return excess * excess;
    }

    private bool CanExchange(int first, int second) =>
        Array.TrueForAll(_graph.Adjacent[first], slot => slot == second || _colours[slot] != _colours[second])
        && Array.TrueForAll(_graph.Adjacent[second], slot => slot == first || _colours[slot] != _colours[first]);

    private int BenchOf(int slot) => _benchOfStudent[_graph.StudentOf(slot)];
}
