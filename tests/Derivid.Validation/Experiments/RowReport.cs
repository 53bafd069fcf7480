using Derivid.Validation.Metrics;
using Derivid.Validation.Reports;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Experiments;

/// <summary>Everything measured on one row of one bench at one share of absent unknowns.</summary>
public sealed class RowReport
{
    private const int Figures = 9;

    private readonly Interval[][] _figures;

    private RowReport(EvidenceSet row, double absentShare, Interval[][] figures, Interval[] differences)
    {
        Row = row;
        AbsentShare = absentShare;
        _figures = figures;
        BehindIdeal = differences[0];
        BehindBlind = differences[1];
        AheadOfBaselines = differences[2];
        LossBelowBaselines = differences[3];
    }

    /// <summary>The row.</summary>
    public EvidenceSet Row { get; }

    /// <summary>Share of absent unknowns.</summary>
    public double AbsentShare { get; }

    /// <summary>Top-1 of the ideal observer less that of the engine.</summary>
    public Interval BehindIdeal { get; }

    /// <summary>Top-1 of the ideal observer who does not know the bench less that of the engine.</summary>
    public Interval BehindBlind { get; }

    /// <summary>Top-1 of the engine less that of the best baseline.</summary>
    public Interval AheadOfBaselines { get; }

    /// <summary>Log loss of the best baseline less that of the engine. Units: nats.</summary>
    public Interval LossBelowBaselines { get; }

    /// <summary>A method's figures, in the order of <see cref="Summary.Figures"/>.</summary>
    public Interval[] Of(Method method) => _figures[(int)method];

    /// <summary>Works a row out; all methods share the resamples, so differences are paired.</summary>
    public static RowReport Build(BenchResults results, int row, int share)
    {
        var methods = Enum.GetValues<Method>();
        var cases = results.Cases(share);
        var scores = methods
            .Select(method => results.Of(row, method, share))
            .Select(all => (IReadOnlyList<CaseScore>)[.. cases.Select(number => all[number])])
            .ToArray();
        var orders = scores.Select(Auroc.Order).ToArray();
        double[] All(int[]? weights)
        {
            var summaries = scores.Select((of, i) => Summary.Of(of, weights, orders[i])).ToArray();
            return [.. summaries.SelectMany(summary => summary.Figures), .. Differences(summaries)];
        }

        var point = All(null);
        var intervals = Bootstrap.Intervals(cases.Count, row + 1, All)
            .Select((interval, i) => new Interval(point[i], interval.Low, interval.High))
            .ToArray();
        return new RowReport(
            EvidenceSets.Rows[row],
            BenchParameters.AbsentShares[share],
            [.. methods.Select((_, i) => intervals[(i * Figures)..((i + 1) * Figures)])],
            intervals[(methods.Length * Figures)..]);
    }

    private static double[] Differences(Summary[] summaries)
    {
        var engine = summaries[(int)Method.Engine];
        var baselines = summaries[(int)Method.Nearest..];
        return
        [
            summaries[(int)Method.Ideal].Top1 - engine.Top1,
            summaries[(int)Method.IdealBlind].Top1 - engine.Top1,
            engine.Top1 - baselines.Max(baseline => baseline.Top1),
            baselines.Min(baseline => baseline.LogLoss) - engine.LogLoss,
        ];
    }
}
