using Derivid.Core.Compounds;
using Derivid.Core.Learning;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Core.Structures;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Learning;

/// <summary>Whoever takes every label at its word, counts by class, adds one, and writes that down as the rate.</summary>
internal static class NaiveLearner
{
    private const int Decimals = 3;

    /// <summary>The table with such rates of tests and colours of 2,4-dinitrophenylhydrazones.</summary>
    /// <param name="snapshot">The table before.</param>
    /// <param name="reports">All that was handed in.</param>
    public static ReferenceTable Of(TableSnapshot snapshot, IEnumerable<KnownReport> reports)
    {
        var table = snapshot.Table;
        var index = snapshot.Parents.Select((parent, i) => (parent.Key, i)).ToDictionary(StringComparer.Ordinal);
        var rank = table.Colours.Where(colour => colour.Rank is not null).ToDictionary(colour => colour.Key, colour => colour.Rank!.Value, StringComparer.Ordinal);
        var rows = table.ColourExpectations.Where(row => row.KindKey == BenchTable.HydrazoneKey).OrderBy(row => row.Order)
            .Select(row => (Row: row, Class: StructureClass.Parse(row.StructureClass))).ToList();
        var expected = new ExpectedOutcomes(table);
        var outcomes = snapshot.Parents.Select((parent, i) => expected.Of(parent.Key, snapshot.Features[i]).ToList()).ToList();
        var positives = new Dictionary<SpotTestResponse, (int Yes, int All)>();
        var calls = rows.ToDictionary(row => row.Row.StructureClass, _ => new int[rank.Count], StringComparer.Ordinal);
        foreach (var report in reports)
        {
            var parent = index[report.ParentKey];
            foreach (var reading in report.Observation.SpotTests)
            {
                if (outcomes[parent].FirstOrDefault(outcome => outcome.Test.Key == reading.TestKey)?.Response is { } row)
                {
                    var (yes, all) = positives.GetValueOrDefault(row);
                    positives[row] = (yes + (reading.Outcome == SpotTestOutcome.Positive ? 1 : 0), all + 1);
                }
            }

            if (report.Observation.Derivatives.FirstOrDefault(reading => reading.KindKey == BenchTable.HydrazoneKey)?.ColourKey is { } colour
                && rows.FirstOrDefault(row => row.Class.Matches(snapshot.Features[parent])).Row is { } of)
            {
                calls[of.StructureClass][rank[colour]]++;
            }
        }

        return table with
        {
            Responses = [.. table.Responses.Select(row => positives.TryGetValue(row, out var count)
                ? row with { PositiveRate = Math.Round((count.Yes + 1.0) / (count.All + 2), Decimals) }
                : row)],
            ColourExpectations = [.. table.ColourExpectations.Select(row => row.KindKey == BenchTable.HydrazoneKey && calls[row.StructureClass].Sum() is var all and > 0
                ? row with { Weights = [.. calls[row.StructureClass].Select(count => (count + 1.0) / (all + rank.Count))] }
                : row)],
        };
    }
}
