using Derivid.Core.Colours;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Core.Structures;

namespace Derivid.Core.Learning;

/// <summary>What classes whose unknowns are known taught about rates, colours and readings.</summary>
/// <remarks>
/// Everything is shrunk to what the table and the settings assume, and comes with a 90 % interval. The rates learned are those
/// of what is written down, a turned sample and a slip of the pen in them; <see cref="LearnedTable"/> takes the former
/// out again where the table wants a clean sample's. Deterministic; thread safety: immutable.
/// </remarks>
public sealed class ClassLearning
{
    private ClassLearning(TableSnapshot snapshot, IReadOnlyList<CourseTally> courses, bool keepsSettings)
    {
        (Snapshot, Courses) = (snapshot, courses);
        var compounds = courses.SelectMany(course => course.Compounds).ToLookup(compound => compound.ParentKey, StringComparer.Ordinal);
        SpotTests = TwoLevelRates.Of(SpotTestClasses(snapshot, compounds));
        Failures = TwoLevelRates.Of(FailureClasses(snapshot, compounds));
        Colours = snapshot.Kinds.Where(kind => kind.Colours is not null).ToDictionary(
            kind => kind.Kind.Key,
            kind => ColourLearning.Of(ColourClasses(kind.Kind.Key, snapshot, compounds), snapshot.Settings.Colour, keepsSettings),
            StringComparer.Ordinal);
        Readings = ReadingLearning.Of(courses, snapshot.Settings);
        Measured = MeasuredMelting.Of(courses, snapshot.Settings);
    }

    /// <summary>Rates of positives. Shape: a class for each row of the table's responses, by <see cref="KeyOf"/>.</summary>
    public TwoLevelRates SpotTests { get; }

    /// <summary>Rates of nothing coming with a reagent that no spot test shares. Shape: a class a behaviour.</summary>
    public TwoLevelRates Failures { get; }

    /// <summary>Colours, by key of the derivative kind. Shape: classes by order of the table's expectations.</summary>
    public IReadOnlyDictionary<string, ColourLearning> Colours { get; }

    /// <summary>How melting ranges are read.</summary>
    public ReadingLearning Readings { get; }

    /// <summary>Melting ranges that classes read.</summary>
    public IReadOnlyList<MeasuredMelting> Measured { get; }

    /// <summary>Of how many courses anything was counted.</summary>
    public int CourseCount => Courses.Count(course => course.Compounds.Count > 0);

    /// <summary>What was assumed.</summary>
    internal TableSnapshot Snapshot { get; }

    /// <summary>What was counted.</summary>
    internal IReadOnlyList<CourseTally> Courses { get; }

    /// <summary>Learns.</summary>
    /// <param name="snapshot">The table and settings that everything is shrunk to.</param>
    /// <param name="courses">The courses; those whose verdict is against them have nothing to count.</param>
    /// <param name="keepsSettings">Whether colours are learned beside the share of recorded ones that is assumed, for whoever changes the table and no setting.</param>
    public static ClassLearning Of(TableSnapshot snapshot, IReadOnlyList<CourseTally> courses, bool keepsSettings = false)
    {
        ArgumentNullException.ThrowIfNull(snapshot);
        ArgumentNullException.ThrowIfNull(courses);
        return new ClassLearning(snapshot, courses, keepsSettings);
    }

    /// <summary>What a row of the table's responses is called among <see cref="SpotTests"/>.</summary>
    /// <param name="row">The row.</param>
    public static string KeyOf(SpotTestResponse row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return FormattableString.Invariant($"{row.TestKey}/{row.Order}");
    }

    private static List<CountedClass> SpotTestClasses(TableSnapshot snapshot, ILookup<string, CompoundTally> compounds) =>
    [
        .. from test in snapshot.SpotTests.Tests
           let row = snapshot.SpotTests.Row(test.Key)
           from members in Enumerable.Range(0, snapshot.Parents.Count)
               .Where(parent => row.OutcomeOf(parent).Response is not null)
               .GroupBy(parent => row.OutcomeOf(parent).Response!)
               .OrderBy(members => members.Key.Order)
           select new CountedClass(
               KeyOf(members.Key),
               row.Foreseen(members.First()),
               [.. Counted(members, snapshot, compounds, tally => tally.SpotTests
                   .Where(one => one.TestKey == test.Key).Select(one => (one.Positive, one.Negative)))]),
    ];

    private static List<CountedClass> FailureClasses(TableSnapshot snapshot, ILookup<string, CompoundTally> compounds) =>
    [
        .. from behaviour in new[] { PrecipitateBehaviour.Ready, PrecipitateBehaviour.Slow, PrecipitateBehaviour.ClosesRing }
           let assumed = LearnedTable.WorksOf(behaviour, snapshot.Settings.Precipitate)
           select new CountedClass(
               behaviour.ToString(),
               (1 - assumed) * (1 - snapshot.Settings.Precipitate.OilShare),
               [.. from kind in snapshot.Kinds
                   where kind.Precipitates.TestKey is null
                   from counted in Counted(
                       Enumerable.Range(0, snapshot.Parents.Count).Where(parent => kind.Precipitates.BehaviourOf(parent) == behaviour),
                       snapshot,
                       compounds,
                       tally => tally.Precipitates.Where(one => one.KindKey == kind.Kind.Key).Select(one => (one.Nothing, one.Came)))
                   select counted with { Key = $"{counted.Key}/{kind.Kind.Key}" }]),
    ];

    private static IEnumerable<CountedCompound> Counted(
        IEnumerable<int> members, TableSnapshot snapshot, ILookup<string, CompoundTally> compounds, Func<CompoundTally, IEnumerable<(int Yes, int No)>> counts) =>
        from parent in members
        let key = snapshot.Parents[parent].Key
        let all = compounds[key].SelectMany(counts).ToList()
        where all.Count > 0
        select new CountedCompound(key, all.Sum(count => count.Yes), all.Sum(count => count.No));

    private static List<ColourClass> ColourClasses(string kindKey, TableSnapshot snapshot, ILookup<string, CompoundTally> compounds)
    {
        var ranks = snapshot.Table.Colours.ToDictionary(colour => colour.Key, colour => colour.Rank, StringComparer.Ordinal);
        var recorded = snapshot.Table.Derivatives
            .Where(record => record.KindKey == kindKey && record.ColourKey is not null)
            .ToLookup(record => record.ParentKey, record => ranks[record.ColourKey!], StringComparer.Ordinal);
        var classOf = ClassOf(kindKey, snapshot);
        return
        [
            .. from row in Expectations(kindKey, snapshot)
               select new ColourClass(
                   row.StructureClass,
                   row.Weights,
                   [.. from parent in Enumerable.Range(0, snapshot.Parents.Count)
                       where classOf[parent] == row
                       let key = snapshot.Parents[parent].Key
                       let tallies = compounds[key].SelectMany(compound => compound.Colours).Where(tally => tally.KindKey == kindKey).ToList()
                       where tallies.Count > 0
                       select new ColouredCompound(
                           key,
                           [.. row.Weights.Select((_, rank) => tallies.Sum(tally => tally.Calls[rank]))],
                           [.. recorded[key].OfType<int>()])]),
        ];
    }

    private static IEnumerable<ColourExpectation> Expectations(string kindKey, TableSnapshot snapshot) =>
        snapshot.Table.ColourExpectations.Where(row => row.KindKey == kindKey).OrderBy(row => row.Order);

    private static List<ColourExpectation?> ClassOf(string kindKey, TableSnapshot snapshot)
    {
        var rows = Expectations(kindKey, snapshot).Select(row => (Row: row, Class: StructureClass.Parse(row.StructureClass))).ToList();
        return [.. snapshot.Features.Select(features => rows.FirstOrDefault(row => row.Class.Matches(features)).Row)];
    }
}
