using System.Globalization;
using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Teaching;

/// <summary>Keeps what was handed out to whom.</summary>
/// <param name="database">Where it is kept.</param>
/// <param name="writes">Makes each request that carries a key count once.</param>
public sealed class HandOuts(DerividDatabase database, IdempotentWrites writes)
{
    /// <summary>Keeps a hand-out and puts it in force.</summary>
    /// <param name="course">The course as it was read when the hand-out was worked out.</param>
    /// <param name="handOut">The hand-out.</param>
    /// <param name="assignments">Its unknowns.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <exception cref="CourseRuleException">The course was changed since, isn't theirs or is archived, or reports are handed in.</exception>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Created<StoredHandOut>> AddAsync(
        Course course,
        StoredHandOut handOut,
        IReadOnlyCollection<Assignment> assignments,
        IdempotencyKey? key,
        AuditOrigin origin,
        CancellationToken cancellation) => writes.RunAsync(
        key,
        origin,
        async (context, token) =>
        {
            // Before anything is counted: whoever hands in meanwhile has done so before, or is refused after.
            var current = await Courses.HoldInUseAsync(context, course.Id, origin, token);
            Courses.RefuseStale(current, course.Revision);
            await RefuseHandedInAsync(context, current, token);
            current.HandOutNumber = handOut.Number;
            current.Revision++;
            context.StoredHandOuts.Add(handOut);
            context.Assignments.AddRange(assignments);
            return new Creation<StoredHandOut>(
                handOut,
                handOut.Number.ToString(CultureInfo.InvariantCulture),
                new AuditedAct("course.hand-out", $"{Courses.Resource(course.Id)}/hand-outs/{handOut.Number}", handOut.TableVersion));
        },
        Made(course.Id),
        cancellation);

    /// <summary>Finds what an earlier request of the same key made.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="key">The request's key. Missing: null, it was never sent before.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The hand-out. Missing: null, the key is new.</returns>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<StoredHandOut?> MadeByAsync(string courseId, IdempotencyKey? key, CancellationToken cancellation) =>
        writes.FindAsync(key, Made(courseId), cancellation);

    /// <summary>Finds one.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="number">Its number.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The hand-out. Missing: null, no such hand-out.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<StoredHandOut?> FindAsync(string courseId, int number, CancellationToken cancellation) =>
        database.RunAsync(
            (context, token) => context.StoredHandOuts.AsNoTracking()
                .FirstOrDefaultAsync(row => row.CourseId == courseId && row.Number == number, token),
            cancellation);

    /// <summary>The unknowns of a hand-out.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="number">The hand-out.</param>
    /// <param name="studentKey">Those of one student. Missing: null, all.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: by student, then number.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task<IReadOnlyList<Assignment>> AssignmentsAsync(
        string courseId, int number, string? studentKey, CancellationToken cancellation)
    {
        var rows = await database.RunAsync(
            (context, token) => context.Assignments.AsNoTracking()
                .Where(row => row.CourseId == courseId && row.HandOutNumber == number)
                .Where(row => studentKey == null || row.StudentKey == studentKey)
                .ToListAsync(token),
            cancellation);
        return InOrder(rows);
    }

    /// <summary>The unknowns of a hand-out that are kept under a student, as all have them who share them.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="number">The hand-out.</param>
    /// <param name="holderKey">The student; see <see cref="Assignment.HolderKey"/>.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: by student, then number.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task<IReadOnlyList<Assignment>> SharedAsync(
        string courseId, int number, string holderKey, CancellationToken cancellation)
    {
        var rows = await database.RunAsync(
            (context, token) => context.Assignments.AsNoTracking()
                .Where(row => row.CourseId == courseId && row.HandOutNumber == number && row.HolderKey == holderKey)
                .ToListAsync(token),
            cancellation);
        return InOrder(rows);
    }

    /// <summary>Under whom a student's reports on a hand-out are kept; see <see cref="Assignment.HolderKey"/>.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="number">The hand-out.</param>
    /// <param name="studentKey">The student.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Missing: null, nothing was handed out to them.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<string?> HolderOfAsync(string courseId, int number, string studentKey, CancellationToken cancellation) =>
        database.RunAsync(
            (context, token) => context.Assignments.AsNoTracking()
                .Where(row => row.CourseId == courseId && row.HandOutNumber == number && row.StudentKey == studentKey)
                .Select(row => row.HolderKey).FirstOrDefaultAsync(token),
            cancellation);

    private static IReadOnlyList<Assignment> InOrder(IEnumerable<Assignment> rows) =>
        [.. rows.OrderBy(row => row.StudentKey, StringComparer.Ordinal).ThenBy(row => row.Number)];

    private static Func<DerividContext, string, CancellationToken, Task<StoredHandOut>> Made(string courseId) =>
        (context, id, token) =>
        {
            var number = int.Parse(id, CultureInfo.InvariantCulture);
            return context.StoredHandOuts.AsNoTracking().FirstAsync(
                row => row.CourseId == courseId && row.Number == number, token);
        };

    private static async Task RefuseHandedInAsync(
        DerividContext context, Course course, CancellationToken cancellation)
    {
        var reports = await context.CourseReports.CountAsync(
            report => report.CourseId == course.Id && report.HandOutNumber == course.HandOutNumber
                && report.HandedInAtUtc != null,
            cancellation);
        if (reports > 0)
        {
            throw new CourseRuleException(
                CourseRule.ReportsHandedIn,
                $"{reports} reports on hand-out {course.HandOutNumber} are handed in, so it stands. Make another course to hand out anew.");
        }
    }
}
