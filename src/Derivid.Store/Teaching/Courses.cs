using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Teaching;

/// <summary>Keeps courses and their rosters.</summary>
/// <param name="database">Where they are kept.</param>
/// <param name="audit">Takes changes down.</param>
/// <param name="writes">Makes each request that carries a key count once.</param>
public sealed class Courses(DerividDatabase database, AuditTrail audit, IdempotentWrites writes)
{
    /// <summary>The address of a course, for the audit log.</summary>
    /// <param name="id">Its id.</param>
    public static string Resource(string id) => "courses/" + id;

    /// <summary>Keeps a new course.</summary>
    /// <param name="course">The course.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<Created<Course>> AddAsync(
        Course course, IdempotencyKey? key, AuditOrigin origin, CancellationToken cancellation) => writes.RunAsync(
        key,
        origin,
        (context, _) =>
        {
            context.Courses.Add(course);
            return Task.FromResult(new Creation<Course>(
                course, course.Id, new AuditedAct("course.create", Resource(course.Id), course.TableVersion)));
        },
        MadeAsync,
        cancellation);

    /// <summary>Finds what an earlier request of the same key made.</summary>
    /// <inheritdoc cref="IdempotentWrites.FindAsync"/>
    public Task<Course?> MadeByAsync(IdempotencyKey? key, CancellationToken cancellation) =>
        writes.FindAsync(key, MadeAsync, cancellation);

    /// <summary>Finds one.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The course. Missing: null, no such course.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<Course?> FindAsync(string id, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Courses.AsNoTracking().FirstOrDefaultAsync(row => row.Id == id, token),
        cancellation);

    /// <summary>Lists courses, oldest first.</summary>
    /// <param name="actor">Those one caller is enrolled in. Missing: null, all.</param>
    /// <param name="beyond">The id to go on after. Missing: null, from the start.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<Course>> ListAsync(string? actor, string? beyond, int most, CancellationToken cancellation) =>
        database.RunAsync(
            (context, token) => context.Courses.AsNoTracking()
                .Where(course => actor == null || context.CourseStudents.Any(student =>
                    student.CourseId == course.Id && student.Actor == actor && student.IsEnrolled))
                .OldestFirst(beyond, most).ToListAsync(token),
            cancellation);

    /// <summary>Changes a course.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="revision">The revision the change is meant for.</param>
    /// <param name="change">Changes it; the revision is raised afterwards.</param>
    /// <param name="act">What to call it in the audit log.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <returns>The course as it is now. Missing: null, no such course.</returns>
    /// <exception cref="CourseRuleException">It was changed since.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Course?> ChangeAsync(
        string id,
        int revision,
        Action<Course> change,
        string act,
        AuditOrigin origin,
        CancellationToken cancellation) => WriteAsync(
        id, revision, (_, course, _) =>
        {
            change(course);
            return Task.CompletedTask;
        },
        act,
        origin,
        cancellation);

    /// <summary>The students enrolled.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: in ordinal order of their identifiers.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task<IReadOnlyList<CourseStudent>> RosterAsync(string courseId, CancellationToken cancellation)
    {
        var students = await database.RunAsync(
            (context, token) => context.CourseStudents.AsNoTracking()
                .Where(student => student.CourseId == courseId && student.IsEnrolled).ToListAsync(token),
            cancellation);
        return [.. students.OrderBy(student => student.StudentKey, StringComparer.Ordinal)];
    }

    /// <summary>The student of a course that a caller is.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="actor">The caller, as the audit log names them.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The student. Missing: null, they are none of it.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<CourseStudent?> StudentOfAsync(string courseId, string actor, CancellationToken cancellation) =>
        database.RunAsync(
            (context, token) => context.CourseStudents.AsNoTracking().FirstOrDefaultAsync(
                student => student.CourseId == courseId && student.Actor == actor && student.IsEnrolled, token),
            cancellation);

    /// <summary>The examination a caller is sitting: a course of theirs that is one and takes reports.</summary>
    /// <param name="actor">The caller, as the audit log names them.</param>
    /// <param name="now">When. Units: UTC.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The course; of several the one of the lowest id. Missing: null, none.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task<Course?> ExaminationOfAsync(string actor, DateTime now, CancellationToken cancellation)
    {
        var examinations = await database.RunAsync(
            (context, token) => context.Courses.AsNoTracking()
                .Where(course => course.IsExamination && context.CourseStudents.Any(student =>
                    student.CourseId == course.Id && student.Actor == actor && student.IsEnrolled))
                .OrderBy(course => course.Id).ToListAsync(token),
            cancellation);
        return examinations.Find(course => course.TakesReportsAt(now));
    }

    /// <summary>Puts a roster in place of the one before; students who are not in it are no longer enrolled.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="revision">The course's revision the roster is meant for.</param>
    /// <param name="students">The students. Shape: no identifier and no actor twice.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <returns>The course as it is now. Missing: null, no such course.</returns>
    /// <exception cref="CourseRuleException">The course was changed since.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Course?> ReplaceRosterAsync(
        string courseId,
        int revision,
        IReadOnlyCollection<CourseStudent> students,
        AuditOrigin origin,
        CancellationToken cancellation) => WriteAsync(
        courseId, revision, (context, _, token) => ReplaceAsync(context, courseId, students, token),
        "course.roster",
        origin,
        cancellation);

    private static async Task ReplaceAsync(
        DerividContext context, string courseId, IReadOnlyCollection<CourseStudent> students, CancellationToken cancellation)
    {
        var known = await context.CourseStudents.Where(student => student.CourseId == courseId)
            .ToDictionaryAsync(student => student.StudentKey, StringComparer.Ordinal, cancellation);

        // An actor may move from one student to another, and must not belong to both in between.
        foreach (var student in known.Values)
        {
            (student.IsEnrolled, student.Actor) = (false, null);
        }

        await context.SaveChangesAsync(cancellation);
        foreach (var student in students)
        {
            if (known.TryGetValue(student.StudentKey, out var row))
            {
                (row.Bench, row.Place, row.Neighbours, row.Actor, row.IsEnrolled) =
                    (student.Bench, student.Place, student.Neighbours, student.Actor, true);
            }
            else
            {
                context.CourseStudents.Add(student);
            }
        }
    }

    private async Task<Course?> WriteAsync(
        string id,
        int revision,
        Func<DerividContext, Course, CancellationToken, Task> change,
        string act,
        AuditOrigin origin,
        CancellationToken cancellation)
    {
        try
        {
            return await audit.WriteAsync(
                origin,
                async (context, token) =>
                {
                    if (await context.Courses.FirstOrDefaultAsync(row => row.Id == id, token) is not { } course)
                    {
                        return new Audited<Course?>(null);
                    }

                    RefuseStale(course, revision);
                    course.Revision++;
                    await change(context, course, token);
                    return new Audited<Course?>(course, new AuditedAct(act, Resource(id), course.TableVersion));
                },
                cancellation);
        }
        catch (DbUpdateConcurrencyException)
        {
            throw Stale();
        }
    }

    /// <summary>Keeps everybody else from changing a course until this transaction ends, if it takes reports on a hand-out.</summary>
    /// <remarks>
    /// What was judged before the transaction may be over by now: grades published, the hour past, unknowns handed out anew.
    /// </remarks>
    /// <exception cref="CourseRuleException">It takes none on this hand-out any more.</exception>
    internal static async Task HoldOpenAsync(
        DerividContext context, string courseId, int handOutNumber, DateTime now, CancellationToken cancellation)
    {
        var open = context.Courses
            .Where(row => row.Id == courseId && row.HandOutNumber == handOutNumber && row.PublishedGradingId == null
                && (row.ClosesAtUtc == null || row.ClosesAtUtc > now));
        if (await LockAsync(open, cancellation) == 0)
        {
            throw new CourseRuleException(
                CourseRule.Closed,
                "The course takes no report on this unknown any more: unknowns were handed out anew, grades published, or the time is over.");
        }
    }

    /// <summary>Keeps everybody else from changing a course until this transaction ends.</summary>
    internal static Task HoldAsync(DerividContext context, string courseId, CancellationToken cancellation) =>
        LockAsync(context.Courses.Where(row => row.Id == courseId), cancellation);

    // Writing a row's own revision locks it on both engines, whatever their isolation. How many were locked.
    private static Task<int> LockAsync(IQueryable<Course> courses, CancellationToken cancellation) =>
        courses.ExecuteUpdateAsync(row => row.SetProperty(course => course.Revision, course => course.Revision), cancellation);

    private static Task<Course> MadeAsync(DerividContext context, string id, CancellationToken cancellation) =>
        context.Courses.AsNoTracking().FirstAsync(row => row.Id == id, cancellation);

    internal static void RefuseStale(Course course, int revision)
    {
        if (course.Revision != revision)
        {
            throw Stale();
        }
    }

    internal static CourseRuleException Stale() =>
        new(CourseRule.Stale, "The course was changed since it was read. Read it again and decide anew.");
}
