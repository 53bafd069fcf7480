using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using Derivid.Core.Observations;
using Derivid.Core.Teaching;
using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Contracts;

/// <summary>A course as its instructor describes it.</summary>
public sealed record CourseRequest
{
    /// <summary>Most characters of a name.</summary>
    public const int LongestName = 100;

    /// <summary>Longest grace: a week. Units: minutes.</summary>
    public const int MostGraceMinutes = 7 * 24 * 60;

    /// <summary>Its name.</summary>
    [StringLength(LongestName)]
    public required string Name { get; init; }

    /// <summary>Version of the reference table the course holds to. Missing: the current one.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }

    /// <summary>The parents that can be unknowns: keys, names, synonyms or CAS numbers.</summary>
    [MinLength(1)]
    [MaxLength(1000)]
    public required IReadOnlyList<string> ShelfList { get; init; }

    /// <summary>The derivative kinds that can be made; others earn nothing. Missing: none is named, and all of the table's count.</summary>
    [MaxLength(16)]
    public IReadOnlyList<string>? DerivativeKinds { get; init; }

    /// <summary>The spot tests that can be run; others earn nothing. Missing: none is named, and all of the table's count.</summary>
    [MaxLength(40)]
    public IReadOnlyList<string>? SpotTests { get; init; }

    /// <summary>Whether the boiling point of the unknown is taken. Missing: no.</summary>
    public bool? TakesBoilingPoint { get; init; }

    /// <summary>Whether the melting point of a solid unknown is taken. Missing: no.</summary>
    public bool? TakesMeltingPoint { get; init; }

    /// <summary>Half width of the tolerance window in the course's rankings. Units: °C. Missing: 5.</summary>
    [Range(Observation.NarrowestWindowCelsius, Observation.WidestWindowCelsius)]
    public double? WindowCelsius { get; init; }

    /// <summary>The rubric that grades when a grading brings none; see /api/v1/schemas/rubric. Missing: the usual one.</summary>
    public JsonElement? Rubric { get; init; }

    /// <summary>When reports are due (RFC 3339), such as "2026-10-23T17:00:00+02:00". Missing: none is late.</summary>
    public DateTimeOffset? DueAt { get; init; }

    /// <summary>From when on no report is taken (RFC 3339), not before it is due. Missing: until grades are published.</summary>
    public DateTimeOffset? ClosesAt { get; init; }

    /// <summary>Minutes after a report is due that are not late; lateness is counted from their end. Missing: 0.</summary>
    [Range(0, MostGraceMinutes)]
    public int? GraceMinutes { get; init; }

    /// <summary>Reports that may be handed in for one unknown. Missing: 1.</summary>
    [Range(1, 20)]
    public int? MostAttempts { get; init; }

    /// <summary>Which of several reports on one unknown counts. Missing: the last.</summary>
    public CountedAttempt? CountedAttempt { get; init; }

    /// <summary>Whether a student sees the engine's ranking of their own report. Missing: no.</summary>
    public bool? ShowsRanking { get; init; }

    /// <summary>Whether class and readings are invented, for showing the service. It can't be changed later. Missing: no.</summary>
    public bool? IsInvented { get; init; }

    /// <summary>
    /// Whether it is an examination: while it takes reports, the service identifies nothing for its students and shows them no
    /// ranking. Missing: no.
    /// </summary>
    public bool? IsExamination { get; init; }

    /// <summary>
    /// Whether it is for practice: whoever has handed in a report on an unknown is told what it was, and nothing counts, neither in the
    /// gradebook nor for a learning system. It can't be changed once unknowns are handed out, and no examination is. Missing: no.
    /// </summary>
    public bool? IsPractice { get; init; }

    /// <summary>
    /// Whether its staff, administrators among them, aren't told whose a report is until its grades are published: reports, grades and the
    /// class view have a marking code a student instead, and students alone write reports. It can't be changed once unknowns are handed out,
    /// and no course for practice is. Missing: no.
    /// </summary>
    public bool? IsMarkedAnonymously { get; init; }

    /// <summary>
    /// Whether the table may learn from its reports once grades are published: rates of spot tests, colours and melting ranges, each from
    /// five students at least and with other courses, and nothing of any student. Its students see whether it is so. An owner's to change, at any
    /// time; what a released version learned stays in that version. Missing: no.
    /// </summary>
    public bool? IsLearnedFrom { get; init; }
}

/// <summary>A course. Its students are told less of it than graders, instructors and administrators are.</summary>
public sealed record CourseItem
{
    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>Its name.</summary>
    public required string Name { get; init; }

    /// <summary>Who you are in it. Missing: you are no student of it.</summary>
    public string? Student { get; init; }

    /// <summary>Version of the reference table the course holds to.</summary>
    public required int TableVersion { get; init; }

    /// <summary>The parents that can be unknowns, by key.</summary>
    public required IReadOnlyList<string> ShelfList { get; init; }

    /// <summary>The derivative kinds that can be made, by key.</summary>
    public required IReadOnlyList<string> DerivativeKinds { get; init; }

    /// <summary>The spot tests that can be run, by key.</summary>
    public required IReadOnlyList<string> SpotTests { get; init; }

    /// <summary>Whether the boiling point of the unknown is taken. Missing: you are a student of it.</summary>
    public bool? TakesBoilingPoint { get; init; }

    /// <summary>Whether the melting point of a solid unknown is taken. Missing: you are a student of it.</summary>
    public bool? TakesMeltingPoint { get; init; }

    /// <summary>Half width of the tolerance window in the course's rankings. Units: °C. Missing: you are a student of it.</summary>
    public double? WindowCelsius { get; init; }

    /// <summary>The rubric, as in its schema: what earns points in the course, told to its students too. Missing: no.</summary>
    public JsonElement? Rubric { get; init; }

    /// <summary>When reports are due (RFC 3339, UTC). Missing: none is late.</summary>
    public DateTime? DueAt { get; init; }

    /// <summary>From when on no report is taken (RFC 3339, UTC). Missing: until grades are published.</summary>
    public DateTime? ClosesAt { get; init; }

    /// <summary>Minutes after a report is due that are not late.</summary>
    public required int GraceMinutes { get; init; }

    /// <summary>
    /// When your own reports are due (RFC 3339, UTC), later than the others'; until then they are taken. Of a group the latest of its
    /// members'. Missing: you have no extension, or are no student of it.
    /// </summary>
    public DateTime? ExtendedTo { get; init; }

    /// <summary>Reports that may be handed in for one unknown.</summary>
    public required int MostAttempts { get; init; }

    /// <summary>Which of several reports on one unknown counts.</summary>
    public required CountedAttempt CountedAttempt { get; init; }

    /// <summary>Whether a student sees the engine's ranking of their own report.</summary>
    public required bool ShowsRanking { get; init; }

    /// <summary>Whether grades are published. Missing: you are no student of it, and are told which.</summary>
    public bool? AreGradesPublished { get; init; }

    /// <summary>Whether class and readings are invented, for showing the service.</summary>
    public required bool IsInvented { get; init; }

    /// <summary>The hand-out in force. Missing: nothing is handed out yet, or you are a student of it.</summary>
    public int? HandOut { get; init; }

    /// <summary>
    /// The grading whose grades students see. Missing: none is published and reports are still taken, or you are a student
    /// of it.
    /// </summary>
    public string? PublishedGrading { get; init; }

    /// <summary>When it was made (RFC 3339, UTC). Missing: you are a student of it.</summary>
    public DateTime? CreatedAt { get; init; }

    /// <summary>Whether the service identifies nothing for its students while it takes their reports.</summary>
    public required bool IsExamination { get; init; }

    /// <summary>Whether it is for practice: what an unknown was is told once a report on it is handed in, and nothing counts.</summary>
    public required bool IsPractice { get; init; }

    /// <summary>Whether its staff aren't told whose a report is until its grades are published.</summary>
    public required bool IsMarkedAnonymously { get; init; }

    /// <summary>Whether the table may learn from its reports once grades are published, by counts and means that tell of no student.</summary>
    public required bool IsLearnedFrom { get; init; }

    /// <summary>Since when it is archived (RFC 3339, UTC): it is read, and nothing of it changes. Missing: it isn't.</summary>
    public DateTime? ArchivedAt { get; init; }

    /// <summary>
    /// What its instructor should know of the service it runs on, what guessing gains where the best attempt counts, and which points
    /// of the rubric can't be earned of which compounds of the shelf, with what to change; where it is marked anonymously, how far its
    /// vials tell all the same whose a report is. Missing: nothing, or you are a student of it.
    /// </summary>
    public IReadOnlyList<string>? Warnings { get; init; }
}

/// <summary>Whether a course is archived.</summary>
public sealed record ArchiveRequest
{
    /// <summary>Whether it is to be; else it is taken out of the archive.</summary>
    public required bool IsArchived { get; init; }
}

/// <summary>What became of a course that was deleted.</summary>
/// <param name="Reports">Reports deleted, drafts too, with their grades and what was changed by hand.</param>
/// <param name="Gradings">Gradings deleted.</param>
/// <param name="RevokedKeys">Keys revoked that the course had given its students.</param>
/// <param name="Kept">What is kept of it, and why.</param>
public sealed record CourseDeleted(int Reports, int Gradings, int RevokedKeys, IReadOnlyList<string> Kept)
{
    /// <summary>What is kept of every course that is deleted.</summary>
    public static IReadOnlyList<string> Remains { get; } =
    [
        "The audit log, as of everything.",
        "The course's name and description, without anybody's unknowns, reports, grades, places, groups or extensions.",
        "Which identifiers, keys and sign-ins its roster and its staff ever named: an examination knows its students by them.",
        "Backups of the database, for as long as whoever runs the service keeps them.",
    ];
}

/// <summary>What the list of courses can be asked.</summary>
public sealed record CourseQuery : PageQuery
{
    /// <summary>Whether those that are archived are listed, in place of the others. Missing: no.</summary>
    public bool? Archived { get; init; }
}

/// <summary>Which of several reports on one unknown counts.</summary>
public enum CountedAttempt
{
    /// <summary>The last one handed in; it alone is graded.</summary>
    Last,

    /// <summary>The one with the most points, of two with as many the later; all are graded.</summary>
    Best,
}

/// <summary>The students of a course who have longer.</summary>
public sealed record ExtensionsBody
{
    /// <summary>The students, each once; nobody else has longer.</summary>
    [MaxLength(Roster.LargestCount)]
    public required IReadOnlyList<Extension> Extensions { get; init; }
}

/// <summary>A due date of a student's own.</summary>
public sealed record Extension
{
    /// <summary>The roster's identifier.</summary>
    [StringLength(Roster.LongestKey)]
    public required string Student { get; init; }

    /// <summary>When their reports are due (RFC 3339), and so their group's, after those of the others; the course takes them until then even where it has closed.</summary>
    public required DateTimeOffset DueAt { get; init; }
}

/// <summary>A course in a list.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">Its name.</param>
/// <param name="IsInvented">Whether class and readings are invented, for showing the service.</param>
public sealed record CourseLink(string Id, string Name, bool IsInvented);

/// <summary>The staff of a course: who sees and grades it, besides administrators.</summary>
public sealed record StaffBody
{
    /// <summary>Everybody of it, each once, at least one of them an owner.</summary>
    [MinLength(1)]
    [MaxLength(100)]
    public required IReadOnlyList<StaffMember> Staff { get; init; }
}

/// <summary>Somebody of the staff of a course. What they may do there is what their role allows.</summary>
public sealed record StaffMember
{
    /// <summary>
    /// Who they are when they call the service, as GET /api/v1/keys/current tells them: "key:" or "sign-in:" and what follows.
    /// </summary>
    [StringLength(ActorName.LongestCount)]
    public required string Actor { get; init; }

    /// <summary>Whether they say who else is of it. Missing: no.</summary>
    public bool? IsOwner { get; init; }
}

/// <summary>How a roster is put in place of another.</summary>
public sealed record RosterQuery
{
    /// <summary>
    /// Whether students who have an actor or unknowns may fall out, or become somebody else. Missing: false; then such a roster
    /// is refused, and the answer says who they are.
    /// </summary>
    public bool? DropsStudents { get; init; }

    /// <summary>
    /// SourcedId of the class whose students are taken, of a OneRoster archive with enrollments in several. Missing: there is
    /// one only.
    /// </summary>
    [StringLength(OneRosterQuery.LongestId, MinimumLength = 1)]
    public string? Class { get; init; }

    /// <summary>
    /// The column that holds the institution's own identifiers, never names or e-mail addresses: of a CSV file any, of users.csv
    /// "sourcedId" or "identifier". Missing: "student" of a CSV file, "sourcedId" of users.csv.
    /// </summary>
    [StringLength(100, MinimumLength = 1)]
    public string? StudentColumn { get; init; }
}

/// <summary>A roster as it was taken.</summary>
public sealed record RosterTaken
{
    /// <summary>The students now enrolled, in order of their identifiers.</summary>
    public required IReadOnlyList<RosterStudent> Students { get; init; }

    /// <summary>What of the file was not read, by name, and what was done besides. Missing: nothing.</summary>
    public IReadOnlyList<string>? Remarks { get; init; }
}

/// <summary>The students of a course.</summary>
public sealed record RosterBody
{
    /// <summary>The students, each once.</summary>
    [MinLength(1)]
    [MaxLength(Roster.LargestCount)]
    public required IReadOnlyList<RosterStudent> Students { get; init; }
}

/// <summary>Keys to be given to students of a course.</summary>
public sealed record StudentKeysRequest
{
    /// <summary>
    /// Whom, by the roster's identifiers, each once; who had a key gets another in its place. Missing: everybody of the roster
    /// without an actor.
    /// </summary>
    [MinLength(1)]
    [MaxLength(Roster.LargestCount)]
    public IReadOnlyList<string>? Students { get; init; }

    /// <summary>For how long they are good. Units: days. Missing: 365.</summary>
    [Range(1, 3650)]
    public int? ValidDays { get; init; }
}

/// <summary>Keys just given to students of a course.</summary>
/// <param name="Keys">Shape: in the order asked for, or of the roster.</param>
public sealed record StudentKeysMade(IReadOnlyList<StudentKey> Keys);

/// <summary>A key just given to a student.</summary>
/// <param name="Student">The roster's identifier.</param>
/// <param name="Key">The whole key. It is shown this once and can't be fetched again.</param>
/// <param name="ExpiresAt">From when on it is refused (RFC 3339, UTC).</param>
public sealed record StudentKey(string Student, string Key, DateTime ExpiresAt);

/// <summary>A student of a roster. No personal data is needed: the institution's own identifier is enough.</summary>
public sealed record RosterStudent
{
    /// <summary>Largest place along a bench.</summary>
    public const int LargestPlace = 100_000;

    /// <summary>The columns of a roster as a file, the first of which must be there.</summary>
    public static IReadOnlyList<string> Columns { get; } = ["student", "bench", "place", "neighbours", "actor", "group"];

    /// <summary>The institution's own identifier.</summary>
    [StringLength(Roster.LongestKey)]
    public required string Student { get; init; }

    /// <summary>The bench. Missing: no fixed place.</summary>
    [StringLength(64)]
    public string? Bench { get; init; }

    /// <summary>Place along the bench; places whose numbers differ by 1 are beside each other. Missing: no fixed place.</summary>
    [Range(0, LargestPlace)]
    public int? Place { get; init; }

    /// <summary>Students they work in sight of although the places don't say so. Missing: none.</summary>
    [MaxLength(50)]
    public IReadOnlyList<string>? Neighbours { get; init; }

    /// <summary>
    /// The group they work in from the next hand-out on: its members share their unknowns, and a report that one of them hands in is that of all.
    /// Missing: they work alone.
    /// </summary>
    [StringLength(Roster.LongestKey)]
    public string? Group { get; init; }

    /// <summary>
    /// Who they are when they call the service, as GET /api/v1/keys/current tells them: "key:" or "sign-in:" and what
    /// follows. Missing: as before, unless another student is given it; of a student who is new, they don't.
    /// </summary>
    [StringLength(ActorName.LongestCount)]
    public string? Actor { get; init; }
}
