using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Teaching;
using Derivid.Core.Teaching.Grading;
using Derivid.Store.Databases;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Who sees what of a course, in one place.</summary>
/// <remarks>
/// Graders and instructors see all of the courses of whose staff they are, administrators of every course. Whoever the roster
/// names as a caller, whatever their role, is a student there: they see their own assignments, reports and published grades,
/// and no endpoint that asks for more than a student. To everyone else a course is as if it were not there.
/// </remarks>
/// <param name="courses">The courses.</param>
/// <param name="settings">Who may read and identify.</param>
/// <param name="tables">The versions of the table.</param>
/// <param name="handOuts">The unknowns handed out.</param>
public sealed class CourseAccess(Store.Teaching.Courses courses, AccessSettings settings, TableSnapshots tables, HandOuts handOuts)
{
    // Chosen: of so many nobody is told by their vial alone.
    private const int EnoughAlike = 5;

    /// <summary>Reads a write to a course: the body to its last byte, however slowly it comes, and only then who writes and what they write to.</summary>
    /// <typeparam name="T">The body's type, one of the wire context's.</typeparam>
    /// <param name="context">A request let in by a policy that asks for a role.</param>
    /// <param name="id">The course.</param>
    /// <param name="mostBytes">Largest body taken. Units: bytes.</param>
    public async Task<Outcome<CourseWrite<T>>> ReadAsync<T>(HttpContext context, string id, int mostBytes = RequestLimits.SingleBytes)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(context);
        var read = await WriteRequest.ReadAsync<T>(context, mostBytes);
        return !(await FindAsync(context, id)).Succeeded(out var view, out var problem)
            || !read.Succeeded(out var write, out problem)
            || (problem = Stale(context, view, write)) is not null
                ? problem
                : new CourseWrite<T>(view, write);
    }

    /// <summary>Refuses a write that names another revision than the course has, so that it is written to what is judged here and not to what the course becomes.</summary>
    /// <param name="context">The request.</param>
    /// <param name="view">The course, found when the write was here to its last byte.</param>
    /// <param name="write">The write.</param>
    /// <returns>The problem. Missing: null, it is the same, or the endpoint asks for none.</returns>
    public static Problem? Stale(HttpContext context, CourseView view, WriteRequest write)
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(view);
        ArgumentNullException.ThrowIfNull(write);
        return context.GetEndpoint()?.Metadata.GetMetadata<NeedsRevision>() is null || write.Revision == view.Course.Revision
            ? null
            : new Problem(ProblemTypes.StaleRevision, "The course was changed since it was read. Read it again and decide anew.");
    }

    /// <summary>Finds a course for a caller.</summary>
    /// <param name="context">A request let in by a policy that asks for a role.</param>
    /// <param name="id">The course.</param>
    public async Task<Outcome<CourseView>> FindAsync(HttpContext context, string id)
    {
        ArgumentNullException.ThrowIfNull(context);
        var caller = Caller.Of(context)!;
        var course = ResourceIds.IsWellFormed(id) ? await courses.FindAsync(id, context.RequestAborted) : null;
        if (course is null)
        {
            return Missing(id);
        }

        if (await IsOfStaffAsync(caller, id, context.RequestAborted))
        {
            return RefusesArchived(context) && Archived(course) is { } stands ? stands : new CourseView(course, null);
        }

        return await courses.StudentOfAsync(id, caller.Actor, context.RequestAborted) is not { } student ? Missing(id)
            : Policies.LeastRoleOf(context) > Role.Student
                ? new Problem(ProblemTypes.ScopeMissing, "You are a student of this course; this is for its staff.")
            : RefusesArchived(context) && Archived(course) is { } archived ? archived
            : new CourseView(course, student)
            {
                HolderKey = await handOuts.HolderOfAsync(id, course.HandOutNumber, student.StudentKey, context.RequestAborted) ?? student.StudentKey,
            };
    }

    /// <summary>Whether a caller says who is of the staff of a course.</summary>
    /// <param name="context">A request let in by a policy that asks for a role.</param>
    /// <param name="id">The course, which they see.</param>
    public async Task<bool> IsOwnerAsync(HttpContext context, string id)
    {
        ArgumentNullException.ThrowIfNull(context);
        var caller = Caller.Of(context)!;
        return caller.Role == Role.Administrator
            || await courses.StaffOfAsync(id, caller.Actor, context.RequestAborted) is { IsOwner: true };
    }

    /// <summary>A course as those see it who are no students of it.</summary>
    /// <param name="course">The course.</param>
    /// <param name="cancellation">Gives up.</param>
    public async Task<CourseItem> ItemOfAsync(Course course, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(course);
        var rubric = Rubrics.Kept(course.RubricJson);
        IReadOnlyList<string> warnings =
        [
            .. !course.IsExamination ? Array.Empty<string>()
                : !settings.RequireKeyToRead ? [Examinations.OpenToAnyone]
                : course.ClosesAtUtc is null ? [Examinations.OpenEnded]
                : [],
            .. await HardlyHiddenAsync(course, cancellation) is { } known ? [known] : Array.Empty<string>(),
            .. course.CountsBest && GuessedAttempts.Of(rubric, course.MostAttempts, course.ShelfKeys.Count) is { } guessed ? [guessed] : Array.Empty<string>(),
            .. (await tables.FindAsync(course.TableVersion, cancellation)).Succeeded(out var table, out _)
                ? Reach.Of(rubric, WorkedHandOut.LaboratoryOf(course), table.Snapshot)
                : [],
        ];
        return CourseItem.Of(course) with { Warnings = warnings.Count > 0 ? warnings : null };
    }

    // A grade says what was in the vial, so where few had the same, knowing the vials is nearly knowing the student.
    private async Task<string?> HardlyHiddenAsync(Course course, CancellationToken cancellation)
    {
        if (!course.IsMarkedBlind || course.HandOutNumber == 0)
        {
            return null;
        }

        var students = (await handOuts.AssignmentsAsync(course.Id, course.HandOutNumber, null, cancellation))
            .Where(row => row.StudentKey == row.HolderKey).GroupBy(row => row.StudentKey, StringComparer.Ordinal).ToList();
        var who = students.Exists(rows => rows.First().GroupName is not null)
            ? Figure.Count(students.Count, "group or single student", "groups or single students")
            : Figure.Count(students.Count, "student");
        var fewest = students.GroupBy(rows => string.Join(' ', rows.Select(row => row.ParentKey)), StringComparer.Ordinal).Min(alike => alike.Count());
        return fewest >= EnoughAlike
            ? null
            : $"Marked anonymously: some unknowns were given to only {fewest} of the {who}. Whoever knows what is in whose vial, by the filling list or the hand-out, knows so nearly whose their reports are; let somebody else mark them.";
    }

    /// <summary>Refuses what would change an archived course. Asked by what takes an idempotency key once the key is looked up; of all else the course is found only if it isn't.</summary>
    /// <param name="course">The course, which the caller sees: to all others it isn't there, archived or not.</param>
    /// <returns>The problem. Missing: null, it isn't archived.</returns>
    public static Problem? Archived(Course course)
    {
        ArgumentNullException.ThrowIfNull(course);
        return course.ArchivedAtUtc is null
            ? null
            : new Problem(ProblemTypes.CourseStateForbids, "The course is archived: it is read, and nothing of it changes. Its owners can take it out of the archive.");
    }

    // What counted before is answered again whatever the course has come to.
    private static bool RefusesArchived(HttpContext context) =>
        !HttpMethods.IsGet(context.Request.Method) && !HttpMethods.IsHead(context.Request.Method)
        && context.GetEndpoint()?.Metadata is { } metadata
        && metadata.GetMetadata<AlsoArchived>() is null && metadata.GetMetadata<TakesIdempotencyKey>() is null;

    private async Task<bool> IsOfStaffAsync(Caller caller, string id, CancellationToken cancellation) =>
        caller.Role == Role.Administrator
        || (caller.Role > Role.Student && await courses.StaffOfAsync(id, caller.Actor, cancellation) is not null);

    private static Problem Missing(string id) => new(ProblemTypes.NotFound, $"No course {Text.Quoted(id)} of yours is here.");
}

/// <summary>A write to a course, judged when it was here to its last byte.</summary>
/// <typeparam name="T">The body.</typeparam>
/// <param name="View">The course and who writes.</param>
/// <param name="Write">What they write.</param>
public sealed record CourseWrite<T>(CourseView View, WriteRequest<T> Write)
    where T : class;

/// <summary>A course and who looks at it.</summary>
/// <param name="Course">The course.</param>
/// <param name="Student">The student looking. Missing: null, somebody of the staff or an administrator is.</param>
public sealed record CourseView(Course Course, CourseStudent? Student)
{
    /// <summary>Under whom the reports are kept that the student shares, of the hand-out in force; see <see cref="Assignment.HolderKey"/>. Missing: null, as above.</summary>
    public string? HolderKey { get; init; }

    /// <summary>Whether identities may be shown.</summary>
    public bool SeesIdentities => Student is null;

    /// <summary>When the student's reports are due, if they or others of their group have longer.</summary>
    /// <param name="courses">The rosters.</param>
    /// <param name="cancellation">Gives up.</param>
    /// <returns>Units: UTC. Missing: null, none of them has, or it is no student who looks.</returns>
    public async Task<DateTime?> OwnDueAsync(Store.Teaching.Courses courses, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(courses);
        return HolderKey is not { } holder ? null
            : await courses.DueOfAsync(Course.Id, Course.HandOutNumber, holder, cancellation) ?? Student?.DueAtUtc;
    }

    /// <summary>Whether whose a report is must not be told: to nobody but its student, until grades are published.</summary>
    public bool IsMarkedBlind => Student is null && Course.IsMarkedBlind;
}
