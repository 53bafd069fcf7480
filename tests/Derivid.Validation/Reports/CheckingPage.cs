using System.Globalization;
using Derivid.Validation.Checking;

namespace Derivid.Validation.Reports;

/// <summary>What checking values removes, as a table.</summary>
public static class CheckingPage
{
    /// <summary>One row a number of lines checked.</summary>
    /// <param name="results">The rows.</param>
    /// <param name="name">What the figures are called.</param>
    /// <param name="sheet">Takes every figure.</param>
    public static string Rows(IReadOnlyList<CheckingResult> results, string name, FigureSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(results);
        ArgumentNullException.ThrowIfNull(sheet);
        var table = new MarkdownTable(["lines checked", "wrong of 1,000, before", "the first of the list checked", "as many at random", "as many of the commonest", "times as much removed", "trials in which the first were no worse"]);
        foreach (var result in results)
        {
            table.Add([
                result.Count.ToString(CultureInfo.InvariantCulture), Tenths(result.Wrong.Before), Tenths(result.Wrong.First), Tenths(result.Wrong.Random), Tenths(result.Wrong.Commonest),
                Tenths(result.Times), result.NoWorse.ToString("0 %", CultureInfo.InvariantCulture),
            ]);
            sheet.Add($"checking/{name}/{result.Count}/times", result.Times);
        }

        return table.ToString();
    }

    private static string Tenths(double figure) => figure.ToString("0.0", CultureInfo.InvariantCulture);
}
