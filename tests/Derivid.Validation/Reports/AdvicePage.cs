using System.Globalization;
using Derivid.Validation.Advice;
using Derivid.Validation.Metrics;

namespace Derivid.Validation.Reports;

/// <summary>The table of the next-steps experiment.</summary>
public static class AdvicePage
{
    /// <summary>Steps by order, and the saving of the service's advice over each.</summary>
    public static string Steps(IReadOnlyDictionary<StepOrder, AdviceTrial[]> trials)
    {
        var service = trials[StepOrder.Service];
        var table = new MarkdownTable(
            ["order", "mean steps", "share reaching 95 %", "right of those", "steps saved by the service's advice"]);
        foreach (var (order, of) in trials.OrderBy(trial => trial.Key))
        {
            var steps = Mean(of);
            table.Add([
                order.ToString(),
                steps.Text("0.00"),
                Share(of.Count(trial => trial.IsReached), of.Length),
                Share(of.Count(trial => trial is { IsReached: true, IsRight: true }), of.Count(trial => trial.IsReached)),
                order == StepOrder.Service ? "" : Saving(service, of).Text("0.000"),
            ]);
        }

        return table.ToString();
    }

    /// <summary>Share of steps saved against another order, on the same students.</summary>
    public static Interval Saving(AdviceTrial[] service, AdviceTrial[] other)
    {
        double[] Figure(int[]? weights) => [1 - (Weighted(service, weights) / Weighted(other, weights))];
        var interval = Bootstrap.Intervals(service.Length, 500, Figure)[0];
        return new Interval(Figure(null)[0], interval.Low, interval.High);
    }

    private static Interval Mean(AdviceTrial[] trials)
    {
        double[] Figure(int[]? weights) => [Weighted(trials, weights) / trials.Length];
        var interval = Bootstrap.Intervals(trials.Length, 501, Figure)[0];
        return new Interval(Figure(null)[0], interval.Low, interval.High);
    }

    private static double Weighted(AdviceTrial[] trials, int[]? weights)
    {
        var sum = 0.0;
        for (var i = 0; i < trials.Length; i++)
        {
            sum += trials[i].Steps * (weights?[i] ?? 1);
        }

        return sum;
    }

    private static string Share(int part, int whole) =>
        whole == 0 ? "" : (part / (double)whole).ToString("0.000", CultureInfo.InvariantCulture);
}
