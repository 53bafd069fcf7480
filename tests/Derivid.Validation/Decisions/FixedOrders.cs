using System.Numerics;
using System.Numerics.Tensors;
using Derivid.Core.Practice.Decisions;

namespace Derivid.Validation.Decisions;

/// <summary>Finds the one order of steps for all unknowns alike that takes the fewest minutes, by exhaustive search.</summary>
/// <remarks>
/// Whoever follows an order stops as whoever follows a decision tree does: at a compound named, or where no step left would
/// tell anything. Boiling and melting range are one step of the order. Every order is either measured or excluded by a bound
/// below which it can't come: the fewest minutes left if all of its unknowns had stopped that any set of the same steps
/// could have stopped. Thread safety: one thread.
/// </remarks>
public sealed class FixedOrders
{
    private readonly List<(ulong[] Members, double[] Minutes)> _groups = [];
    private readonly int _steps;
    private readonly int _words;
    private readonly ulong[][] _goesOn;
    private readonly double[] _least;
    private readonly List<(ShelfUnknowns Group, ShelfUnknown Unknown)> _unknowns;
    private (double Minutes, int[] Order) _best = (double.PositiveInfinity, []);

    private FixedOrders(IReadOnlyList<ShelfUnknowns> groups, DecisionOrder order)
    {
        _unknowns = [.. groups.SelectMany(group => group.Unknowns.Select(unknown => (group, unknown)))];
        _steps = groups[0].Steps.Count;
        _words = (_unknowns.Count + 63) / 64;

        // The own constant is quicker of a solid.
        foreach (var group in groups)
        {
            var members = new ulong[_words];
            foreach (var (place, _) in _unknowns.Index().Where(unknown => unknown.Item.Group == group))
            {
                members[place / 64] |= 1UL << (place % 64);
            }

            _groups.Add((members, [.. group.Steps.Select(step => step.What.Cost(order.HazardMinutes))]));
        }

        _goesOn = new ulong[1 << _steps][];
        Parallel.For(0, _goesOn.Length, taken =>
        {
            var goesOn = new ulong[_words];
            for (var i = 0; i < _unknowns.Count; i++)
            {
                if (GoesOn(_unknowns[i].Group, _unknowns[i].Unknown, taken, order.Certainty))
                {
                    goesOn[i / 64] |= 1UL << (i % 64);
                }
            }

            _goesOn[taken] = goesOn;
        });
        _least = Bounds();
    }

    /// <summary>Searches.</summary>
    /// <param name="groups">The unknowns, liquids and solids.</param>
    /// <param name="order">How a compound is named, and what hazard counts for.</param>
    /// <returns>The steps in the best order, by their places.</returns>
    public static int[] Best(IReadOnlyList<ShelfUnknowns> groups, DecisionOrder order)
    {
        ArgumentNullException.ThrowIfNull(groups);
        ArgumentNullException.ThrowIfNull(order);
        var search = new FixedOrders(groups, order);
        search.Extend([], 0, search._goesOn[0], 0);
        return search._best.Order;
    }

    /// <summary>Whether work goes on after some steps.</summary>
    public static bool GoesOn(ShelfUnknowns group, ShelfUnknown unknown, int taken, double certainty)
    {
        ArgumentNullException.ThrowIfNull(group);
        ArgumentNullException.ThrowIfNull(unknown);
        var belief = Belief(group, unknown, taken);
        if (TensorPrimitives.Max<double>(belief) >= certainty || belief[^1] >= DecisionPlanner.Doubted)
        {
            return false;
        }

        for (var step = 0; step < group.Steps.Count; step++)
        {
            if ((taken & (1 << step)) == 0 && group.Steps[step].Information(belief) >= DecisionPlanner.LeastInformation)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Probabilities after some steps.</summary>
    public static double[] Belief(ShelfUnknowns group, ShelfUnknown unknown, int taken)
    {
        ArgumentNullException.ThrowIfNull(group);
        ArgumentNullException.ThrowIfNull(unknown);
        var belief = (double[])group.Prior.Clone();
        for (var step = 0; step < group.Steps.Count; step++)
        {
            if ((taken & (1 << step)) != 0)
            {
                TensorPrimitives.Multiply(belief, group.Steps[step].SharesOf(unknown.Outcomes[step]), belief);
            }
        }

        TensorPrimitives.Divide(belief, TensorPrimitives.Sum<double>(belief), belief);
        return belief;
    }

    /// <summary>Minutes that any order still takes after a set of steps, at the least.</summary>
    private double[] Bounds()
    {
        var fewest = new ulong[_goesOn.Length][];
        for (var taken = 0; taken < fewest.Length; taken++)
        {
            var going = (ulong[])_goesOn[taken].Clone();
            for (var step = 0; step < _steps; step++)
            {
                if ((taken & (1 << step)) != 0)
                {
                    And(going, fewest[taken & ~(1 << step)]);
                }
            }

            fewest[taken] = going;
        }

        var least = new double[_goesOn.Length];
        for (var taken = least.Length - 2; taken >= 0; taken--)
        {
            least[taken] = double.PositiveInfinity;
            for (var step = 0; step < _steps; step++)
            {
                if ((taken & (1 << step)) == 0)
                {
                    least[taken] = Math.Min(least[taken], Minutes(step, fewest[taken]) + least[taken | (1 << step)]);
                }
            }
        }

        return least;
    }

    private void Extend(List<int> order, int taken, ulong[] going, double minutes)
    {
        if (!going.AsSpan().ContainsAnyExcept(0UL) || order.Count == _steps)
        {
            if (minutes < _best.Minutes)
            {
                _best = (minutes, [.. order, .. Enumerable.Range(0, _steps).Except(order)]);
            }

            return;
        }

        var next = Enumerable.Range(0, _steps)
            .Where(step => (taken & (1 << step)) == 0)
            .Select(step => (Step: step, Minutes: minutes + Minutes(step, going)))
            .OrderBy(step => step.Minutes + _least[taken | (1 << step.Step)]);
        foreach (var (step, sofar) in next)
        {
            var then = taken | (1 << step);
            if (sofar + _least[then] >= _best.Minutes)
            {
                return;
            }

            var still = (ulong[])going.Clone();
            And(still, _goesOn[then]);
            order.Add(step);
            Extend(order, then, still, sofar);
            order.RemoveAt(order.Count - 1);
        }
    }

    private static void And(ulong[] into, ulong[] other)
    {
        for (var i = 0; i < into.Length; i++)
        {
            into[i] &= other[i];
        }
    }

    /// <summary>Minutes that a step takes of all unknowns that still go on.</summary>
    private double Minutes(int step, ulong[] going)
    {
        var minutes = 0.0;
        foreach (var (members, each) in _groups)
        {
            for (var i = 0; i < going.Length; i++)
            {
                minutes += BitOperations.PopCount(going[i] & members[i]) * each[step];
            }
        }

        return minutes;
    }
}
