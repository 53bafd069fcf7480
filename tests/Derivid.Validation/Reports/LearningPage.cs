using System.Globalization;
using Derivid.Validation.Learning;
using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Reports;

/// <summary>What is learned from classes, as tables.</summary>
public static class LearningPage
{
    /// <summary>Share of figures whose interval holds the truth, by sort and trouble.</summary>
    /// <param name="results">The troubles.</param>
    /// <param name="sheet">Takes every figure.</param>
    public static string Coverage(IReadOnlyList<LearningResult> results, FigureSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(results);
        ArgumentNullException.ThrowIfNull(sheet);
        var table = new MarkdownTable(["figures", .. results.Select(result => result.Trouble.ToString())]);
        foreach (var sort in CoverageCount.Sorts)
        {
            table.Add([sort, .. results.Select(result => Share(result, [sort], sheet, sort))]);
        }

        table.Add(["all rates of tests", .. results.Select(result => Share(result, [.. CoverageCount.Sorts.Take(2)], sheet, "tests"))]);
        table.Add(["all rates of colours", .. results.Select(result => Share(result, [.. CoverageCount.Sorts.Skip(2).Take(2)], sheet, "colours"))]);
        table.Add(["courses set aside", .. results.Select(result => result.SetAside.ToString(CultureInfo.InvariantCulture))]);
        return table.ToString();
    }

    /// <summary>Log losses of the fourth year, means over worlds.</summary>
    /// <param name="results">The troubles.</param>
    /// <param name="sheet">Takes every figure.</param>
    public static string Losses(IReadOnlyList<LearningResult> results, FigureSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(results);
        ArgumentNullException.ThrowIfNull(sheet);
        var table = new MarkdownTable([
            "evidence", "trouble", "before", "rates and colours learned", "settings too", "engine told the rates", "ideal observer", "gap to the told engine closed", "gap to the ideal observer closed", "worlds no worse",
        ]);
        foreach (var (row, set) in LearningExperiment.Rows.Index())
        {
            foreach (var result in results)
            {
                var losses = result.Losses;
                var (before, all) = (losses.Average(world => world.Before[row]), losses.Average(world => world.All[row]));
                var (told, ideal) = (losses.Average(world => world.Told[row]), losses.Average(world => world.Ideal[row]));
                var name = $"learning/{EvidenceSets.Name(set)}/{result.Trouble}";
                sheet.Add($"{name}/before", before);
                sheet.Add($"{name}/after", all);
                sheet.Add($"{name}/of-told", (before - all) / (before - told));
                sheet.Add($"{name}/of-ideal", (before - all) / (before - ideal));
                table.Add([
                    EvidenceSets.Name(set),
                    result.Trouble.ToString(),
                    Text(before),
                    Text(losses.Average(world => world.Rates[row])),
                    Text(all),
                    Text(told),
                    Text(ideal),
                    Closed(losses, world => (world.Before[row] - world.All[row], world.Before[row] - world.Told[row])),
                    Closed(losses, world => (world.Before[row] - world.All[row], world.Before[row] - world.Ideal[row])),
                    $"{losses.Count(world => world.All[row] <= world.Before[row])} of {losses.Count}",
                ]);
            }
        }

        return table.ToString();
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

    private static string Share(LearningResult result, IReadOnlyList<string> sorts, FigureSheet sheet, string name)
    {
        var counts = result.Coverage.SelectMany(world => sorts.Select(sort => world.Counts[sort])).ToList();
        var (inside, all) = (counts.Sum(count => count.Inside), counts.Sum(count => count.All));
        sheet.Add($"learning/coverage/{name}/{result.Trouble}", (double)inside / all);
        return string.Create(CultureInfo.InvariantCulture, $"{(double)inside / all:0.0 %} of {all}");
    }

    private static string Text(double value) => value.ToString("0.000", CultureInfo.InvariantCulture);
}
