using System.Globalization;
using Derivid.Validation.Advice;
using Derivid.Validation.Metrics;

namespace Derivid.Validation.Reports;

/// <summary>The table of the advice experiment.</summary>
public static class AdvicePage
{
    /// <summary>Minutes and hazard by policy, and what the best fixed order costs beside each.</summary>
    public static string Minutes(AdviceResults results, FigureSheet sheet)
    {
        var table = new MarkdownTable(
            ["policy", "mean minutes", "median", "fewer than the best fixed order", "share reaching 95 %", "right of those",
                "right of all", "high-hazard steps", "moderate", "steps"]);
        var best = results.Trials[AdvicePolicy.BestFixed];
        foreach (var (policy, trials) in results.Trials.OrderBy(of => of.Key))
        {
            double[] Figures(int[]? weights)
            {
                double Mean(AdviceTrial[] of, Func<AdviceTrial, double> figure) =>
                    of.Select((trial, i) => figure(trial) * (weights?[i] ?? 1)).Sum() / of.Length;
                var (minutes, reached) = (Mean(trials, trial => trial.Minutes), Mean(trials, trial => trial.IsReached ? 1 : 0));
                var right = Mean(trials, trial => trial is { IsReached: true, IsRight: true } ? 1 : 0);
                return
                [
                    minutes, 1 - (minutes / Mean(best, trial => trial.Minutes)), reached, right / reached, right,
                    Mean(trials, trial => trial.HighHazards), Mean(trials, trial => trial.ModerateHazards),
                    Mean(trials, trial => trial.Steps),
                ];
            }

            var point = Figures(null);
            var figures = Bootstrap.Intervals(trials.Length, 500, Figures)
                .Select((interval, i) => new Interval(point[i], interval.Low, interval.High))
                .ToArray();
            var median = trials.Select(trial => trial.Minutes).Order().ElementAt(trials.Length / 2);
            table.Add([
                policy.ToString(),
                figures[0].Text("0"),
                median >= Workplace.MostMinutes ? "not reached" : median.ToString("0", CultureInfo.InvariantCulture),
                policy == AdvicePolicy.BestFixed ? "" : figures[1].Text("0.000"),
                .. figures[2..5].Select(figure => figure.Text("0.000")),
                .. figures[5..].Select(figure => figure.Text("0.00")),
            ]);
            string[] names = ["minutes", "saving", "reached", "rightOfReached", "right", "highHazard", "moderateHazard", "steps"];
            foreach (var (name, i) in names.Select((name, i) => (name, i)))
            {
                sheet.Add($"advice/{policy}/{name}", figures[i]);
            }

            sheet.Add($"advice/{policy}/medianMinutes", median);
        }

        return table + string.Create(
            CultureInfo.InvariantCulture,
            $"\n{best.Length} students. Who has no answer at 95 % after {Workplace.MostMinutes} minutes, or nothing left to do, counts as {Workplace.MostMinutes}. Best fixed order ({results.BestOrderMinutes:0} min on the fitting half): {string.Join(", ", results.BestOrder.Take(10))}. The planner takes a nat of entropy to cost {results.MinutesPerNat:0} min.\n");
    }
}
