using Derivid.Store.Access;

namespace Derivid.Store.Teaching;

/// <summary>A class: what its unknowns are taken from, what its laboratory offers and how its reports are taken.</summary>
/// <remarks>
/// Its row is never deleted: what its roster and its staff ever named hangs on it, and examinations have to know that. Everything but its
/// id and its making may change; each change raises <see cref="Revision"/>.
/// </remarks>
public sealed class Course
{
    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>The name shown.</summary>
    public required string Name { get; set; }

    /// <summary>Number of the table version the course holds to: handing out, rankings and grades use it.</summary>
    public required int TableVersion { get; set; }

    /// <summary>The parents that can be unknowns.</summary>
    public required IReadOnlyList<string> ShelfKeys { get; set; }

    /// <summary>The derivative kinds that can be made.</summary>
    public required IReadOnlyList<string> KindKeys { get; set; }

    /// <summary>The spot tests that can be run.</summary>
    public required IReadOnlyList<string> SpotTestKeys { get; set; }

    /// <summary>Whether the boiling point of the unknown is taken.</summary>
    public bool TakesBoilingPoint { get; set; }

    /// <summary>Whether the melting point of a solid unknown is taken.</summary>
    public bool TakesMeltingPoint { get; set; }

    /// <summary>Half width of the tolerance window in the course's rankings. Units: °C.</summary>
    public required double WindowCelsius { get; set; }

    /// <summary>The rubric that grades when a request brings none, as JSON.</summary>
    public required string RubricJson { get; set; }

    /// <summary>When reports are due. Units: UTC. Missing: null, none is late.</summary>
    public DateTime? DueAtUtc { get; set; }

    /// <summary>From when on no report is taken. Units: UTC. Missing: null, until grades are published.</summary>
    public DateTime? ClosesAtUtc { get; set; }

    /// <summary>Reports that may be handed in for one unknown.</summary>
    public required int MostAttempts { get; set; }

    /// <summary>Minutes after a report is due that are not late.</summary>
    public int GraceMinutes { get; set; }

    /// <summary>Whether of several reports on one unknown the best counts; else the last.</summary>
    public bool CountsBest { get; set; }

    /// <summary>Whether a student sees the engine's ranking of their own report.</summary>
    public bool ShowsRanking { get; set; }

    /// <summary>Whether class and readings are invented, for showing the service.</summary>
    public bool IsInvented { get; init; }

    /// <summary>The hand-out in force. Missing: 0, nothing is handed out yet.</summary>
    public int HandOutNumber { get; set; }

    /// <summary>The grading whose grades students see. Missing: null, none yet; reports are still taken.</summary>
    public string? PublishedGradingId { get; set; }

    /// <summary>Whether the service identifies nothing for its students while it takes their reports.</summary>
    public bool IsExamination { get; set; }

    /// <summary>Whether it is for practice: what was handed out is told to whoever has handed in on it, and nothing counts.</summary>
    public bool IsPractice { get; set; }

    /// <summary>Whether its staff aren't told whose a report is until its grades are published. Settled by the hand-out.</summary>
    public bool IsMarkedAnonymously { get; set; }

    /// <summary>Whether the table may learn from its reports once they are no secret: rates, colours and measured values, nothing of any student.</summary>
    public bool IsLearnedFrom { get; set; }

    /// <summary>When grades were first published. Units: UTC. Missing: null, they weren't, or by a build that didn't take it down.</summary>
    public DateTime? PublishedAtUtc { get; set; }

    /// <summary>Since when it is archived: read, and not changed. Units: UTC. Missing: null, it isn't.</summary>
    public DateTime? ArchivedAtUtc { get; set; }

    /// <summary>When it was deleted: from then on it is as if it were not there. Units: UTC. Missing: null, it wasn't.</summary>
    public DateTime? DeletedAtUtc { get; set; }

    /// <summary>Raised by each change, from 1.</summary>
    public required int Revision { get; set; }

    /// <summary>When it was made. Units: UTC.</summary>
    public required DateTime CreatedAtUtc { get; init; }

    /// <summary>Whether whose a report is stays untold: it is marked anonymously, and grades were never published.</summary>
    public bool IsMarkedBlind => IsMarkedAnonymously && PublishedGradingId is null;

    /// <summary>Whether it takes reports: unknowns are handed out, no grades are published and it hasn't closed.</summary>
    /// <param name="now">When. Units: UTC.</param>
    /// <param name="ownDueAtUtc">When they are due for a student who has longer. Units: UTC. Missing: null.</param>
    public bool TakesReportsAt(DateTime now, DateTime? ownDueAtUtc) =>
        HandOutNumber > 0 && PublishedGradingId is null && !(ClosesFor(ownDueAtUtc) <= now);

    /// <summary>Whether it is an examination that has closed: its students may have asked the engine since, so it takes up no report it wouldn't have taken.</summary>
    /// <param name="now">When. Units: UTC.</param>
    public bool IsSat(DateTime now) => IsExamination && HandOutNumber > 0 && ClosesAtUtc <= now;

    /// <summary>From when on no report of a student is taken.</summary>
    /// <param name="ownDueAtUtc">When they are due for a student who has longer: no course closes before that. Units: UTC. Missing: null.</param>
    /// <returns>Units: UTC. Missing: null, until grades are published.</returns>
    public DateTime? ClosesFor(DateTime? ownDueAtUtc) =>
        ownDueAtUtc?.AddMinutes(GraceMinutes) is { } own && own > ClosesAtUtc ? own : ClosesAtUtc;
}

/// <summary>A student of a course.</summary>
/// <remarks>Never deleted: one who leaves is no longer enrolled, and their reports stay.</remarks>
public sealed class CourseStudent
{
    /// <summary>The course.</summary>
    public required string CourseId { get; init; }

    /// <summary>The institution's own identifier.</summary>
    public required string StudentKey { get; init; }

    /// <summary>The bench. Missing: null, no fixed place.</summary>
    public string? Bench { get; set; }

    /// <summary>Place along the bench. Missing: null, no fixed place.</summary>
    public int? Place { get; set; }

    /// <summary>Students they work in sight of although the places don't say so.</summary>
    public required IReadOnlyList<string> Neighbours { get; set; }

    /// <summary>The group they work in at the next hand-out; who shares an unknown handed out stands in <see cref="Assignment"/>. Missing: null, alone.</summary>
    public string? GroupName { get; set; }

    /// <summary>Who they are when they call the service: "key:…" or "sign-in:…". Missing: null, they don't.</summary>
    public string? Actor { get; set; }

    /// <summary>When their reports are due, where they have longer than the course gives. Units: UTC. Missing: null, they haven't.</summary>
    public DateTime? DueAtUtc { get; set; }

    /// <summary>Whether they still belong to the course.</summary>
    public required bool IsEnrolled { get; set; }
}

/// <summary>Whoever a roster names as a student, or once did.</summary>
/// <remarks>
/// Kept when the roster names somebody else: a key may be good for another course still, a sign-in is good for as long as the
/// institution says, and an examination has to know both.
/// </remarks>
public sealed class CourseActor
{
    /// <summary>The course.</summary>
    public required string CourseId { get; init; }

    /// <summary>The student's identifier there.</summary>
    public required string StudentKey { get; init; }

    /// <summary>Who they are when they call the service: "key:…" or "sign-in:…".</summary>
    public required string Actor { get; init; }

    /// <summary>Whether it is a key that the course gave them.</summary>
    public required bool IsGivenHere { get; init; }
}

/// <summary>An examination that keeps a caller from the engine.</summary>
/// <param name="Course">The examination.</param>
/// <param name="IsNamed">Whether a roster names them as who sits it; else none names them at all, so that they may be anybody.</param>
/// <param name="ClosesAtUtc">From when on it takes no report of anybody. Units: UTC. Missing: null, until grades are published.</param>
public sealed record SatExamination(Course Course, bool IsNamed, DateTime? ClosesAtUtc);

/// <summary>Somebody of the staff of a course.</summary>
/// <remarks>Never deleted: one who leaves is no longer serving.</remarks>
public sealed class CourseStaff
{
    /// <summary>The course.</summary>
    public required string CourseId { get; init; }

    /// <summary>Who they are when they call the service: "key:…" or "sign-in:…".</summary>
    public required string Actor { get; init; }

    /// <summary>Whether they say who else is of the staff.</summary>
    public required bool IsOwner { get; set; }

    /// <summary>Whether they still belong to it.</summary>
    public required bool IsServing { get; set; }
}

/// <summary>A key for a student of a course.</summary>
/// <param name="StudentKey">The student.</param>
/// <param name="Key">The key.</param>
/// <param name="Actor">Who they are with it when they call the service.</param>
public sealed record GivenKey(string StudentKey, ApiKey Key, string Actor);

/// <summary>The courses that the table may learn from.</summary>
/// <param name="Courses">Shape: by when grades were published, those first of which it isn't known.</param>
/// <param name="Willing">How many opted in and are published, those among them that wait for unknowns that are open.</param>
/// <param name="OpenSinceUtc">When the first of all unknowns that are open was handed out. Units: UTC. Missing: null, none is open.</param>
public sealed record LearnableCourses(IReadOnlyList<Course> Courses, int Willing, DateTime? OpenSinceUtc);

/// <summary>What a course had when it was deleted.</summary>
/// <param name="Reports">Reports deleted, drafts too.</param>
/// <param name="Gradings">Gradings deleted.</param>
/// <param name="Keys">Keys revoked that it had given its students.</param>
public sealed record DeletedCourse(int Reports, int Gradings, int Keys);

/// <summary>What a write to a course can run up against.</summary>
public enum CourseRule
{
    /// <summary>Whoever asks for it is not of its staff any more, or not its student.</summary>
    NotYours,

    /// <summary>It was changed since it was read.</summary>
    Stale,

    /// <summary>Reports are handed in, so unknowns can't be handed out anew.</summary>
    ReportsHandedIn,

    /// <summary>The report is handed in, so it can't be changed.</summary>
    HandedIn,

    /// <summary>Another draft for the assignment is open.</summary>
    DraftOpen,

    /// <summary>No attempt is left.</summary>
    AttemptsUsed,

    /// <summary>The course takes no reports any more.</summary>
    Closed,

    /// <summary>Somebody would be of its staff and its student.</summary>
    StaffAndStudent,

    /// <summary>Students with an actor or unknowns would fall out of its roster, or become somebody else.</summary>
    DropsStudents,

    /// <summary>It still takes reports, so it can't be archived.</summary>
    Open,

    /// <summary>It isn't archived, or being graded, so it can't be deleted.</summary>
    NotArchived,

    /// <summary>It is archived, so nothing of it changes.</summary>
    Archived,

    /// <summary>It is marked anonymously, and somebody would become a student whose reports they could read by name.</summary>
    MarkedBlind,

    /// <summary>It is marked anonymously, and reports that count are missing in what would be published first.</summary>
    Lacking,

    /// <summary>Reports could still come in time, and none is taken once grades are published.</summary>
    BeforeDue,
}

/// <summary>A write ran up against a rule of the course; nothing was changed.</summary>
/// <param name="rule">The rule.</param>
/// <param name="sentence">What is the case, and what to do.</param>
/// <param name="each">What is the case with each student. Missing: null, it is about none of them.</param>
public sealed class CourseRuleException(CourseRule rule, string sentence, IReadOnlyList<string>? each = null) : Exception(sentence)
{
    /// <summary>What is the case with each student. Missing: null, it is about none of them.</summary>
    public IReadOnlyList<string>? Each { get; } = each;

    /// <summary>The rule.</summary>
    public CourseRule Rule { get; } = rule;
}
