using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching.Grading;
using Derivid.Store.Access;
using Derivid.Store.Databases;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Says by which names staff are told of reports, and what would uncover them, in one place.</summary>
/// <param name="secrets">The secrets that marking codes are derived from.</param>
public sealed class AnonymousMarking(ServerSecrets secrets)
{
    /// <summary>Why what puts names beside points is refused.</summary>
    public const string Withheld =
        "The course is marked anonymously: what puts names beside points is told once its grades are published.";

    /// <summary>Refuses what staff would write for a student: marking shows it under the student's code, and they would know it again.</summary>
    /// <param name="view">The course and who writes.</param>
    /// <returns>The problem. Missing: null, it is the student, or nothing is hidden.</returns>
    public static Problem? Writing(CourseView view)
    {
        ArgumentNullException.ThrowIfNull(view);
        return !view.IsMarkedBlind ? null : new Problem(
            ProblemTypes.Withheld,
            "The course is marked anonymously: until its grades are published students alone write reports and drafts, each their own. What staff wrote for one would be known again in marking, and with it the student's code.");
    }

    /// <summary>Refuses a grading that takes other points for lateness than the course does: several of them together tell the hour.</summary>
    /// <param name="course">The course.</param>
    /// <param name="rubric">What is to be graded by.</param>
    /// <returns>The problem. Missing: null, the lateness is the course's own, or nothing is hidden.</returns>
    public static Problem? Grading(Course course, Rubric rubric)
    {
        ArgumentNullException.ThrowIfNull(course);
        ArgumentNullException.ThrowIfNull(rubric);
        return !course.IsMarkedBlind || rubric.Lateness == Rubrics.Kept(course.RubricJson).Lateness ? null : new Problem(
            ProblemTypes.Withheld,
            "The course is marked anonymously: until its grades are published it is graded by the lateness of its own rubric alone, since by grading with others one could find the hour of each report, and whose it is. Send lateness as the course's rubric has it.");
    }

    /// <summary>Refuses that once a report is handed in a course counts lateness otherwise, for the same reason.</summary>
    /// <param name="before">How it counted.</param>
    /// <param name="course">The course as it is to be.</param>
    /// <param name="isHandedIn">Whether a report is handed in.</param>
    /// <returns>The problem. Missing: null, it counts as before, or nothing is hidden.</returns>
    public static Problem? Changing(CountedLateness before, Course course, bool isHandedIn)
    {
        ArgumentNullException.ThrowIfNull(course);
        return !course.IsMarkedBlind || !isHandedIn || CountedLateness.Of(course) == before ? null : new Problem(
            ProblemTypes.Withheld,
            "The course is marked anonymously and reports are handed in: until its grades are published dueAt, graceMinutes and the rubric's lateness stay as they are, since by moving them and grading again one could find the hour of each report, and whose it is. Students can be given longer one by one.");
    }

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

/// <summary>All that a course counts lateness by, but for students who have longer.</summary>
/// <param name="DueAtUtc">When reports are due. Units: UTC. Missing: null, none is late.</param>
/// <param name="GraceMinutes">Minutes after that which are not late.</param>
/// <param name="Deduction">What is taken. Missing: null, nothing.</param>
public readonly record struct CountedLateness(DateTime? DueAtUtc, int GraceMinutes, LatenessDeduction? Deduction)
{
    /// <summary>What a course counts by.</summary>
    /// <param name="course">The course.</param>
    public static CountedLateness Of(Course course)
    {
        ArgumentNullException.ThrowIfNull(course);
        return new CountedLateness(course.DueAtUtc, course.GraceMinutes, Rubrics.Kept(course.RubricJson).Lateness);
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

    /// <summary>Whether whose a report is stays untold.</summary>
    public bool IsBlind => isBlind;

    /// <summary>What the student of a report is called, and with them their group.</summary>
    /// <param name="studentKey">Their identifier, as their reports have it.</param>
    public string Student(string studentKey) => isBlind ? codes!.OfStudent(studentKey) : studentKey;

    /// <summary>What a report is called.</summary>
    /// <param name="id">Its id.</param>
    public string Report(string id) => isBlind ? codes!.OfReport(id) : id;

    /// <summary>The id of the report that somebody calls so.</summary>
    /// <param name="called">What they call it, of whatever form.</param>
    /// <returns>An id, or something that no report has for one.</returns>
    public string ReportCalled(string called) => isBlind && ResourceIds.IsWellFormed(called) ? codes!.ReportCalled(called) : called;

    /// <summary>A page of a list of reports, or of what there is one of a report: in order of what they are called.</summary>
    /// <remarks>Ids are in order of time, so where they must not be told neither must their order; the ids of a class are then read whole.</remarks>
    /// <typeparam name="T">A row.</typeparam>
    /// <param name="read">Reads rows by id: the id to go on after (null from the start), how many at most.</param>
    /// <param name="all">Reads the ids of all reports of the list.</param>
    /// <param name="of">Reads the rows of some reports.</param>
    /// <param name="id">A row's report.</param>
    /// <param name="beyond">What the last report of the page before is called. Missing: null, from the start.</param>
    /// <param name="most">How many at most.</param>
    public async Task<List<T>> PageAsync<T>(
        Func<string?, int, Task<List<T>>> read,
        Func<Task<IEnumerable<string>>> all,
        Func<IReadOnlyCollection<string>, Task<List<T>>> of,
        Func<T, string> id,
        string? beyond,
        int most)
    {
        ArgumentNullException.ThrowIfNull(read);
        ArgumentNullException.ThrowIfNull(all);
        ArgumentNullException.ThrowIfNull(of);
        if (!isBlind)
        {
            return await read(beyond, most);
        }

        List<string> page =
        [
            .. (await all()).Select(report => (Id: report, Called: codes!.OfReport(report)))
                .Where(report => string.CompareOrdinal(report.Called, beyond) > 0)
                .OrderBy(report => report.Called, StringComparer.Ordinal).Take(most).Select(report => report.Id),
        ];
        return [.. InOrder(await of(page), id)];
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
                Group = null,
                Members = null,
                Assignment = null,
                MarkingCode = codes.OfStudent(item.Student!),
                HandedInAt = null,

                // Thermometers have names, owners and places; what one was checked by is as good as its name.
                Observation = item.Observation with { Thermometer = null },
            };
    }

    /// <summary>A grade as it may be told.</summary>
    /// <param name="item">The grade.</param>
    /// <param name="holder">The student of its report, whose code a group has.</param>
    public GradeItem Told(GradeItem item, string holder)
    {
        ArgumentNullException.ThrowIfNull(item);
        return codes is null ? item
            : !isBlind ? item with { MarkingCode = codes.OfStudent(holder) }
            : item with
            {
                Report = codes.OfReport(item.Report),
                Student = null,
                MarkingCode = codes.OfStudent(holder),
                Code = null,
                Lines = item.Lines is { } lines ? [.. lines.Select(WithoutHours)] : null,
            };
    }

    /// <summary>A grade as it is compared with another: a difference that can't be told is none, or that there is one would tell.</summary>
    /// <param name="grade">The grade.</param>
    public Grade Compared(Grade grade)
    {
        ArgumentNullException.ThrowIfNull(grade);
        return isBlind ? grade with { Lines = [.. grade.Lines.Select(WithoutHours)] } : grade;
    }

    /// <summary>A comparison as it may be told, of grades that are <see cref="Compared"/>.</summary>
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
            };
    }

    /// <summary>A moderation as it may be told.</summary>
    /// <param name="item">The moderation.</param>
    public ModerationItem Told(ModerationItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        return item with { Report = Report(item.Report) };
    }

    private static GradeLine WithoutHours(GradeLine line) => line.Criterion == CriterionKind.Lateness
        ? line with { Sentence = LatenessDeduction.WithoutHours(line.Points) }
        : line;

    private static GradeLineItem WithoutHours(GradeLineItem line) => line.Criterion == CriterionKind.Lateness
        ? line with { Sentence = LatenessDeduction.WithoutHours((decimal)(line.Moderation?.Computed ?? line.Points)) }
        : line;
}
