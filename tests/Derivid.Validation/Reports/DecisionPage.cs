using System.Globalization;
using Derivid.Validation.Decisions;

namespace Derivid.Validation.Reports;

/// <summary>Decision trees beside fixed orders, as tables.</summary>
public static class DecisionPage
{
    /// <summary>One row a shelf.</summary>
    /// <param name="results">The shelves.</param>
    /// <param name="of">Which unknowns.</param>
    /// <param name="name">What the figures are called.</param>
    /// <param name="sheet">Takes every figure.</param>
    public static string Rows(
        IReadOnlyList<DecisionResult> results,
        Func<DecisionResult, IReadOnlyList<ShelfTrials>> of,
        string name,
        FigureSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(results);
        ArgumentNullException.ThrowIfNull(of);
        ArgumentNullException.ThrowIfNull(sheet);
        var table = new MarkdownTable(
            ["shelf", "minutes, hazard counted: tree", "best order", "saved", "the same, skipping", "minutes: tree", "best order", "steps of high hazard: tree", "best order", "named: tree", "best order", "right: tree", "best order"]);
        foreach (var result in results)
        {
            var trials = of(result);
            double Tree(Func<ShelfTrial, double> figure) => trials.Average(trial => figure(trial.Tree));
            double Order(Func<ShelfTrial, double> figure) => trials.Average(trial => figure(trial.Order));
            var saved = 1 - (Tree(trial => trial.Cost) / Order(trial => trial.Cost));
            table.Add([
                result.Shelf.Name,
                Whole(Tree(trial => trial.Cost)), Whole(Order(trial => trial.Cost)), saved.ToString("0 %", CultureInfo.InvariantCulture), Whole(trials.Average(trial => trial.Skipping.Cost)),
                Whole(Tree(trial => trial.Minutes)), Whole(Order(trial => trial.Minutes)),
                Two(Tree(trial => trial.HighHazards)), Two(Order(trial => trial.HighHazards)),
                Two(Tree(trial => trial.IsNamed ? 1 : 0)), Two(Order(trial => trial.IsNamed ? 1 : 0)),
                Two(Tree(trial => trial.IsRight ? 1 : 0)), Two(Order(trial => trial.IsRight ? 1 : 0)),
            ]);
            sheet.Add($"decisions/{name}/{result.Shelf.Name}/tree", Tree(trial => trial.Cost));
            sheet.Add($"decisions/{name}/{result.Shelf.Name}/order", Order(trial => trial.Cost));
        }

        return table.ToString();
    }

    /// <summary>The best orders, in words.</summary>
    public static string Orders(IReadOnlyList<DecisionResult> results)
    {
        ArgumentNullException.ThrowIfNull(results);
        var table = new MarkdownTable(["shelf", "compounds", "best order, until it stops"]);
        foreach (var result in results)
        {
            table.Add([result.Shelf.Name, string.Join(", ", result.Tree.Parents.Select(parent => parent.Name)), string.Join(", ", result.Order)]);
        }

        return table.ToString();
    }

    private static string Whole(double figure) => figure.ToString("0.0", CultureInfo.InvariantCulture);

    private static string Two(double figure) => figure.ToString("0.00", CultureInfo.InvariantCulture);
}
