using System.Globalization;
using Derivid.Validation.Experiments;
using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Reports;

/// <summary>What thermometers cost, as a table.</summary>
public static class ThermometerPage
{
    /// <summary>Right first answers by evidence and thermometer.</summary>
    /// <param name="bench">The bench's name.</param>
    /// <param name="scores">See <see cref="ThermometerExperiment.Run"/>.</param>
    /// <param name="sheet">Takes every figure.</param>
    public static string Rows(string bench, IReadOnlyDictionary<ThermometerState, CaseScore[][]> scores, FigureSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(scores);
        ArgumentNullException.ThrowIfNull(sheet);
        var table = new MarkdownTable(
            ["evidence, top-1", "true", "true, calibrated", "as the bench's, nobody knows", "3 °C off, nobody knows", "3 °C off, calibrated", "calibrated less true"]);
        foreach (var (row, set) in EvidenceSets.Rows.Index())
        {
            table.Add([
                EvidenceSets.Name(set),
                .. Enum.GetValues<ThermometerState>().Select(state => Top1(scores[state][row]).ToString("0.000", CultureInfo.InvariantCulture)),
                Difference(scores, row).Text("0.000"),
            ]);
            foreach (var state in Enum.GetValues<ThermometerState>())
            {
                sheet.Add($"thermometer/{bench}/{EvidenceSets.Name(set)}/{state}/top-1", Top1(scores[state][row]));
            }
        }

        return table.ToString();
    }

    /// <summary>Share of right first answers, ties shared.</summary>
    /// <param name="scores">The answers.</param>
    public static double Top1(IReadOnlyCollection<CaseScore> scores) => scores.Average(score => score.Among(1));

    private static Interval Difference(IReadOnlyDictionary<ThermometerState, CaseScore[][]> scores, int row)
    {
        var differences = scores[ThermometerState.True][row].Zip(
            scores[ThermometerState.OffCalibrated][row], (ofTrue, calibrated) => calibrated.Among(1) - ofTrue.Among(1)).ToArray();
        var (low, high) = Bootstrap.Intervals(
            differences.Length, row, weights => [differences.Zip(weights, (difference, weight) => difference * weight).Sum() / differences.Length])[0];
        return new Interval(differences.Average(), low, high);
    }
}
