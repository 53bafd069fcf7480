using Derivid.Api.Table;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Curation;
using Derivid.Core.Learning;
using Derivid.Core.Ranking;
using Derivid.Store.Tables;
using Derivid.Store.Teaching;

namespace Derivid.Api.Curation;

/// <summary>Works out what the classes teach that let the table learn from them.</summary>
/// <param name="courses">The courses.</param>
/// <param name="handOuts">What was handed out in them.</param>
/// <param name="reports">What was handed in.</param>
/// <param name="archive">Earlier versions of the table.</param>
public sealed class ClassTeaching(Store.Teaching.Courses courses, HandOuts handOuts, Reports reports, ReferenceTables archive)
{
    /// <summary>Learns, beside the current version of the table.</summary>
    /// <param name="served">The version.</param>
    /// <param name="cancellationToken">Gives up, between two courses.</param>
    internal async Task<TaughtTable> OfAsync(ServedTable served, CancellationToken cancellationToken)
    {
        var learnable = await courses.LearnableAsync(cancellationToken);
        var assumed = await AssumedAsync(served, cancellationToken);
        var sieve = new CourseSieve(assumed);
        var tallies = new List<CourseTally>();
        var read = 0;

        // The newest, where there are more reports than a class may have: an old course gives way, with its students' patience.
        foreach (var course in learnable.Courses.Reverse().TakeWhile(_ => read < Reports.All))
        {
            var known = await KnownAsync(course, served, cancellationToken);
            read += known.Count;
            tallies.Add(sieve.Tally(new ClosedCourse(known, course.IsLearnedFrom, course.PublishedGradingId is not null)));
            cancellationToken.ThrowIfCancellationRequested();
        }

        tallies.Reverse();
        return new TaughtTable(learnable, ClassLearning.Of(assumed, CoursePairs.Of(tallies), keepsSettings: true), assumed, served);
    }

    private async Task<TableSnapshot> AssumedAsync(ServedTable served, CancellationToken cancellationToken)
    {
        var table = AssumedTable.Of(
            served.Table,
            await archive.EverAsync(RecordKinds.SpotTestResponses, cancellationToken),
            await archive.EverAsync(RecordKinds.ColourExpectations, cancellationToken));
        return table == served.Table ? served.Snapshot : TableSnapshot.Build(table, served.Snapshot.Settings);
    }

    // The last report on each unknown. Neither who wrote it nor where goes on; whose several reports are, a number says that means nothing elsewhere.
    private async Task<List<KnownReport>> KnownAsync(Course course, ServedTable served, CancellationToken cancellationToken)
    {
        var inside = (await handOuts.AssignmentsAsync(course.Id, course.HandOutNumber, null, cancellationToken))
            .ToDictionary(row => (row.StudentKey, row.Number), row => row.ParentKey);
        var last = (await reports.CountedAsync(course.Id, course.HandOutNumber, countsBest: false, cancellationToken)).Select(row => row.Id).ToHashSet(StringComparer.Ordinal);
        var students = new Dictionary<string, int>(StringComparer.Ordinal);
        var known = new List<KnownReport>();
        foreach (var kept in (await reports.ListAsync(course.Id, course.HandOutNumber, null, null, Reports.All, cancellationToken)).Where(row => last.Contains(row.Id)))
        {
            // What the table has no words for any more is left out, the compound or what was seen of it.
            if (inside.TryGetValue((kept.StudentKey, kept.Number), out var parent) && served.ParentByKey.ContainsKey(parent)
                && ReportBody.Kept(kept).ObservationOn(served).Succeeded(out var observation, out _))
            {
                students.TryAdd(kept.StudentKey, students.Count);
                known.Add(new KnownReport(parent, observation, students[kept.StudentKey]));
            }
        }

        return known;
    }
}

/// <summary>What the table would become of what classes teach.</summary>
internal sealed class TaughtTable
{
    private const int Decimals = 3;

    private readonly LearnableCourses _learnable;
    private readonly ClassLearning _learning;
    private readonly TableSnapshot _assumed;
    private readonly ServedTable _served;

    public TaughtTable(LearnableCourses learnable, ClassLearning learning, TableSnapshot assumed, ServedTable served)
    {
        (_learnable, _learning, _assumed, _served) = (learnable, learning, assumed, served);
        Changes = TableDifferences.Between(served.Table, LearnedTable.Of(learning, LearnedTable.Source.Key).Proposed(served.Table));
    }

    /// <summary>The records that would change. Shape: by kind, then key.</summary>
    public IReadOnlyList<RecordChange> Changes { get; }

    /// <summary>Title of a proposal, where nobody gave one.</summary>
    public string Title => _learning.CourseCount == 0
        ? $"What classes taught taken back: {Figure.Count(Changes.Count, "record")}"
        : $"Learned from {Figure.Count(_learning.CourseCount, "course")}: {Figure.Count(Changes.Count, "record")}";

    /// <summary>Its reason, likewise.</summary>
    public string Reason => _learning.CourseCount == 0
        ? "No two courses let the table learn from them any more, so what was learned goes back to what stood there before."
        : $"Spot-test rates, colours and measured melting ranges from the reports of {Figure.Count(_learning.CourseCount, "course")} whose staff let the table learn and whose grades are published, shrunk to what was assumed. "
        + "Each figure rests on an even number of courses, and on five students at least in each; the note of a record says on how many reports, and what stood there before. "
        + "No setting of the model is proposed: how thermometers and impurity were learned did harm where what is assumed held.";

    /// <summary>For whoever looks before proposing.</summary>
    public LearningItem Item => new(
        _served.Table.Version,
        _served.ModelVersion,
        _learning.CourseCount,
        _learnable.Willing - _learning.CourseCount,
        _learnable.OpenSinceUtc is { } since ? DateOnly.FromDateTime(since) : null,
        Changes.Count,
        [.. Rates()],
        [.. Colours()],
        [.. _learning.Measured.Select(melted => new MeasuredItem(
            melted.ParentKey,
            melted.KindKey,
            melted.Preparation,
            melted.IsCalibrated,
            melted.Count,
            melted.Courses,
            Math.Round(melted.ClearPointCelsius.Mean, 2),
            Math.Round(melted.SampleSpreadCelsius, 2),
            LearnedTable.IsProposed(melted)))]);

    private IEnumerable<LearnedRateItem> Rates() =>
        from learned in _learning.SpotTests.Classes
        where learned.Compounds.Count > 0
        join row in _assumed.Table.Responses on learned.Key equals ClassLearning.KeyOf(row)
        orderby row.TestKey, row.Order
        select new LearnedRateItem(
            row.TestKey,
            row.AppliesTo,
            learned.Compounds.Sum(compound => compound.Counted),
            learned.Compounds.Count,
            Math.Round(learned.Assumed, Decimals),
            Math.Round(learned.Rate.Mean, Decimals),
            Math.Round(learned.Rate.Low, Decimals),
            Math.Round(learned.Rate.High, Decimals));

    private IEnumerable<LearnedColourItem> Colours() =>
        from row in _assumed.Table.ColourExpectations
        orderby row.KindKey, row.Order
        from learned in _learning.Colours[row.KindKey].Classes
        where learned.Key == row.StructureClass && learned.Compounds.Count > 0
        select new LearnedColourItem(
            row.KindKey,
            row.StructureClass,
            learned.Counted,
            learned.Compounds.Count,
            row.Weights,
            [.. learned.Weights.Select(weight => Math.Round(weight, Decimals))]);
}
