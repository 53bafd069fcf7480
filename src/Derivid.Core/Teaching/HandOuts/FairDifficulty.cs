namespace Derivid.Core.Teaching.HandOuts;

/// <summary>Exchanges compounds between students so that difficulty is spread fairly, uses staying as they are.</summary>
/// <remarks>
/// Fair is the least sum of squared excesses: of what each student's total, and each bench's mean weighted by its slots, is
/// further from the mean than <see cref="Fair"/>. Evened out to the last digit, the hardest compound would
/// always go with the easiest, whatever the seed, and whoever knew one unknown would know the other.
/// Exchanges of two slots are tried in order until none helps, or <see cref="MostRounds"/> are done: a good spread, not
/// proven the best.
/// </remarks>
internal sealed class FairDifficulty
{
    /// <summary>Rounds over all pairs of slots. Chosen; the first three or four do nearly all.</summary>
    private const int MostRounds = 20;

    private const double LeastGain = 1e-9;

    /// <summary>A departure from the mean that nobody would call unfair. Units: difficulty, 0 to 1. Chosen; a tenth of what a hopeless one counts.</summary>
    private const double Fair = 0.1;

    private readonly SlotGraph _graph;
    private readonly int[] _colours;
    private readonly double[] _difficulty;
    private readonly int[] _benchOfStudent;
    private readonly double[] _studentTotals;
    private readonly double[] _benchTotals;
    private readonly int[] _benchSlots;
    private readonly double _meanTotal;
    private readonly double _mean;

    public FairDifficulty(SlotGraph graph, int[] colours, double[] difficulty, Roster roster)
    {
        _graph = graph;
        _colours = colours;
        _difficulty = difficulty;
        var benches = roster.Seats.Select(seat => seat.Bench ?? "").Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal).ToList();
        _benchOfStudent = [.. roster.Seats.Select(seat => benches.IndexOf(seat.Bench ?? ""))];
        _studentTotals = new double[roster.Seats.Count];
        _benchTotals = new double[benches.Count];
        _benchSlots = new int[benches.Count];
        for (var slot = 0; slot < colours.Length; slot++)
        {
            _studentTotals[graph.StudentOf(slot)] += difficulty[colours[slot]];
            _benchTotals[BenchOf(slot)] += difficulty[colours[slot]];
            _benchSlots[BenchOf(slot)]++;
        }

        _meanTotal = _studentTotals.Average();
        _mean = _benchTotals.Sum() / Math.Max(1, colours.Length);
    }

    /// <summary>Totals of each student after <see cref="Improve"/>. Shape: in the order of the roster.</summary>
    public IReadOnlyList<double> StudentTotals => _studentTotals;

    /// <summary>Exchanges while it helps; changes the colours in place.</summary>
    /// <param name="stop">Gives up.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public void Improve(CancellationToken stop)
    {
        for (var round = 0; round < MostRounds; round++)
        {
            var changed = false;
            for (var first = 0; first < _colours.Length; first++)
            {
                stop.ThrowIfCancellationRequested();
                for (var second = first + 1; second < _colours.Length; second++)
                {
                    changed |= TryExchange(first, second);
                }
            }

            if (!changed)
            {
                return;
            }
        }
    }

    private bool TryExchange(int first, int second)
    {
        var moved = _difficulty[_colours[second]] - _difficulty[_colours[first]];
        if (moved == 0 || Gain(first, second, moved) < LeastGain || !CanExchange(first, second))
        {
            return false;
        }

        (_colours[first], _colours[second]) = (_colours[second], _colours[first]);
        _studentTotals[_graph.StudentOf(first)] += moved;
        _studentTotals[_graph.StudentOf(second)] -= moved;
        _benchTotals[BenchOf(first)] += moved;
        _benchTotals[BenchOf(second)] -= moved;
        return true;
    }

    /// <summary>By how much the sum of squared excesses falls when the first slot's difficulty rises by an amount and the second's falls.</summary>
    private double Gain(int first, int second, double moved)
    {
        var (one, other) = (_graph.StudentOf(first), _graph.StudentOf(second));
        if (one == other)
        {
            return 0;
        }

        var students = OfStudent(one, 0) + OfStudent(other, 0) - OfStudent(one, moved) - OfStudent(other, -moved);
        var (bench, otherBench) = (BenchOf(first), BenchOf(second));
        return bench == otherBench
            ? students
            : students + OfBench(bench, 0) + OfBench(otherBench, 0) - OfBench(bench, moved) - OfBench(otherBench, -moved);

        double OfStudent(int at, double change) => SquaredExcess(_studentTotals[at] + change - _meanTotal);

        double OfBench(int at, double change) => _benchSlots[at] * SquaredExcess(((_benchTotals[at] + change) / _benchSlots[at]) - _mean);
    }

    private static double SquaredExcess(double departure)
    {
        var excess = Math.Max(0, Math.Abs(departure) - Fair);
        return excess * excess;
    }

    private bool CanExchange(int first, int second) =>
        Array.TrueForAll(_graph.Adjacent[first], slot => slot == second || _colours[slot] != _colours[second])
        && Array.TrueForAll(_graph.Adjacent[second], slot => slot == first || _colours[slot] != _colours[first]);

    private int BenchOf(int slot) => _benchOfStudent[_graph.StudentOf(slot)];
}
