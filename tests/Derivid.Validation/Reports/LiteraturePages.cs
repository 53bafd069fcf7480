using System.Globalization;
using Derivid.Validation.Literature;

namespace Derivid.Validation.Reports;

/// <summary>The tables of the tests on published values.</summary>
public static class LiteraturePages
{
    /// <summary>Leave-one-source-out in figures.</summary>
    public static string CrossSource(IReadOnlyList<(string Name, IReadOnlyList<CrossSourceResult> Results)> sets)
    {
        var table = new MarkdownTable(
            ["cases", "n", "top-1", "top-3", "top-5", "median rank", "log loss", "nearest listed: top-1", "top-5", "median rank"]);
        foreach (var (name, results) in sets)
        {
            table.Add([
                name,
                Text(results.Count),
                Text(results.Count(result => result.Rank <= 1)),
                Text(results.Count(result => result.Rank <= 3)),
                Text(results.Count(result => result.Rank <= 5)),
                Text(Median(results.Select(result => (double)result.Rank))),
                results.Average(result => result.LogLoss).ToString("0.00", CultureInfo.InvariantCulture),
                Text(results.Count(result => result.NearestRank <= 1)),
                Text(results.Count(result => result.NearestRank <= 5)),
                Text(Median(results.Select(result => result.NearestRank))),
            ]);
        }

        return table.ToString();
    }

    /// <summary>The worked identifications, one by one.</summary>
    public static string Worked(IReadOnlyList<WorkedResult> results)
    {
        var table = new MarkdownTable(["case", "right answer", "rank", "posterior", "first or in leading group", "leader", "note"]);
        foreach (var result in results)
        {
            table.Add([
                result.Case.Key,
                result.Case.ParentKey,
                Text(result.Rank),
                result.Posterior.ToString("0.00", CultureInfo.InvariantCulture),
                result.IsInLeadingGroup ? "yes" : "no",
                result.Leader,
                result.Case.Note,
            ]);
        }

        return table.ToString();
    }

    private static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToList();
        return sorted.Count == 0 ? double.NaN : (sorted[(sorted.Count - 1) / 2] + sorted[sorted.Count / 2]) / 2;
    }

    private static string Text(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);
}
