using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using System.Text.Json.Serialization;
using Derivid.Core.Teaching.ClassView;
using Derivid.Core.Teaching.Grading;
using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Contracts;

/// <summary>Which reports to grade, and by what. All of it may be left out.</summary>
public sealed record GradingRequest
{
    /// <summary>The reports, by id; each must be the one that counts for its unknown. Missing: all that count.</summary>
    [MinLength(1)]
    [MaxLength(8000)]
    public IReadOnlyList<string>? Reports { get; init; }

    /// <summary>Those of these students only, and so of their groups, by marking code while they are marked anonymously. Missing: of all.</summary>
    [MinLength(1)]
    [MaxLength(2000)]
    public IReadOnlyList<string>? Students { get; init; }

    /// <summary>The rubric; see /api/v1/schemas/rubric. Missing: the course's.</summary>
    public JsonElement? Rubric { get; init; }

    /// <summary>Version of the reference table. Missing: the course's.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }

    /// <summary>
    /// Whether an unknown on which nothing was handed in counts as 0 in the gradebook; else it is left out, and a student with none
    /// handed in has no percentage. Missing: yes.
    /// </summary>
    public bool? MissingCountsZero { get; init; }
}

/// <summary>A grading and how far it is.</summary>
/// <param name="Id">Its id.</param>
/// <param name="State">How far it is.</param>
/// <param name="Done">Reports done.</param>
/// <param name="Total">Reports in all.</param>
/// <param name="TableVersion">Version of the reference table it grades by.</param>
/// <param name="ModelVersion">Version of the ranking model it grades by.</param>
/// <param name="Rubric">The rubric it grades by, every default written out.</param>
/// <param name="DueAt">When the reports were due (RFC 3339, UTC). Missing: none is late.</param>
/// <param name="CreatedAt">When it was asked for (RFC 3339, UTC).</param>
/// <param name="FinishedAt">When it ended (RFC 3339, UTC). Missing: it is under way.</param>
public sealed record GradingStatus(
    string Id,
    GradingState State,
    int Done,
    int Total,
    int TableVersion,
    string ModelVersion,
    JsonElement Rubric,
    DateTime? DueAt,
    DateTime CreatedAt,
    DateTime? FinishedAt)
{
    /// <summary>Minutes after the reports were due that were not late.</summary>
    public required int GraceMinutes { get; init; }

    /// <summary>Which of several reports on one unknown counts.</summary>
    public required CountedAttempt CountedAttempt { get; init; }

    /// <summary>Whether an unknown on which nothing was handed in counts as 0 in the gradebook; else it is left out.</summary>
    public required bool MissingCountsZero { get; init; }

    /// <summary>
    /// Whether an earlier request of the same idempotency key started it, so that what was handed in since is not in it. Missing: no, or
    /// it was not asked for just now.
    /// </summary>
    public bool? IsEarlier { get; init; }

    /// <summary>The reports that count, or may where the best does, and are not in the grading.</summary>
    /// <param name="reports">The reports handed in on the hand-out in force.</param>
    /// <param name="grades">The grades of the grading.</param>
    public IReadOnlyList<ReportItem> Lacking(IEnumerable<ReportItem> reports, IEnumerable<GradeItem> grades)
    {
        var graded = grades.Select(grade => grade.Report).ToHashSet(StringComparer.Ordinal);
        var most = CountedAttempt == CountedAttempt.Best ? int.MaxValue : 1;
        return [.. reports.GroupBy(report => (report.Whose, report.Number))
            .SelectMany(attempts => attempts.OrderByDescending(report => report.Attempt).Take(most))
            .Where(report => !graded.Contains(report.Id))];
    }
}

/// <summary>How far a grading is.</summary>
public enum GradingState
{
    /// <summary>Under way, or waiting its turn.</summary>
    Running,

    /// <summary>Every report is done.</summary>
    Finished,
}

/// <summary>One line of a grading that is watched.</summary>
/// <param name="Id">The grading.</param>
/// <param name="State">How far it is.</param>
/// <param name="Done">Reports done.</param>
/// <param name="Total">Reports in all.</param>
public sealed record GradingProgress(string Id, GradingState State, int Done, int Total);

/// <summary>The grade of a report for one student; a report of a group has one for each of its members.</summary>
public sealed record GradeItem
{
    /// <summary>The report.</summary>
    public required string Report { get; init; }

    /// <summary>The student. Missing: it is marked anonymously, and grades are not published.</summary>
    public string? Student { get; init; }

    /// <summary>
    /// The student's marking code, one a group, the same before and after publication. Missing: the course isn't marked anonymously, or you are its
    /// student.
    /// </summary>
    public string? MarkingCode { get; init; }

    /// <summary>Whose it is: the student, else their marking code.</summary>
    [JsonIgnore]
    public string Whose => Student ?? MarkingCode ?? "";

    /// <summary>Number of the unknown among the student's.</summary>
    public required int Number { get; init; }

    /// <summary>The code of the unknown. Missing: its student is not told, whose label has it.</summary>
    public string? Code { get; init; }

    /// <summary>Which unknown it is of: its code, else its number among the student's.</summary>
    [JsonIgnore]
    public string Unknown => Code ?? FormattableString.Invariant($"unknown {Number}");

    /// <summary>Which attempt was graded.</summary>
    public required int Attempt { get; init; }

    /// <summary>Whether it counts; else another attempt at the unknown does, being better, or the course is for practice.</summary>
    public required bool Counts { get; init; }

    /// <summary>Name of the rubric. Missing: not graded.</summary>
    public string? Rubric { get; init; }

    /// <summary>Version of the reference table. Missing: not graded.</summary>
    public int? TableVersion { get; init; }

    /// <summary>Version of the ranking model. Missing: not graded.</summary>
    public string? ModelVersion { get; init; }

    /// <summary>Version of the marking rules that every rubric shares. Missing: not graded.</summary>
    public int? MarkingRules { get; init; }

    /// <summary>Points in all, with what was changed by hand; never below 0. Missing: not graded.</summary>
    public double? Total { get; init; }

    /// <summary>Most points. Missing: not graded.</summary>
    public double? Maximum { get; init; }

    /// <summary>Every criterion. Missing: not graded.</summary>
    public IReadOnlyList<GradeLineItem>? Lines { get; init; }

    /// <summary>What a person says of the whole report. Missing: nothing.</summary>
    public string? Comment { get; init; }

    /// <summary>Why it could not be graded. Missing: it could, or is not done yet.</summary>
    public string? Problem { get; init; }
}

/// <summary>The points of one criterion and why.</summary>
/// <param name="Criterion">The criterion.</param>
/// <param name="Points">Points that count; below 0 where points are taken.</param>
/// <param name="Maximum">Most points it could give; 0 where it only takes.</param>
/// <param name="Sentence">Why the points worked out are these. For students without what would give the answer away.</param>
public sealed record GradeLineItem(CriterionKind Criterion, double Points, double Maximum, string Sentence)
{
    /// <summary>What a person changed. Missing: the points are those worked out.</summary>
    public LineModeration? Moderation { get; init; }

    /// <summary>Most points a person can give for a criterion that is marked by hand. Missing: it is worked out.</summary>
    public double? ByHand { get; init; }
}

/// <summary>What a person changed about one line of a grade.</summary>
/// <param name="Computed">Points worked out now.</param>
/// <param name="Reason">Why, in the person's words.</param>
/// <param name="IsOutdated">Whether other points were worked out when the person looked, so that it should be looked at again.</param>
public sealed record LineModeration(double Computed, string? Reason, bool IsOutdated);

/// <summary>A line of a grade to be changed by hand, or a comment on the whole report.</summary>
public sealed record ModerationRequest
{
    /// <summary>The criterion. Missing: a comment on the whole report.</summary>
    public CriterionKind? Criterion { get; init; }

    /// <summary>
    /// The one member of a group whom it is for; it stands for them until it is taken back, whatever is given to the group. Refused while the report is
    /// marked anonymously. Missing: all whose report it is.
    /// </summary>
    [StringLength(Roster.LongestKey, MinimumLength = 1)]
    public string? Student { get; init; }

    /// <summary>Points in place of those worked out, within what the criterion can give or take. Missing: a comment, or taken back.</summary>
    [Range(-1000.0, 1000.0)]
    public double? Points { get; init; }

    /// <summary>Whether what was given for the criterion, or the comment, is taken back. Missing: no.</summary>
    public bool? TakesBack { get; init; }

    /// <summary>Why, or the comment; the student reads it once the grading, or one started later, is published, and from then on at once. Missing: only where something is taken back.</summary>
    [StringLength(2000, MinimumLength = 1)]
    public string? Reason { get; init; }

    /// <summary>The grading looked at, by id. Missing: the one published, else the newest that is finished.</summary>
    public string? Grading { get; init; }

    /// <summary>Id of the newest change of this report that was seen, or "none": refused where another came since. Missing: not asked.</summary>
    [StringLength(64, MinimumLength = 1)]
    public string? LastSeen { get; init; }
}

/// <summary>Something changed by hand.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Report">The report.</param>
/// <param name="Grading">The grading looked at; it holds in this one and in those started later.</param>
/// <param name="Criterion">The criterion. Missing: a comment on the whole report.</param>
/// <param name="Points">Points given. Missing: those worked out stand.</param>
/// <param name="Reason">Why, or the comment.</param>
/// <param name="Computed">Points worked out at the time. Missing: a comment.</param>
/// <param name="By">Who did it.</param>
/// <param name="At">When (RFC 3339, UTC).</param>
public sealed record ModerationItem(
    string Id, string Report, string Grading, CriterionKind? Criterion, double? Points, string? Reason, double? Computed, string By, DateTime At)
{
    /// <summary>The one member of a group whom it is for. Missing: all whose report it is.</summary>
    public string? Student { get; init; }

    /// <summary>Whether one made on a grading holds in another: in its own and in those started later, since ids are in the order of time.</summary>
    /// <param name="made">The grading looked at when it was made.</param>
    /// <param name="grading">The other.</param>
    public static bool Holds(string made, string? grading) => string.CompareOrdinal(made, grading) <= 0;
}

/// <summary>Which grades students are to see.</summary>
public sealed record GradePublicationRequest
{
    /// <summary>The grading, by id; it must be finished.</summary>
    public required string Grading { get; init; }

    /// <summary>
    /// Whether it is meant although reports could still come in time, before they are due or by an extension: none is taken any more. Missing: no;
    /// then a first publication is refused as long as one could, and the refusal says until when.
    /// </summary>
    public bool? BeforeDue { get; init; }
}

/// <summary>Two gradings side by side.</summary>
/// <param name="Compared">Reports graded in both.</param>
/// <param name="Changed">Reports whose points or sentences differ.</param>
/// <param name="Items">The reports that differ, by id.</param>
public sealed record GradeComparisonItem(int Compared, int Changed, IReadOnlyList<ComparisonItem> Items);

/// <summary>One report in two gradings.</summary>
/// <param name="Report">The report.</param>
/// <param name="Student">The student, of a group its first member. Missing: they are marked anonymously, and grades are not published.</param>
/// <param name="TotalBefore">Points in the first.</param>
/// <param name="TotalAfter">Points in the second.</param>
/// <param name="TotalDifference">Second less first.</param>
/// <param name="Causes">What the two graded by, where it differs.</param>
/// <param name="Changes">Criteria that differ.</param>
public sealed record ComparisonItem(
    string Report,
    string? Student,
    double TotalBefore,
    double TotalAfter,
    double TotalDifference,
    IReadOnlyList<string> Causes,
    IReadOnlyList<LineChangeItem> Changes)
{
    /// <summary>The student's marking code. Missing: the course isn't marked anonymously.</summary>
    public string? MarkingCode { get; init; }

    /// <summary>Whose it is: the student, else their marking code.</summary>
    [JsonIgnore]
    public string Whose => Student ?? MarkingCode ?? "";
}

/// <summary>What became of one criterion.</summary>
/// <param name="Criterion">The criterion.</param>
/// <param name="Before">In the first grading. Missing: it was not marked.</param>
/// <param name="After">In the second grading. Missing: it was not marked.</param>
public sealed record LineChangeItem(CriterionKind Criterion, GradeLineItem? Before, GradeLineItem? After);

/// <summary>A class seen as a whole.</summary>
/// <param name="TableVersion">Version of the reference table the readings are held against.</param>
/// <param name="Reports">Reports that count.</param>
/// <param name="ByCompound">Deviations of corrected clear points from the literature, by compound handed out.</param>
/// <param name="ByBench">The same by bench; empty while it is marked anonymously.</param>
/// <param name="Suggestions">
/// A thermometer offset common to a bench, or a bad batch: to look into, never a finding. Both are reckoned by benches, so none while it is marked anonymously.
/// </param>
/// <param name="Items">Compounds and criteria, hardest first, with their discrimination. Empty without a grading.</param>
/// <param name="Signals">
/// Ranges and readings an instructor may want to look at, never a verdict; of students by their marking codes while they are marked anonymously.
/// </param>
public sealed record OverviewItem(
    int TableVersion,
    int Reports,
    IReadOnlyList<DeviationSummary> ByCompound,
    IReadOnlyList<DeviationSummary> ByBench,
    IReadOnlyList<Suggestion> Suggestions,
    IReadOnlyList<ItemAnalysis> Items,
    IReadOnlyList<Signal> Signals);

/// <summary>What the list of grades can be asked.</summary>
public sealed record GradeQuery : PageQuery
{
    /// <summary>The grading, by id: for graders and further up. Missing: the one published.</summary>
    public string? Grading { get; init; }

    /// <summary>Grades of one student, by marking code while they are marked anonymously. Missing: of all.</summary>
    public string? Student { get; init; }
}

/// <summary>What the list of moderations can be asked.</summary>
public sealed record ModerationQuery : PageQuery
{
    /// <summary>Those of one report, by id. Missing: of all.</summary>
    public string? Report { get; init; }
}

/// <summary>What the view of a class can be asked.</summary>
public sealed record OverviewQuery
{
    /// <summary>The grading its items are taken from, by id. Missing: the one published, or none.</summary>
    public string? Grading { get; init; }
}

/// <summary>The percentage of everybody of the roster, as a learning system takes it.</summary>
/// <param name="Grading">The grading it is of.</param>
/// <param name="IsPublished">Whether students see that grading.</param>
/// <param name="MissingCountsZero">Whether an unknown on which nothing was handed in counts as 0; else it is left out.</param>
/// <param name="IsPractice">Whether the course is for practice, so that nobody has a percentage.</param>
/// <param name="Students">Everybody of the roster, in its order.</param>
public sealed record GradebookItem(string Grading, bool IsPublished, bool MissingCountsZero, bool IsPractice, IReadOnlyList<GradebookRow> Students);

/// <summary>A student in a gradebook.</summary>
/// <param name="Student">The institution's own identifier.</param>
/// <param name="Status">How far they are graded.</param>
/// <param name="Percentage">
/// The mean of what they earned of each unknown that counts, in hundredths of its most points, rounded to two decimals, halves up.
/// Bounds: 0 to 100. Missing: nothing that counts is graded, or the course is for practice.
/// </param>
/// <param name="IsLate">Whether a report that counts was handed in after it was due.</param>
/// <param name="IsMissing">Whether an unknown of theirs has no report.</param>
/// <param name="Feedback">What the student may read of it all, in one line; it tells nothing of what was handed out.</param>
public sealed record GradebookRow(string Student, GradebookStatus Status, double? Percentage, bool IsLate, bool IsMissing, string Feedback);

/// <summary>How far a student is graded.</summary>
public enum GradebookStatus
{
    /// <summary>No unknown is handed out to them.</summary>
    NoUnknown,

    /// <summary>Nothing is handed in.</summary>
    NotSubmitted,

    /// <summary>Something is handed in, and none of it graded in this grading.</summary>
    Submitted,

    /// <summary>Something is graded, and something else is not, is left out, or waits to be marked by hand.</summary>
    PartiallyGraded,

    /// <summary>All of it is graded, or counts as 0.</summary>
    FullyGraded,
}

/// <summary>What the gradebook can be asked.</summary>
public sealed record GradebookQuery
{
    /// <summary>The grading, by id. Missing: the one published.</summary>
    public string? Grading { get; init; }
}

/// <summary>What OneRoster asks of a result that this service doesn't know: the receiving system's own ids.</summary>
public sealed record OneRosterQuery
{
    /// <summary>Longest id. Units: characters.</summary>
    public const int LongestId = 255;

    /// <summary>SourcedId of the class.</summary>
    [StringLength(LongestId, MinimumLength = 1)]
    public required string ClassSourcedId { get; init; }

    /// <summary>SourcedId of the category that the results belong to, such as that of homework.</summary>
    [StringLength(LongestId, MinimumLength = 1)]
    public required string CategorySourcedId { get; init; }

    /// <summary>SourcedId of the academic session, such as that of the grading period.</summary>
    [StringLength(LongestId, MinimumLength = 1)]
    public required string AcademicSessionSourcedId { get; init; }

    /// <summary>SourcedId of the school.</summary>
    [StringLength(LongestId, MinimumLength = 1)]
    public required string SchoolSourcedId { get; init; }
}
