using System.Numerics.Tensors;
using Derivid.Core.Compounds;
using Derivid.Core.Practice.Decisions;

namespace Derivid.Validation.Decisions;

/// <summary>How the work on one unknown went.</summary>
/// <param name="Cost">Minutes with those that hazard counts for.</param>
/// <param name="Minutes">Minutes at the bench.</param>
/// <param name="HighHazards">Steps of high hazard.</param>
/// <param name="IsNamed">Whether it ended with a compound named.</param>
/// <param name="IsRight">Whether the leading compound was the right one.</param>
public readonly record struct ShelfTrial(double Cost, double Minutes, int HighHazards, bool IsNamed, bool IsRight)
{
    /// <summary>Follows an order.</summary>
    /// <param name="order">The steps, by their places.</param>
    /// <param name="group">The unknown's group.</param>
    /// <param name="unknown">The unknown.</param>
    /// <param name="asked">When to stop, and what hazard counts for.</param>
    /// <param name="skips">Whether steps that would tell nothing of this unknown are left out.</param>
    public static ShelfTrial Of(int[] order, ShelfUnknowns group, ShelfUnknown unknown, DecisionOrder asked, bool skips = false)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(group);
        ArgumentNullException.ThrowIfNull(unknown);
        ArgumentNullException.ThrowIfNull(asked);
        var trial = default(ShelfTrial);
        var taken = 0;
        foreach (var step in order)
        {
            if (!FixedOrders.GoesOn(group, unknown, taken, asked.Certainty))
            {
                break;
            }

            if (skips && group.Steps[step].Information(FixedOrders.Belief(group, unknown, taken)) < DecisionPlanner.LeastInformation)
            {
                continue;
            }

            trial = trial.After(group.Steps[step], asked);
            taken |= 1 << step;
        }

        return trial.Ended(FixedOrders.Belief(group, unknown, taken), unknown, asked);
    }

    /// <summary>Follows a decision tree.</summary>
    public static ShelfTrial Of(DecisionTree tree, ShelfUnknowns group, ShelfUnknown unknown)
    {
        ArgumentNullException.ThrowIfNull(tree);
        ArgumentNullException.ThrowIfNull(group);
        ArgumentNullException.ThrowIfNull(unknown);
        var trial = default(ShelfTrial);
        var node = tree.Root.After(group.State);
        var taken = 0;
        while (FixedOrders.GoesOn(group, unknown, taken, tree.Order.Certainty))
        {
            // Beyond what was planned, the step that tells most a minute.
            var place = node?.Step is { } step
                ? group.Steps.Index().First(its => its.Item.What == step.What).Index
                : MostTelling(group, unknown, taken, tree.Order);
            trial = trial.After(group.Steps[place], tree.Order);
            taken |= 1 << place;
            node = node?.After(unknown.Outcomes[place]);
        }

        return trial.Ended(FixedOrders.Belief(group, unknown, taken), unknown, tree.Order);
    }

    private static int MostTelling(ShelfUnknowns group, ShelfUnknown unknown, int taken, DecisionOrder asked)
    {
        var belief = FixedOrders.Belief(group, unknown, taken);
        return Enumerable.Range(0, group.Steps.Count)
            .Where(step => (taken & (1 << step)) == 0)
            .MaxBy(step => group.Steps[step].Information(belief) / group.Steps[step].What.Cost(asked.HazardMinutes));
    }

    private ShelfTrial After(BenchStep step, DecisionOrder asked) => this with
    {
        Cost = Cost + step.What.Cost(asked.HazardMinutes),
        Minutes = Minutes + step.What.Minutes,
        HighHazards = HighHazards + (step.What.Hazard == Hazard.High ? 1 : 0),
    };

    private ShelfTrial Ended(IReadOnlyList<double> belief, ShelfUnknown unknown, DecisionOrder asked)
    {
        double[] probabilities = [.. belief];
        var leader = TensorPrimitives.IndexOfMax<double>(probabilities);
        return this with { IsNamed = probabilities[leader] >= asked.Certainty && leader < probabilities.Length - 1, IsRight = leader == unknown.Truth };
    }
}
