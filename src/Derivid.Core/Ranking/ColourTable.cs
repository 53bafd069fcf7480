using Derivid.Core.Compounds;
using Derivid.Core.Ranking.Distributions;
using Derivid.Core.Structures;

namespace Derivid.Core.Ranking;

/// <summary>For one derivative kind, the probability of each colour being called, by parent.</summary>
public sealed class ColourTable
{
    private readonly ParentValues[] _byRank;
    private readonly bool[] _isRecorded;
    private readonly ParentClasses _classes;
    private readonly Dictionary<string, int?> _rankByKey;

    private ColourTable(ParentValues[] byRank, bool[] isRecorded, ParentClasses classes, Dictionary<string, int?> rankByKey)
    {
        _byRank = byRank;
        _isRecorded = isRecorded;
        _classes = classes;
        _rankByKey = rankByKey;
    }

    /// <summary>Whether a colour has a place in the order, so that calling it can be weighed; white and colourless have none.</summary>
    /// <param name="colourKey">The colour called.</param>
    /// <exception cref="ArgumentException">The vocabulary has no such colour.</exception>
    public bool Ranks(string colourKey) => RankOf(colourKey) is not null;

    /// <summary>The probability of a call.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    /// <param name="colourKey">The colour called.</param>
    /// <returns>Bounds: above 0, at most 1.</returns>
    /// <exception cref="ArgumentException">The vocabulary has no such colour, or it is outside the order.</exception>
    public double Probability(int parent, string colourKey) => Probabilities(colourKey)[parent];

    /// <summary>The probability of a call from each parent.</summary>
    /// <param name="colourKey">The colour called.</param>
    /// <returns>Bounds: above 0, at most 1.</returns>
    /// <exception cref="ArgumentException">The vocabulary has no such colour, or it is outside the order.</exception>
    public ParentValues Probabilities(string colourKey) =>
        RankOf(colourKey) is { } rank
            ? _byRank[rank]
            : throw new ArgumentException($"The colour '{colourKey}' has no rank.", nameof(colourKey));

    /// <summary>Whether a colour is recorded for the parent's derivative, rather than expected of its structure.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    public bool IsRecorded(int parent) => _isRecorded[_classes.Of[parent]];

    internal static ColourTable Build(
        string kindKey, IReadOnlyList<Derivative> records, ReferenceTable table, TableSnapshot snapshot)
    {
        var rankByKey = table.Colours.ToDictionary(colour => colour.Key, colour => colour.Rank, StringComparer.Ordinal);
        var count = rankByKey.Values.Count(rank => rank is not null);
        var expectations = table.ColourExpectations
            .Where(expectation => expectation.KindKey == kindKey)
            .OrderBy(expectation => expectation.Order)
            .Select(expectation => (Class: StructureClass.Parse(expectation.StructureClass), expectation.Weights))
            .ToList();
        var recorded = records
            .Where(record => record.ColourKey is { } colour && rankByKey[colour] is not null)
            .ToLookup(record => record.ParentKey, record => rankByKey[record.ColourKey!]!.Value, StringComparer.Ordinal);
        var confusion = Confusion(count, snapshot.Settings.Colour);

        var classes = snapshot.Classes;
        double[][] byRank = [.. Enumerable.Range(0, count).Select(_ => new double[classes.Count])];
        var isRecorded = new bool[classes.Count];
        for (var i = 0; i < isRecorded.Length; i++)
        {
            var parent = classes.Examples[i];
            var features = snapshot.Features[parent];
            var expected = expectations.FirstOrDefault(e => e.Class.Matches(features)).Weights
                ?? [.. Enumerable.Repeat(1.0 / count, count)];
            var ranks = recorded[snapshot.Parents[parent].Key].ToList();
            isRecorded[i] = ranks.Count > 0;
            var called = Called(TrueColours(expected, ranks, snapshot.Settings.Colour.RecordedShare), confusion);
            for (var rank = 0; rank < count; rank++)
            {
                byRank[rank][i] = called[rank];
            }
        }

        return new ColourTable([.. byRank.Select(values => ParentValues.OfClasses(values, classes))], isRecorded, classes, rankByKey);
    }

    private int? RankOf(string colourKey) =>
        _rankByKey.TryGetValue(colourKey, out var rank)
            ? rank
            : throw new ArgumentException($"The table has no colour '{colourKey}'.", nameof(colourKey));

    internal static double[] TrueColours(IReadOnlyList<double> expected, IReadOnlyList<int> recordedRanks, double recordedShare)
    {
        var share = recordedRanks.Count > 0 ? recordedShare : 0;
        var colours = expected.Select(weight => weight * (1 - share)).ToArray();
        foreach (var rank in recordedRanks)
        {
            colours[rank] += share / recordedRanks.Count;
        }

        return colours;
    }

    internal static double[] Called(double[] trueColours, double[][] confusion)
    {
        var called = new double[trueColours.Length];
        for (var i = 0; i < trueColours.Length; i++)
        {
            for (var j = 0; j < called.Length; j++)
            {
                called[j] += trueColours[i] * confusion[i][j];
            }
        }

        return called;
    }

    /// <summary>Probability of calling colour j when the true one is i: near misses along the order, and lapses.</summary>
    internal static double[][] Confusion(int count, ColourSettings settings)
    {
        var confusion = new double[count][];
        for (var i = 0; i < count; i++)
        {
            var near = Enumerable.Range(0, count).Select(j => NormalDensity.At(j - i, settings.CallSteps)).ToArray();
            var total = near.Sum();
            confusion[i] = [.. near.Select(n =>
                ((1 - settings.LapseShare) * n / total) + (settings.LapseShare / count))];
        }

        return confusion;
    }
}
