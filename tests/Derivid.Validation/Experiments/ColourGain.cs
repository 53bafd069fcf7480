using Derivid.Validation.Metrics;
using Derivid.Validation.Reports;

namespace Derivid.Validation.Experiments;

/// <summary>What colour adds to a row, on the same students.</summary>
/// <param name="Top1">Gain in top-1.</param>
/// <param name="LogLoss">Fall of the log loss. Units: nats.</param>
public sealed record ColourGain(Interval Top1, Interval LogLoss)
{
    /// <summary>Compares a row without colour with the next one, which has it.</summary>
    public static ColourGain Build(BenchResults results, int rowWithout)
    {
        var (without, with) = (results.Of(rowWithout, Method.Engine), results.Of(rowWithout + 1, Method.Engine));
        var orders = (Without: Auroc.Order(without), With: Auroc.Order(with));
        double[] Gains(int[]? weights)
        {
            var (a, b) = (Summary.Of(without, weights, orders.Without), Summary.Of(with, weights, orders.With));
            return [b.Top1 - a.Top1, a.LogLoss - b.LogLoss];
        }

        var point = Gains(null);
        var intervals = Bootstrap.Intervals(without.Count, 100 + rowWithout, Gains);
        return new ColourGain(
            new Interval(point[0], intervals[0].Low, intervals[0].High),
            new Interval(point[1], intervals[1].Low, intervals[1].High));
    }
}
