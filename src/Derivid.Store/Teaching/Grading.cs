namespace Derivid.Store.Teaching;

/// <summary>The grading of many reports under one rubric and one table version: a job that survives the process.</summary>
public sealed class Grading
{
    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>The course.</summary>
    public required string CourseId { get; init; }

    /// <summary>
    /// Names everything a grade depends on beside report and unknown: hash of rubric, table version, model version, version of the
    /// marking rules, what the course offers, due date, grace and extensions. Two gradings of one basis share their grades.
    /// </summary>
    public required string Basis { get; init; }

    /// <summary>The rubric, as JSON.</summary>
    public required string RubricJson { get; init; }

    /// <summary>The table version.</summary>
    public required int TableVersion { get; init; }

    /// <summary>The version of the ranking model.</summary>
    public required string ModelVersion { get; init; }

    /// <summary>The derivative kinds the course offered. Shape: empty where it named none.</summary>
    public required IReadOnlyList<string> KindKeys { get; init; }

    /// <summary>The spot tests the course offered. Shape: empty where it named none.</summary>
    public required IReadOnlyList<string> SpotTestKeys { get; init; }

    /// <summary>When the reports were due. Units: UTC. Missing: null, none is late.</summary>
    public DateTime? DueAtUtc { get; init; }

    /// <summary>Minutes after that which were not late.</summary>
    public int GraceMinutes { get; init; }

    /// <summary>When they were due for students who had longer, as a JSON object by identifier. Missing: null, nobody had.</summary>
    public string? ExtensionsJson { get; init; }

    /// <summary>Whether of several reports on one unknown the best counts, and all are graded; else the last, which alone is.</summary>
    public bool CountsBest { get; init; }

    /// <summary>Whether an unknown on which nothing was handed in counts as 0 in the gradebook; else it is left out.</summary>
    public bool MissingCountsZero { get; init; }

    /// <summary>Number of reports.</summary>
    public required int Total { get; init; }

    /// <summary>When it was asked for. Units: UTC.</summary>
    public required DateTime CreatedAtUtc { get; init; }

    /// <summary>Until when one process has it to itself. Units: UTC. Missing: null, nobody has it.</summary>
    public DateTime? LeasedUntilUtc { get; set; }

    /// <summary>When its last report was done. Units: UTC. Missing: null, it is under way.</summary>
    public DateTime? FinishedAtUtc { get; set; }
}

/// <summary>One report of a grading.</summary>
public sealed class GradingEntry
{
    /// <summary>The grading.</summary>
    public required string GradingId { get; init; }

    /// <summary>The report.</summary>
    public required string ReportId { get; init; }

    /// <summary>Whether it is done: its grade is stored, or <see cref="Problem"/> says why there is none.</summary>
    public bool IsDone { get; set; }

    /// <summary>Why it could not be graded. Missing: null, it could or isn't done yet.</summary>
    public string? Problem { get; set; }
}

/// <summary>The grade of one report on one basis. Never changed: another basis is another grade.</summary>
/// <param name="ReportId">The report.</param>
/// <param name="Basis">What it rests on; see <see cref="Grading.Basis"/>.</param>
/// <param name="GradeJson">Every criterion with points and sentence, as JSON.</param>
/// <param name="Total">Points in all.</param>
/// <param name="Maximum">Most points.</param>
/// <param name="GradedAtUtc">When. Units: UTC.</param>
public sealed record CourseGrade(
    string ReportId, string Basis, string GradeJson, double Total, double Maximum, DateTime GradedAtUtc);

/// <summary>One report of a grading with its grade, if it has one, as it is one student's.</summary>
/// <param name="Report">The report.</param>
/// <param name="Assignment">What it is about, and whose: of a report of a group one of its members'.</param>
/// <param name="Grade">Its grade. Missing: null, not done yet, or it could not be graded.</param>
/// <param name="Problem">Why it could not be graded. Missing: null.</param>
public sealed record GradedReport(CourseReport Report, Assignment Assignment, CourseGrade? Grade, string? Problem)
{
    /// <summary>What persons changed about the report's grade for this student. Shape: oldest first.</summary>
    public IReadOnlyList<StoredModeration> Moderations { get; init; } = [];

    /// <summary>Whether it stands for the report itself, of whose rows there is one such; the others are of further members of a group.</summary>
    public bool IsOfHolder => Assignment.StudentKey == Report.StudentKey;

    /// <summary>Its place in a list of grades.</summary>
    public GradePlace Place => new(Report.Id, Assignment.StudentKey);
}

/// <summary>The place of a grade in a list of them.</summary>
/// <param name="ReportId">The report.</param>
/// <param name="StudentKey">Whose of those who share it.</param>
public sealed record GradePlace(string ReportId, string StudentKey);

/// <summary>A report beside what it is about.</summary>
/// <param name="Report">The report.</param>
/// <param name="ParentKey">The compound handed out.</param>
public sealed record ReportToGrade(CourseReport Report, string ParentKey);

/// <summary>A grading and how far it is.</summary>
/// <param name="Grading">The grading.</param>
/// <param name="Done">Reports done.</param>
public sealed record GradingDone(Grading Grading, int Done);
