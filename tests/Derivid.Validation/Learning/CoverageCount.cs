using Derivid.Core.Learning;
using Derivid.Core.Ranking;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Learning;

/// <summary>How many figures learned have the truth in their 90 % interval, by sort.</summary>
/// <param name="Counts">Shape: by <see cref="Sorts"/>; those inside and all.</param>
public sealed record CoverageCount(IReadOnlyDictionary<string, (int Inside, int All)> Counts)
{
    /// <summary>The sorts of figures.</summary>
    public static IReadOnlyList<string> Sorts { get; } =
    [
        "test of a compound like its class", "test of a compound with a rate of its own", "test of a class", "colour of a compound", "colour of a class", "spread of readings", "width of readings", "depression of crude crystals", "measured clear point",
    ];

    internal static CoverageCount Of(ClassLearning learning, TrueRates truth, TrueReadings readings, TableSnapshot snapshot)
    {
        var held = Sorts.ToDictionary(sort => sort, _ => new List<bool>(), StringComparer.Ordinal);
        var members = MembersOfRows(snapshot);
        foreach (var one in learning.SpotTests.Classes.Where(one => one.Compounds.Count > 0))
        {
            var test = one.Key.Split('/')[0];
            foreach (var compound in one.Compounds)
            {
                held[Sorts[truth.GoesOwnWay(test, compound.Key) ? 1 : 0]].Add(compound.Rate.Holds(truth.Positive(test, compound.Key)));
            }

            held[Sorts[2]].Add(one.Rate.Holds(members[one.Key].Average(key => truth.Positive(test, key))));
        }

        var made = snapshot.Table.Derivatives.Where(record => record.KindKey == BenchTable.HydrazoneKey).Select(record => record.ParentKey).ToHashSet(StringComparer.Ordinal);
        foreach (var one in learning.Colours[BenchTable.HydrazoneKey].Classes.Where(one => one.Compounds.Count > 0))
        {
            held[Sorts[3]].AddRange(one.Compounds.SelectMany(compound => compound.Calls.Zip(truth.Called(compound.Key), (figure, share) => figure.Holds(share))));
            var ofClass = ColourMembers(one.Key, snapshot).Where(made.Contains).Select(truth.Called).ToList();
            held[Sorts[4]].AddRange(one.Calls.Select((figure, rank) => figure.Holds(ofClass.Average(calls => calls[rank]))));
        }

        foreach (var one in learning.Readings.Preparations)
        {
            held[Sorts[5]].Add(one.SpreadCelsius.Holds(readings.Spread(one.Preparation, one.IsCalibrated)));
            held[Sorts[6]].Add(one.SpanCelsius.Holds(readings.Span(one.Preparation, one.IsCalibrated)));
        }

        if (learning.Readings.CrudeDepressionCelsius is { } depression)
        {
            held[Sorts[7]].Add(depression.Holds(readings.CrudeDepression()));
        }

        foreach (var one in learning.Measured)
        {
            if (readings.ClearPoint(new CellKey(one.ParentKey, one.KindKey, one.Preparation, one.IsCalibrated)) is { } celsius)
            {
                held[Sorts[8]].Add(one.ClearPointCelsius.Holds(celsius));
            }
        }

        return new CoverageCount(held.ToDictionary(sort => sort.Key, sort => (sort.Value.Count(inside => inside), sort.Value.Count), StringComparer.Ordinal));
    }

    private static Dictionary<string, List<string>> MembersOfRows(TableSnapshot snapshot)
    {
        var expected = new Core.SpotTests.ExpectedOutcomes(snapshot.Table);
        return snapshot.Parents
            .SelectMany((parent, i) => expected.Of(parent.Key, snapshot.Features[i]).Where(outcome => outcome.Response is not null)
                .Select(outcome => (Row: ClassLearning.KeyOf(outcome.Response!), parent.Key)))
            .GroupBy(member => member.Row, StringComparer.Ordinal)
            .ToDictionary(group => group.Key, group => group.Select(member => member.Key).ToList(), StringComparer.Ordinal);
    }

    private static IEnumerable<string> ColourMembers(string structureClass, TableSnapshot snapshot)
    {
        var rows = snapshot.Table.ColourExpectations.Where(row => row.KindKey == BenchTable.HydrazoneKey).OrderBy(row => row.Order)
            .Select(row => (row.StructureClass, Class: Core.Structures.StructureClass.Parse(row.StructureClass))).ToList();
        return snapshot.Parents.Where((_, i) => rows.First(row => row.Class.Matches(snapshot.Features[i])).StructureClass == structureClass)
            .Select(parent => parent.Key);
    }
}
