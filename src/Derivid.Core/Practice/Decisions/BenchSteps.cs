using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Forecasts;

namespace Derivid.Core.Practice.Decisions;

/// <summary>Lays out what steps at the bench show of the compounds in play, as the ranking engine foresees it.</summary>
/// <param name="snapshot">The table.</param>
/// <param name="parents">The compounds in play: places in the snapshot. Shape: no repeats.</param>
/// <param name="belief">
/// Their probabilities, for which bands of readings are chosen, and last that of "none of these": an unlisted relative of any
/// parent of the table. Shape: one more than the compounds; they sum to 1.
/// </param>
public sealed class BenchSteps(TableSnapshot snapshot, IReadOnlyList<int> parents, double[] belief)
{
    /// <summary>Seeing whether the unknown is a liquid or a solid.</summary>
    public BenchStep State() => Alternatives(
        new BenchWork(NextStepKind.State, null, "liquid or solid", NextSteps.StateMinutes, Hazard.Low, null),
        (BenchOutcomeKind.Solid, BenchOutcomeKind.Liquid),
        snapshot.Solids.Of,
        OfNone(snapshot.Solids.OfRelative));

    /// <summary>Taking the boiling range of a liquid.</summary>
    public BenchStep BoilingPoint() => Readings(
        new BenchWork(NextStepKind.BoilingPoint, null, "boiling point", NextSteps.BoilingMinutes, Hazard.Low, NextSteps.BoilingCaution),
        snapshot.BoilingForecast,
        []);

    /// <summary>Taking the melting range.</summary>
    /// <param name="isSolid">Whether it was seen to be a solid: it can't be found a liquid then.</param>
    public BenchStep MeltingPoint(bool isSolid) => Readings(
        new BenchWork(NextStepKind.MeltingPoint, null, "melting point", NextSteps.MeltingMinutes, Hazard.Low, null),
        snapshot.MeltingForecast,
        [],
        isSolid);

    /// <summary>Making a derivative and melting it.</summary>
    public BenchStep Derivative(KindSnapshot kind)
    {
        var what = kind.Kind;
        return Readings(
            new BenchWork(NextStepKind.Derivative, what.Key, what.Name, what.Minutes, what.Hazard, what.Cautions),
            kind.Forecast,
            [BenchOutcomeKind.Oil, BenchOutcomeKind.Nothing]);
    }

    /// <summary>Running a spot test.</summary>
    public BenchStep SpotTest(string testKey)
    {
        var row = snapshot.SpotTests.Row(testKey);
        return Alternatives(
            new BenchWork(NextStepKind.SpotTest, testKey, row.Test.Name, row.Test.Minutes, row.Test.Hazard, row.Test.Cautions)
            {
                QuestionKey = row.Question.Key,
            },
            (BenchOutcomeKind.Positive, BenchOutcomeKind.Negative),
            row.Foreseen,
            snapshot.IsOfReagent(testKey)
                ? double.Lerp(OfNone(row.Foreseen), row.Test.PositiveRateIfNo, snapshot.Settings.OpenSet.NotCarbonylShare)
                : OfNone(row.Foreseen));
    }

    private double OfNone(Func<int, double> ofRelative) => Enumerable.Range(0, snapshot.Parents.Count).Average(ofRelative);

    private BenchStep Alternatives(
        BenchWork what, (BenchOutcomeKind Yes, BenchOutcomeKind No) outcomes, Func<int, double> yes, double ofNone)
    {
        double[] shares = [.. parents.Select(yes), ofNone];
        return new BenchStep(
            what, [new BenchOutcome(outcomes.Yes), new BenchOutcome(outcomes.No)], [.. shares, .. shares.Select(share => 1 - share)]);
    }

    private BenchStep Readings(BenchWork what, TemperatureForecast forecast, IReadOnlyList<BenchOutcomeKind> others, bool isSolid = false)
    {
        var rows = parents.Select(parent => forecast.Outcomes(parent).ToArray()).Append(forecast.Background.ToArray()).ToList();
        var first = forecast.FirstTaken;
        if (isSolid)
        {
            rows = [.. rows.Select(row => Read(row, rows[^1], first))];
        }

        var ends = ReadingBands.Join(
            [.. rows.Select(row => new ReadOnlyMemory<float>(row, first, forecast.TemperatureBins - first))], belief);
        List<BenchOutcome> outcomes = [];
        List<double> shares = [];
        var start = first;
        foreach (var end in ends.Select(end => first + end))
        {
            outcomes.Add(new BenchOutcome(
                BenchOutcomeKind.Reading,
                start == first ? null : EdgeBelow(start),
                end == forecast.TemperatureBins - 1 ? null : EdgeBelow(end + 1),
                Mean(start, end)));
            shares.AddRange(rows.Select(row => Sum(row.AsSpan(start, end - start + 1))));
            start = end + 1;
        }

        // What melts below a bench's lowest reading is seen to be a liquid.
        if (first > 0 && !isSolid)
        {
            outcomes.Add(new BenchOutcome(BenchOutcomeKind.Liquid));
            shares.AddRange(rows.Select(row => (double)row[0]));
        }

        for (var i = 0; i < others.Count; i++)
        {
            outcomes.Add(new BenchOutcome(others[i]));
            shares.AddRange(rows.Select(row => (double)row[forecast.TemperatureBins + i]));
        }

        return new BenchStep(what, outcomes, [.. shares]);

        // Of the compounds as likely as they are; where none is expected, the middle.
        double Mean(int lowest, int last)
        {
            var (sum, total) = (0.0, 0.0);
            for (var bin = lowest; bin <= last; bin++)
            {
                for (var compound = 0; compound < rows.Count; compound++)
                {
                    var share = belief[compound] * rows[compound][bin];
                    total += share;
                    sum += share * EdgeBelow(bin);
                }
            }

            return (TemperatureForecast.BinCelsius / 2) + (total > 0 ? sum / total : (EdgeBelow(lowest) + EdgeBelow(last)) / 2);
        }

        double EdgeBelow(int bin) => forecast.LowestCelsius + (bin * TemperatureForecast.BinCelsius);
    }

    // What is read given that something is; of a compound that never melts as high, what is read of any, for it was taken for another.
    private static float[] Read(float[] row, float[] any, int first)
    {
        const double LeastRead = 1e-6;
        var of = Sum(row.AsSpan(first)) < LeastRead ? any : row;
        var total = Sum(of.AsSpan(first));
        return [.. of.Select((share, place) => place < first ? 0 : (float)(share / total))];
    }

    private static double Sum(ReadOnlySpan<float> cells)
    {
        var sum = 0.0;
        foreach (var cell in cells)
        {
            sum += cell;
        }

        return sum;
    }
}
