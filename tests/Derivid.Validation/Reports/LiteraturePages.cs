using System.Globalization;
using Derivid.Validation.Literature;
using Derivid.Validation.Metrics;

namespace Derivid.Validation.Reports;

/// <summary>The tables of the tests on published values.</summary>
/// <param name="sheet">Where every figure goes too.</param>
public sealed class LiteraturePages(FigureSheet sheet)
{
    /// <summary>Every method on each set of cases and prior, reporting half.</summary>
    public string Methods(IReadOnlyList<LiteratureScores> sets)
    {
        var table = new MarkdownTable(["cases (parents)", "prior", "method", "top-1", "top-5", "log loss", "ECE"]);
        foreach (var set in sets)
        {
            foreach (var (method, scores) in set.Scores.OrderBy(of => of.Key))
            {
                double[] Figures(int[]? weights)
                {
                    var summary = Summary.Of(scores, weights);
                    return [summary.Top1, summary.Top5, summary.LogLoss, summary.CalibrationError];
                }

                var intervals = ByParent(set, Figures);
                table.Add([
                    $"{set.Set}: {set.Cases.Count} ({Parents(set)})",
                    set.Prior,
                    Name(method),
                    intervals[0].Text("0.000"),
                    intervals[1].Text("0.000"),
                    intervals[2].Text("0.00"),
                    intervals[3].Text("0.000")]);
                Enter(set, method.ToString(), ["top1", "top5", "logLoss", "ece"], intervals);
            }

            sheet.Add($"literature/{set.Set}/{set.Prior}/cases", set.Cases.Count);
        }

        return table.ToString();
    }

    /// <summary>The engine against each rule, paired.</summary>
    public string Differences(IReadOnlyList<LiteratureScores> sets)
    {
        var table = new MarkdownTable(["cases", "prior", "engine against", "top-1", "top-5", "log loss below"]);
        foreach (var set in sets)
        {
            var engine = set.Scores[LiteratureMethod.Engine];
            foreach (var rule in new[] { LiteratureMethod.Nearest, LiteratureMethod.Window, LiteratureMethod.FittedWindow })
            {
                var other = set.Scores[rule];
                double[] Figures(int[]? weights)
                {
                    var (a, b) = (Summary.Of(engine, weights), Summary.Of(other, weights));
                    return [a.Top1 - b.Top1, a.Top5 - b.Top5, b.LogLoss - a.LogLoss];
                }

                var intervals = ByParent(set, Figures);
                table.Add([
                    set.Set.ToString(),
                    set.Prior,
                    Name(rule),
                    intervals[0].Text("0.000"),
                    intervals[1].Text("0.000"),
                    intervals[2].Text("0.00")]);
                Enter(set, $"engine-less-{rule}", ["top1", "top5", "logLossBelow"], intervals);
            }
        }

        return table.ToString();
    }

    /// <summary>The log loss of the fitting half by ratio of tiers.</summary>
    public static string Ratios(IReadOnlyList<(double Ratio, double LogLoss)> ratios)
    {
        var table = new MarkdownTable(["ratio of one tier to the next", "log loss, fitting half"]);
        foreach (var (ratio, loss) in ratios)
        {
            table.Add([Text(ratio), loss.ToString("0.000", CultureInfo.InvariantCulture)]);
        }

        return table.ToString();
    }

    /// <summary>The worked identifications, one by one.</summary>
    public string Worked(IReadOnlyList<WorkedResult> results)
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

        sheet.Add("worked/cases", results.Count);
        sheet.Add("worked/first", results.Count(result => result.Rank == 1));
        sheet.Add("worked/among5", results.Count(result => result.Rank <= 5));
        sheet.Add("worked/logLoss", results.Average(result => -Math.Log(result.Posterior)));
        return table.ToString();
    }

    /// <summary>Intervals over parents, since several values of one compound are not independent.</summary>
    private static Interval[] ByParent(LiteratureScores set, Func<int[]?, double[]> figures)
    {
        var keys = set.Cases.Select(one => one.ParentKey).Distinct().ToList();
        var parents = set.Cases.Select(one => keys.IndexOf(one.ParentKey)).ToArray();
        var point = figures(null);
        return [.. Bootstrap
            .Intervals(keys.Count, 300 + (int)set.Set, drawn => figures([.. parents.Select(parent => drawn[parent])]))
            .Select((interval, i) => new Interval(point[i], interval.Low, interval.High))];
    }

    private static int Parents(LiteratureScores set) => set.Cases.Select(one => one.ParentKey).Distinct().Count();

    private void Enter(LiteratureScores set, string who, string[] names, Interval[] intervals)
    {
        for (var i = 0; i < names.Length; i++)
        {
            sheet.Add($"literature/{set.Set}/{set.Prior}/{who}/{names[i]}", intervals[i]);
        }
    }

    private static string Name(LiteratureMethod method) =>
        method switch
        {
            LiteratureMethod.Engine => "**engine**, told that it is listed",
            LiteratureMethod.EngineAsServed => "engine as served",
            LiteratureMethod.Nearest => "nearest listed",
            LiteratureMethod.Window => "±5 °C window",
            _ => "window of fitted width",
        };

    private static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
