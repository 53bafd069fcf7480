using System.Globalization;
using Derivid.Contracts;
using Derivid.Core.Teaching.Grading;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Puts a percentage beside everybody of a roster, whether they handed anything in or not.</summary>
/// <param name="courses">The rosters.</param>
/// <param name="handOuts">The unknowns handed out.</param>
/// <param name="reports">The reports.</param>
/// <param name="gradings">The grades.</param>
public sealed class Gradebooks(Store.Teaching.Courses courses, HandOuts handOuts, Reports reports, Gradings gradings)
{
    /// <summary>The columns of a gradebook as a file.</summary>
    public static IReadOnlyList<string> Columns { get; } = ["student", "status", "percentage", "late", "missing", "feedback"];

    /// <summary>Fetches one.</summary>
    /// <param name="course">The course.</param>
    /// <param name="grading">The grading, finished.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<GradebookItem> ReadAsync(Course course, Grading grading, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(course);
        ArgumentNullException.ThrowIfNull(grading);
        var roster = await courses.RosterAsync(course.Id, cancellationToken);
        var unknowns = (await handOuts.AssignmentsAsync(course.Id, course.HandOutNumber, null, cancellationToken))
            .ToLookup(row => row.StudentKey, StringComparer.Ordinal);
        var handedIn = (await reports.CountedAsync(course.Id, course.HandOutNumber, countsBest: false, cancellationToken))
            .Select(row => (row.StudentKey, row.Number)).ToHashSet();
        var all = await gradings.GradesAsync(grading, null, null, Reports.All, cancellationToken);
        var counting = ReportGrading.Counting(grading, all);
        var graded = all.Where(row => counting.Contains(row.Place)).ToDictionary(row => (row.Assignment.StudentKey, row.Report.Number));

        // Where the best attempt counts, one that isn't graded to the end may yet be it.
        var waiting = all.Where(row => !IsSettled(GradeItem.Of(row, tellsIdentities: false, counts: true)))
            .Select(row => (row.Assignment.StudentKey, row.Report.Number)).ToHashSet();
        var deadlines = ReportGrading.DeadlinesOf(grading);
        return new GradebookItem(
            grading.Id,
            course.PublishedGradingId == grading.Id,
            grading.MissingCountsZero,
            course.IsPractice,
            [.. roster.Select(student => Row(student.StudentKey, course.IsPractice, [
                .. unknowns[student.StudentKey].OrderBy(row => row.Number).Select(row => Marked(
                    row,
                    handedIn.Contains((row.HolderKey, row.Number)),
                    graded.GetValueOrDefault((row.StudentKey, row.Number)),
                    !waiting.Contains((row.StudentKey, row.Number)),
                    grading,
                    deadlines)),
            ]))]);
    }

    /// <summary>Writes one as a CSV file.</summary>
    /// <param name="book">The gradebook.</param>
    public static string Csv(GradebookItem book)
    {
        ArgumentNullException.ThrowIfNull(book);
        return CsvText.Write(Columns, book.Students.Select(row => new string?[]
        {
            row.Student,
            Words(row.Status),
            row.Percentage?.ToString(CultureInfo.InvariantCulture),
            row.IsLate ? "true" : "false",
            row.IsMissing ? "true" : "false",
            row.Feedback,
        }));
    }

    /// <summary>How far a student is graded, as OneRoster names it where it has a name for it.</summary>
    /// <param name="status">How far.</param>
    internal static string Words(GradebookStatus status) => status switch
    {
        GradebookStatus.NoUnknown => "no unknown",
        GradebookStatus.NotSubmitted => "not submitted",
        GradebookStatus.Submitted => "submitted",
        GradebookStatus.PartiallyGraded => "partially graded",
        _ => "fully graded",
    };

    /// <summary>Puts the unknowns of a student together.</summary>
    /// <param name="student">The student.</param>
    /// <param name="isPractice">Whether the course is for practice, so that there is neither percentage nor points.</param>
    /// <param name="unknowns">Their unknowns, in order.</param>
    public static GradebookRow Row(string student, bool isPractice, IReadOnlyList<MarkedUnknown> unknowns)
    {
        var counted = unknowns.Select(unknown => unknown.Percentage).OfType<decimal>().ToList();
        var isGraded = unknowns.Any(unknown => unknown is { IsHandedIn: true, Percentage: not null });
        var status = unknowns.Count == 0 ? GradebookStatus.NoUnknown
            : !unknowns.Any(unknown => unknown.IsHandedIn) ? GradebookStatus.NotSubmitted
            : !isGraded ? GradebookStatus.Submitted
            : unknowns.All(unknown => unknown.IsDone) ? GradebookStatus.FullyGraded
            : GradebookStatus.PartiallyGraded;
        return new GradebookRow(
            student,
            status,
            isPractice || counted.Count == 0 ? null : (double)Math.Round(counted.Average(), 2, MidpointRounding.AwayFromZero),
            unknowns.Any(unknown => unknown.IsLate),
            unknowns.Any(unknown => !unknown.IsHandedIn),
            isPractice ? StudentSentences.ForPractice() : unknowns.Count == 0 ? StudentSentences.NoUnknown() : string.Join(' ', unknowns.Select(unknown => unknown.Feedback)));
    }

    private static MarkedUnknown Marked(Assignment assignment, bool isHandedIn, GradedReport? graded, bool isSettled, Grading grading, Deadlines deadlines)
    {
        var name = StudentSentences.Unknown(assignment.Number, assignment.Code);
        if (!isHandedIn)
        {
            return new MarkedUnknown(
                false,
                grading.MissingCountsZero ? 0 : null,
                grading.MissingCountsZero,
                false,
                StudentSentences.NothingHandedIn(name, grading.MissingCountsZero));
        }

        if (graded is null)
        {
            return new MarkedUnknown(true, null, false, false, StudentSentences.NotInGrading(name));
        }

        // What stands here is for the student, whoever asks for it.
        var grade = GradeItem.Of(graded, tellsIdentities: false, counts: true);
        var isLate = graded.Report.HandedInAtUtc is { } at && deadlines.LatenessOf(graded.Report.StudentKey, at) > TimeSpan.Zero;
        if (grade is not { Total: { } total, Maximum: { } maximum, Lines: { } lines })
        {
            return new MarkedUnknown(true, null, false, isLate, StudentSentences.NotGradedYet(name, grade.Problem));
        }

        var texts = lines.Select(GradeCsv.Why).Append(grade.Comment ?? "").Select(OneLine).Where(text => text.Length > 0);
        return new MarkedUnknown(
            true,
            maximum > 0 ? 100 * (decimal)total / (decimal)maximum : null,
            isSettled,
            isLate,
            StudentSentences.Graded(name, grade.Attempt, grading.CountsBest, total, maximum, string.Join(' ', texts)));
    }

    private static bool IsSettled(GradeItem grade) =>
        grade is { Maximum: > 0, Lines: { } lines } && lines.All(line => line.ByHand is null || line.Moderation is not null);

    // Neither OneRoster nor what imports a column of feedback takes line ends in a cell.
    private static string OneLine(string text) => string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
}

/// <summary>What came of one unknown of a student.</summary>
/// <param name="IsHandedIn">Whether a report is handed in on it.</param>
/// <param name="Percentage">What was earned, in hundredths of its most points. Missing: null, it doesn't count.</param>
/// <param name="IsDone">Whether nothing is left to be graded.</param>
/// <param name="IsLate">Whether its report was handed in after it was due.</param>
/// <param name="Feedback">What the student may read of it, in one line.</param>
public sealed record MarkedUnknown(bool IsHandedIn, decimal? Percentage, bool IsDone, bool IsLate, string Feedback);
