using Derivid.Validation.Advice;
using Derivid.Validation.Experiments;
using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;
using ScottPlot;

namespace Derivid.Validation.Reports;

/// <summary>Draws the report's figures as SVG.</summary>
/// <param name="folder">Where they go.</param>
public sealed class Plots(string folder)
{
    private const int Width = 800;
    private const int Height = 560;

    /// <summary>Confidence against success of the leading answer, every row.</summary>
    public void Reliability(BenchResults results)
    {
        var plot = Titled("Reliability of the leading answer", "probability given", "share right");
        plot.Add.Line(0, 0, 1, 1).LinePattern = LinePattern.Dashed;
        for (var row = 0; row < EvidenceSets.Rows.Count; row++)
        {
            var bins = CalibrationError.Cut(results.Of(row, Method.Engine)).Where(bin => bin.Cases >= 50).ToList();
            var line = plot.Add.Scatter(
                bins.Select(bin => bin.MeanProbability).ToArray(), bins.Select(bin => bin.ShareRight).ToArray());
            line.LegendText = EvidenceSets.Name(EvidenceSets.Rows[row]);
        }

        plot.Axes.SetLimits(0, 1, 0, 1);
        Save(plot, "reliability.svg", Alignment.UpperLeft);
    }

    /// <summary>Share of present compounds among the first k, for rows with colour.</summary>
    public void TopK(BenchResults results)
    {
        var plot = Titled("True compound among the first k", "k", "share of compounds in the table");
        foreach (var (row, i) in EvidenceSets.Rows.Select((row, i) => (row, i)).Where(of => of.row.HasFlag(EvidenceSet.Colour)))
        {
            var present = results.Of(i, Method.Engine).Where(score => !score.IsAbsent).ToList();
            var ks = Enumerable.Range(1, 10).ToArray();
            var line = plot.Add.Scatter(
                ks.Select(k => (double)k).ToArray(), ks.Select(k => present.Average(score => score.Among(k))).ToArray());
            line.LegendText = EvidenceSets.Name(row);
        }

        plot.Axes.SetLimits(0.5, 10.5, 0, 1);
        Save(plot, "top-k.svg", Alignment.LowerRight);
    }

    /// <summary>Mean information of each piece of evidence.</summary>
    public void Information(IReadOnlyList<EvidenceInformation> pieces)
    {
        var plot = Titled("What each piece of evidence tells by itself", "bits", "");
        var rising = pieces.Reverse().ToList();
        var bars = plot.Add.Bars(rising.Select(piece => piece.Bits).ToArray());
        bars.Horizontal = true;
        plot.Axes.Left.SetTicks(
            [.. rising.Select((_, i) => (double)i)], [.. rising.Select(piece => piece.Name)]);
        plot.Axes.Margins(left: 0);
        plot.SaveSvg(Path.Combine(folder, "information.svg"), Width + 200, Height);
    }

    /// <summary>Share of students done after so many steps.</summary>
    public void Steps(IReadOnlyDictionary<StepOrder, AdviceTrial[]> trials)
    {
        var plot = Titled(
            "Steps after the 2,4-dinitrophenylhydrazone until an answer has 95 %", "steps", "share of students");
        foreach (var (order, of) in trials.OrderBy(trial => trial.Key))
        {
            var steps = Enumerable.Range(0, AdviceExperiment.MostSteps + 1).ToArray();
            var line = plot.Add.Scatter(
                steps.Select(step => (double)step).ToArray(),
                steps.Select(step => of.Count(trial => trial.IsReached && trial.Steps <= step) / (double)of.Length).ToArray());
            line.LegendText = order.ToString();
        }

        plot.Axes.SetLimits(0, AdviceExperiment.MostSteps, 0, 1);
        Save(plot, "steps.svg", Alignment.LowerRight);
    }

    private static Plot Titled(string title, string x, string y)
    {
        var plot = new Plot();
        plot.Title(title);
        plot.XLabel(x);
        plot.YLabel(y);
        return plot;
    }

    private void Save(Plot plot, string name, Alignment legend)
    {
        plot.ShowLegend(legend);
        plot.SaveSvg(Path.Combine(folder, name), Width, Height);
    }
}
