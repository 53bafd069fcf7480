using Derivid.Contracts;
using Derivid.Core.Teaching.ClassView;
using Derivid.Core.Teaching.Grading;
using Derivid.Store.Access;
using Derivid.Store.Databases;

namespace Derivid.Api.Teaching;

/// <summary>Says by which names staff are told of reports, in one place.</summary>
/// <param name="secrets">The secrets that marking codes are derived from.</param>
public sealed class AnonymousMarking(ServerSecrets secrets)
{
    /// <summary>Why what puts names beside points is refused.</summary>
    public const string Withheld =
        "The course is marked anonymously: what puts names beside points is told once its grades are published.";

    /// <summary>The names for whoever looks at a course.</summary>
    /// <param name="view">The course and who looks.</param>
    /// <param name="cancellation">Gives up.</param>
    public async Task<MarkedNames> OfAsync(CourseView view, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(view);
        return view.Student is not null || !view.Course.IsMarkedAnonymously
            ? MarkedNames.Own
            : new MarkedNames(
                new MarkingCodes(await secrets.OfAsync(ServerSecrets.MarkingOf(view.Course.Id), MarkingCodes.SecretLength, cancellation)),
                view.IsMarkedBlind);
    }
}

/// <summary>By which names reports and students are told, and what else of them.</summary>
/// <remarks>
/// Three cases: nothing is marked anonymously, or a student looks at their own; it is, and grades are not published: codes stand for
/// names, and what tells who it is, is left out; grades are published: all is told, and the code beside it.
/// </remarks>
/// <param name="codes">The codes. Missing: null, there are none.</param>
/// <param name="isBlind">Whether they stand in place of the names; else beside them.</param>
public sealed class MarkedNames(MarkingCodes? codes, bool isBlind)
{
    /// <summary>Everybody and everything by their own names.</summary>
    public static MarkedNames Own { get; } = new(null, isBlind: false);

    private const int AllReports = 50_000;

    /// <summary>Whether whose a report is stays untold.</summary>
    public bool IsBlind => isBlind;

    /// <summary>What a student is called.</summary>
    /// <param name="studentKey">Their identifier.</param>
    public string Student(string studentKey) => isBlind ? codes!.OfStudent(studentKey) : studentKey;

    /// <summary>What a report is called.</summary>
    /// <param name="id">Its id.</param>
    public string Report(string id) => isBlind ? codes!.OfReport(id) : id;

    /// <summary>The id of the report that somebody calls so.</summary>
    /// <param name="called">What they call it, of whatever form.</param>
    /// <returns>An id, or something that no report has for one.</returns>
    public string ReportCalled(string called) => isBlind && ResourceIds.IsWellFormed(called) ? codes!.ReportCalled(called) : called;

    /// <summary>A page of a list of reports, or of what there is one of a report: in order of what they are called.</summary>
    /// <remarks>Ids are in order of time, so where they must not be told neither must their order; a class is then read whole.</remarks>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="read">Reads rows by id: the id to go on after (null from the start), how many at most.</param>
    /// <param name="id">A row's report.</param>
    /// <param name="beyond">What the last report of the page before is called. Missing: null, from the start.</param>
    /// <param name="most">How many at most.</param>
    public async Task<List<T>> PageAsync<T>(Func<string?, int, Task<List<T>>> read, Func<T, string> id, string? beyond, int most)
    {
        ArgumentNullException.ThrowIfNull(read);
        return !isBlind
            ? await read(beyond, most)
            : [.. (await read(null, AllReports)).Select(row => (Row: row, Called: codes!.OfReport(id(row))))
                .Where(row => string.CompareOrdinal(row.Called, beyond) > 0)
                .OrderBy(row => row.Called, StringComparer.Ordinal).Take(most).Select(row => row.Row)];
    }

    /// <summary>Rows in order of what their reports are called.</summary>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="rows">Shape: in order of the reports' ids.</param>
    /// <param name="id">A row's report.</param>
    public IEnumerable<T> InOrder<T>(IEnumerable<T> rows, Func<T, string> id) =>
        isBlind ? rows.OrderBy(row => codes!.OfReport(id(row)), StringComparer.Ordinal) : rows;

    /// <summary>A report as it may be told.</summary>
    /// <param name="item">The report.</param>
    public ReportItem Told(ReportItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        return codes is null ? item
            : !isBlind ? item with { MarkingCode = codes.OfStudent(item.Student!) }
            : item with
            {
                Id = codes.OfReport(item.Id),
                Student = null,
                MarkingCode = codes.OfStudent(item.Student!),
                HandedInAt = null,

                // Thermometers have names, owners and places; what one was checked by is as good as its name.
                Observation = item.Observation with { Thermometer = null },
            };
    }

    /// <summary>A grade as it may be told.</summary>
    /// <param name="item">The grade.</param>
    public GradeItem Told(GradeItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        return codes is null ? item
            : !isBlind ? item with { MarkingCode = codes.OfStudent(item.Student!) }
            : item with
            {
                Report = codes.OfReport(item.Report),
                Student = null,
                MarkingCode = codes.OfStudent(item.Student!),
                Code = null,
                Lines = item.Lines is { } lines ? [.. lines.Select(WithoutHours)] : null,
            };
    }

    /// <summary>A comparison as it may be told.</summary>
    /// <param name="item">The comparison.</param>
    public ComparisonItem Told(ComparisonItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        return codes is null ? item
            : !isBlind ? item with { MarkingCode = codes.OfStudent(item.Student!) }
            : item with
            {
                Report = codes.OfReport(item.Report),
                Student = null,
                MarkingCode = codes.OfStudent(item.Student!),
                Changes = [.. item.Changes.Select(change => change with
                {
                    Before = change.Before is { } before ? WithoutHours(before) : null,
                    After = change.After is { } after ? WithoutHours(after) : null,
                })],
            };
    }

    /// <summary>A moderation as it may be told.</summary>
    /// <param name="item">The moderation.</param>
    public ModerationItem Told(ModerationItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        return item with { Report = Report(item.Report) };
    }

    /// <summary>A report of a class as it may be looked at. Its bench stays, for what is told of a batch at several benches.</summary>
    /// <param name="report">The report.</param>
    public ClassReport Told(ClassReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return report with { StudentKey = Student(report.StudentKey) };
    }

    private static GradeLineItem WithoutHours(GradeLineItem line) => line.Criterion == CriterionKind.Lateness
        ? line with { Sentence = LatenessDeduction.WithoutHours((decimal)(line.Moderation?.Computed ?? line.Points)) }
        : line;
}
