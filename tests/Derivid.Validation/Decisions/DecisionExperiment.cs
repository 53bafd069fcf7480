using Derivid.Core.Practice.Decisions;
using Derivid.Core.Ranking;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Decisions;

/// <summary>Decision trees beside the best order that is the same for all unknowns.</summary>
/// <remarks>
/// The order is searched for on the very unknowns that it is measured on, which favours it. Both are told the same, stop
/// alike and weigh hazard alike; the first look, liquid or solid, is left out of both.
/// </remarks>
/// <param name="table">The table.</param>
/// <param name="snapshot">It laid out.</param>
public sealed class DecisionExperiment(BenchTable table, TableSnapshot snapshot)
{
    private const int Seed = 41;

    /// <summary>
    /// What the laboratory has: the six kinds that every course knows, and of each question but "is it a carbonyl compound at
    /// all" the test that costs least with its hazard counted.
    /// </summary>
    public static DecisionOrder LaboratoryFor(ShelfList shelf)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        return new()
        {
            ParentKeys = shelf.ParentKeys,
            KindKeys =
            [
                "2-4-dinitrophenylhydrazone", "4-nitrophenylhydrazone", "oxime", "phenylhydrazone", "semicarbazone",
                "tosylhydrazone",
            ],
            TestKeys = ["beilstein", "bisulfite", "ferric-chloride", "iodoform", "permanganate", "schiff"],
        };
    }

    /// <summary>Measures one shelf.</summary>
    /// <param name="shelf">The shelf.</param>
    /// <param name="unknowns">How many unknowns.</param>
    public DecisionResult Run(ShelfList shelf, int unknowns)
    {
        var order = LaboratoryFor(shelf);
        var bench = ShelfBench.Of(order, snapshot);
        var tree = DecisionPlanner.Plan(order, snapshot);
        var foreseen = ShelfUnknowns.Foreseen(bench, unknowns, Seed);
        var best = FixedOrders.Best(foreseen, order);
        var met = ShelfUnknowns.Met(bench, new Bench(table, BenchParameters.Ordinary), table, unknowns, Seed);
        return new DecisionResult(
            shelf,
            tree,
            [.. best.Select(step => foreseen[0].Steps[step].What.Kind is NextStepKind.BoilingPoint or NextStepKind.MeltingPoint
                ? "own constant"
                : foreseen[0].Steps[step].What.Name)],
            Trials(tree, best, foreseen),
            Trials(tree, best, met));
    }

    private static IReadOnlyList<ShelfTrials> Trials(
        DecisionTree tree, int[] best, IReadOnlyList<ShelfUnknowns> groups) =>
        [.. groups.SelectMany(group => group.Unknowns.Select(unknown =>
            new ShelfTrials(
            ShelfTrial.Of(tree, group, unknown),
            ShelfTrial.Of(best, group, unknown, tree.Order),
            ShelfTrial.Of(best, group, unknown, tree.Order, skips: true))))];
}

/// <summary>One shelf's figures.</summary>
/// <param name="Shelf">The shelf.</param>
/// <param name="Tree">The tree.</param>
/// <param name="Order">The best fixed order, by names.</param>
/// <param name="Foreseen">Unknowns drawn by the forecasts.</param>
/// <param name="Met">Unknowns of simulated students.</param>
public sealed record DecisionResult(
    ShelfList Shelf,
    DecisionTree Tree,
    IReadOnlyList<string> Order,
    IReadOnlyList<ShelfTrials> Foreseen,
    IReadOnlyList<ShelfTrials> Met);

/// <summary>One unknown, worked on in three ways.</summary>
/// <param name="Tree">By the tree.</param>
/// <param name="Order">By the best order.</param>
/// <param name="Skipping">By the same, leaving out what would tell nothing of this unknown: no fixed order any more.</param>
public readonly record struct ShelfTrials(ShelfTrial Tree, ShelfTrial Order, ShelfTrial Skipping);
