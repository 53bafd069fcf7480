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

    /// <summary>Place of the share of absent unknowns that is drawn: a tenth.</summary>
    private const int Share = 1;

    /// <summary>Confidence against success of the leading answer, every row.</summary>
    public void Reliability(BenchReport bench)
    {
        var plot = Titled($"Reliability of the leading answer, {bench.Parameters.Name} bench", "probability given", "share right");
        plot.Add.Line(0, 0, 1, 1).LinePattern = LinePattern.Dashed;
        var cases = bench.Results.Cases(Share);
        for (var row = 0; row < EvidenceSets.Rows.Count; row++)
        {
            var scores = bench.Results.Of(row, Method.Engine, Share);
            var bins = CalibrationError
                .Cut([.. cases.Select(number => scores[number])])
                .Where(bin => bin.Cases >= 50)
                .ToList();
            var line = plot.Add.Scatter(
                bins.Select(bin => bin.MeanProbability).ToArray(), bins.Select(bin => bin.ShareRight).ToArray());
            line.LegendText = EvidenceSets.Name(EvidenceSets.Rows[row]);
        }

        plot.Axes.SetLimits(0, 1, 0, 1);
        Save(plot, $"reliability-{bench.Parameters.Name}.svg", Alignment.UpperLeft);
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

    /// <summary>Share of students done after so many minutes.</summary>
    public void Minutes(AdviceResults results)
    {
        var plot = Titled("Minutes until an answer has 95 %", "minutes", "share of students");
        foreach (var (policy, of) in results.Trials.OrderBy(trial => trial.Key))
        {
            var minutes = Enumerable.Range(0, (int)(Workplace.MostMinutes / 10) + 1).Select(ten => ten * 10.0).ToArray();
            var line = plot.Add.Scatter(
                minutes,
                minutes.Select(most => of.Count(trial => trial.IsReached && trial.Minutes <= most) / (double)of.Length).ToArray());
            line.LegendText = policy.ToString();
        }

        plot.Axes.SetLimits(0, Workplace.MostMinutes, 0, 1);
        Save(plot, "minutes.svg", Alignment.LowerRight);
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
