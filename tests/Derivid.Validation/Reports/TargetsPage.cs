using System.Globalization;
using Derivid.Validation.Advice;
using Derivid.Validation.Experiments;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Reports;

/// <summary>What was to be shown, beside what was measured.</summary>
public static class TargetsPage
{
    private static readonly Dictionary<EvidenceSet, (double Top1, double Top5)> FirstEstimate = new()
    {
        [EvidenceSet.Hydrazone] = (0.23, 0.68),
        [EvidenceSet.Hydrazone | EvidenceSet.SpotTests] = (0.43, 0.85),
        [EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone] = (0.64, 0.92),
        [EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone | EvidenceSet.SpotTests] = (0.73, 0.95),
        [EvidenceSet.Hydrazone | EvidenceSet.SpotTests | EvidenceSet.BoilingPoint] = (0.77, 0.96),
        [EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone | EvidenceSet.SpotTests | EvidenceSet.BoilingPoint] = (0.90, 0.98),
    };

    /// <summary>Top-1 and top-5 beside the first crude estimate, on either bench.</summary>
    public static string Estimate(IReadOnlyList<RowReport> bench, IReadOnlyList<RowReport> crudeBench)
    {
        var table = new MarkdownTable(
            ["evidence", "first estimate", "this bench, no colour", "this bench, with colour", "ideal, no colour", "first estimate's bench, no colour", "ideal there", "nearest listed there"]);
        for (var i = 0; i < bench.Count; i += 2)
        {
            if (!FirstEstimate.TryGetValue(bench[i].Row, out var estimate))
            {
                continue;
            }

            table.Add([
                EvidenceSets.Name(bench[i].Row),
                Pair(estimate.Top1, estimate.Top5),
                Pair(bench[i], Method.Engine),
                Pair(bench[i + 1], Method.Engine),
                Pair(bench[i], Method.Ideal),
                Pair(crudeBench[i], Method.Engine),
                Pair(crudeBench[i], Method.Ideal),
                Pair(crudeBench[i], Method.Nearest),
            ]);
        }

        return table.ToString();
    }

    /// <summary>The rows with colour whose top-1 stays below the first crude estimate.</summary>
    public static IEnumerable<int> BelowEstimate(IReadOnlyList<RowReport> rows) =>
        Enumerable.Range(0, rows.Count / 2)
            .Where(pair => FirstEstimate.TryGetValue(rows[2 * pair].Row, out var estimate)
                && rows[(2 * pair) + 1].Of(Method.Engine)[0].Value < estimate.Top1)
            .Select(pair => (2 * pair) + 1);

    /// <summary>The other targets, held or not.</summary>
    public static string Others(
        IReadOnlyList<RowReport> rows, IReadOnlyList<ColourGain> gains, IReadOnlyDictionary<StepOrder, AdviceTrial[]> trials)
    {
        var table = new MarkdownTable(["target", "measured", "held"]);
        Add("top-1 within 0.02 of the ideal observer in every row", rows.Max(row => row.BehindIdeal.Value), worst => worst <= 0.02);
        Add("top-1 above every baseline in every row", rows.Min(row => row.AheadOfBaselines.Value), least => least > 0);
        Add("log loss below every baseline in every row", rows.Min(row => row.LossBelowBaselines.Value), least => least > 0);
        Add("colour lowers the log loss of every row (lower end of the interval)", gains.Min(gain => gain.LogLoss.Low), least => least > 0);
        Add("colour raises top-1 of every row (lower end of the interval)", gains.Min(gain => gain.Top1.Low), least => least > 0);
        Add("ECE at most 0.03 in every row", rows.Max(row => row.Of(Method.Engine)[6].Value), worst => worst <= 0.03);
        foreach (var row in new[] { EvidenceSets.Everything, EvidenceSets.EverythingAsTaken }.SelectMany(row => new[] { row, row + 1 }))
        {
            var untold = rows[row].Of(Method.IdealUntold)[8].Value.ToString("0.000", CultureInfo.InvariantCulture);
            Add(
                $"AUROC of none at least 0.93: {EvidenceSets.Name(rows[row].Row)} (ideal observer, untold: {untold})",
                rows[row].Of(Method.Engine)[8].Value,
                least => least >= 0.93);
        }

        Add("advice saves at least 0.25 of the fixed order's steps", AdvicePage.Saving(trials[StepOrder.Service], trials[StepOrder.Fixed]).Value, least => least >= 0.25);
        return table.ToString();

        void Add(string target, double value, Func<double, bool> isHeld) =>
            table.Add([target, value.ToString("0.000", CultureInfo.InvariantCulture), isHeld(value) ? "yes" : "**no**"]);
    }

    private static string Pair(RowReport row, Method method) =>
        Pair(row.Of(method)[0].Value, row.Of(method)[2].Value);

    private static string Pair(double top1, double top5) =>
        string.Create(CultureInfo.InvariantCulture, $"{top1:0.000} / {top5:0.000}");
}
