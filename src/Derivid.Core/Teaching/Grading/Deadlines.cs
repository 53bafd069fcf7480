namespace Derivid.Core.Teaching.Grading;

/// <summary>When the reports of a course are due, for each of its students.</summary>
/// <param name="DueAtUtc">When they are due. Units: UTC. Missing: null, none is late.</param>
/// <param name="GraceMinutes">Minutes after that which are not late yet. Lateness begins when they are over.</param>
/// <param name="Extended">
/// When they are due for students who have longer, by identifier; for a group by that of the student its reports are kept under. Units: UTC.
/// </param>
public sealed record Deadlines(DateTime? DueAtUtc, int GraceMinutes, IReadOnlyDictionary<string, DateTime> Extended)
{
    /// <summary>When a student's reports are due: their own time, unless the course's is later.</summary>
    /// <param name="student">The student.</param>
    /// <returns>Units: UTC. Missing: null, they are never late.</returns>
    public DateTime? DueOf(string student) =>
        Extended.TryGetValue(student, out var own) && own > DueAtUtc ? own : DueAtUtc;

    /// <summary>How late a report is.</summary>
    /// <param name="student">The student.</param>
    /// <param name="handedInAtUtc">When it was handed in. Units: UTC.</param>
    /// <returns>Zero, in time; else from the end of the grace on.</returns>
    public TimeSpan LatenessOf(string student, DateTime handedInAtUtc) =>
        DueOf(student)?.AddMinutes(GraceMinutes) is { } end && handedInAtUtc > end ? handedInAtUtc - end : TimeSpan.Zero;
}
