using System.Globalization;
using Derivid.Validation.Learning;
using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Reports;

/// <summary>What is learned from classes, as tables.</summary>
public static class LearningPage
{
    /// <summary>Share of figures whose interval holds the truth, by sort and trouble; in brackets the lowest and highest world.</summary>
    /// <param name="results">The troubles.</param>
    /// <param name="sheet">Takes every figure.</param>
    public static string Coverage(IReadOnlyList<LearningResult> results, FigureSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(results);
        ArgumentNullException.ThrowIfNull(sheet);
        var table = new MarkdownTable(["figures", .. results.Select(Name)]);
        foreach (var sort in CoverageCount.Sorts)
        {
            table.Add([sort, .. results.Select(result => Share(result, sort, sheet))]);
        }

        table.Add(["courses set aside", .. results.Select(result => result.SetAside.ToString(CultureInfo.InvariantCulture))]);
        return table.ToString();
    }

    /// <summary>Log losses of the fourth year, means over worlds.</summary>
    /// <param name="results">The troubles, <see cref="Trouble.None"/> first.</param>
    /// <param name="sheet">Takes every figure.</param>
    public static string Losses(IReadOnlyList<LearningResult> results, FigureSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(results);
        ArgumentNullException.ThrowIfNull(sheet);
        var table = new MarkdownTable([
            "evidence", "trouble", "ideal observer", "engine told the rates", "before", "naive", "rates and colours learned", "settings too", "gap to the ideal observer closed, all learned", "gap to the told engine closed, rates and colours", "lost to the trouble, all learned", "worst world", "worlds worse than before",
        ]);
        foreach (var (row, set) in LearningExperiment.Rows.Index())
        {
            foreach (var result in results)
            {
                var losses = result.Losses;
                double Of(Func<WorldLosses, double[]> of) => losses.Average(world => of(world)[row]);
                var name = $"learning/{EvidenceSets.Name(set)}/{Name(result)}";
                var untroubled = result.IsOrdinary ? losses : results[0].Losses;
                var lost = losses.Zip(untroubled, (world, without) => world.All[row] - without.All[row]).ToArray();
                sheet.Add($"{name}/before", Of(world => world.Before));
                sheet.Add($"{name}/naive", Of(world => world.Naive));
                sheet.Add($"{name}/after", Of(world => world.All));
                sheet.Add($"{name}/lost", lost.Average());
                table.Add([
                    EvidenceSets.Name(set),
                    Name(result),
                    Text(Of(world => world.Ideal)),
                    Text(Of(world => world.Told)),
                    Text(Of(world => world.Before)),
                    Text(Of(world => world.Naive)),
                    Text(Of(world => world.Rates)),
                    Text(Of(world => world.All)),
                    Closed(losses, world => (world.Before[row] - world.All[row], world.Before[row] - world.Ideal[row])),
                    Closed(losses, world => (world.Before[row] - world.Rates[row], world.Before[row] - world.Told[row])),
                    ReferenceEquals(untroubled, losses) ? "" : Mean(lost),
                    ReferenceEquals(untroubled, losses) ? "" : Text(lost.Max()),
                    $"{losses.Count(world => world.All[row] > world.Before[row])} of {losses.Count}",
                ]);
            }
        }

        return table.ToString();
    }

    private static string Name(LearningResult result) => result.IsOrdinary ? "ordinary bench" : result.Trouble switch
    {
        Trouble.None => "none",
        Trouble.Vials => "wrong vials",
        Trouble.Bottles => "wrong bottles",
        Trouble.Copied => "copied",
        Trouble.Sly => "copied with noise",
        Trouble.Nonsense => "made up",
        _ => "courses differ",
    };

    /// <summary>A mean over worlds with its bootstrap interval.</summary>
    private static string Mean(double[] values)
    {
        var (low, high) = Bootstrap.Intervals(values.Length, 1, weights => [values.Zip(weights, (value, weight) => value * weight).Sum() / values.Length])[0];
        return new Interval(values.Average(), low, high).Text("0.000");
    }

    /// <summary>Part of a gap, with its bootstrap interval over worlds.</summary>
    private static string Closed(IReadOnlyList<WorldLosses> worlds, Func<WorldLosses, (double Won, double Gap)> of)
    {
        var parts = worlds.Select(of).ToArray();
        double Ratio(int[] weights) =>
            parts.Zip(weights, (part, weight) => part.Won * weight).Sum() / parts.Zip(weights, (part, weight) => part.Gap * weight).Sum();
        var (low, high) = Bootstrap.Intervals(parts.Length, 1, weights => [Ratio(weights)])[0];
        return new Interval(Ratio([.. parts.Select(_ => 1)]), low, high).Text("0.00");
    }

    /// <summary>Share of all, lowest and highest of a world.</summary>
    private static string Share(LearningResult result, string sort, FigureSheet sheet)
    {
        var counts = result.Coverage.Select(world => world.Counts[sort]).Where(count => count.All > 0).ToList();
        if (counts.Count == 0)
        {
            return "";
        }

        var (inside, all) = (counts.Sum(count => count.Inside), counts.Sum(count => count.All));
        var worlds = counts.Select(count => 100.0 * count.Inside / count.All).ToList();
        sheet.Add($"learning/coverage/{sort}/{Name(result)}", (double)inside / all);
        return string.Create(CultureInfo.InvariantCulture, $"{100.0 * inside / all:0.0} % ({worlds.Min():0}–{worlds.Max():0}) of {all}");
    }

    private static string Text(double value) => value.ToString("0.000", CultureInfo.InvariantCulture);
}
