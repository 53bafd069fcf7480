using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Teaching;

/// <summary>Keeps what persons changed about grades.</summary>
/// <param name="database">Where it is kept.</param>
/// <param name="writes">Makes each request that carries a key count once.</param>
public sealed class Moderations(DerividDatabase database, IdempotentWrites writes)
{
    /// <summary>What the audit log calls one.</summary>
    public const string Act = "report.moderate";

    /// <summary>What somebody saw who saw none of a report.</summary>
    public const string NoneSeen = "none";

    /// <summary>Keeps one.</summary>
    /// <param name="moderation">The moderation.</param>
    /// <param name="lastSeen">Id of the newest one of the report that whoever made it saw, or <see cref="NoneSeen"/>. Missing: null, not asked.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <exception cref="CourseRuleException">Somebody changed the grade since, or the course isn't theirs or is archived; nothing was changed.</exception>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Created<StoredModeration>> AddAsync(
        StoredModeration moderation, string? lastSeen, IdempotencyKey? key, AuditOrigin origin, CancellationToken cancellation) => writes.RunAsync(
        key,
        origin,
        async (context, token) =>
        {
            await Courses.HoldInUseAsync(context, moderation.CourseId, origin, token);
            if (lastSeen is not null && lastSeen != (await NewestAsync(context, moderation.ReportId, token) ?? NoneSeen))
            {
                throw new CourseRuleException(
                    CourseRule.Stale, "Somebody changed this grade since it was read. Read the changes again and decide anew.");
            }

            context.Moderations.Add(moderation);
            return new Creation<StoredModeration>(
                moderation,
                moderation.Id,
                // By its own id: beside the report's stands when that was handed in, and whoever marks anonymously mustn't know of which it is.
                new AuditedAct(Act, $"{Courses.Resource(moderation.CourseId)}/moderations/{moderation.Id}"));
        },
        FindAsync,
        cancellation);

    /// <summary>Finds what an earlier request of the same key made.</summary>
    /// <inheritdoc cref="IdempotentWrites.FindAsync"/>
    public Task<StoredModeration?> MadeByAsync(IdempotencyKey? key, CancellationToken cancellation) =>
        writes.FindAsync(key, FindAsync, cancellation);

    /// <summary>Lists those of a course, oldest first.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="reportId">Those of one report. Missing: null, of all.</param>
    /// <param name="beyond">The id to go on after. Missing: null, from the start.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<StoredModeration>> ListAsync(
        string courseId, string? reportId, string? beyond, int most, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Moderations.AsNoTracking()
            .Where(row => row.CourseId == courseId && (reportId == null || row.ReportId == reportId))
            .OldestFirst(beyond, most).ToListAsync(token),
        cancellation);

    /// <summary>Those of a report that hold in a grading, oldest first.</summary>
    /// <param name="gradingId">The grading.</param>
    /// <param name="reportId">The report.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<StoredModeration>> HoldingAsync(string gradingId, string reportId, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Moderations.AsNoTracking()
            .Where(row => row.ReportId == reportId).HoldingIn(gradingId).OrderBy(row => row.Id).ToListAsync(token),
        cancellation);

    private static Task<string?> NewestAsync(DerividContext context, string reportId, CancellationToken cancellation) =>
        context.Moderations.Where(row => row.ReportId == reportId)
            .OrderByDescending(row => row.Id).Select(row => row.Id).FirstOrDefaultAsync(cancellation);

    private static Task<StoredModeration> FindAsync(DerividContext context, string id, CancellationToken cancellation) =>
        context.Moderations.AsNoTracking().FirstAsync(row => row.Id == id, cancellation);
}

/// <summary>The rule of where a moderation holds.</summary>
internal static class ModerationQueries
{
    /// <summary>Those made on a grading or on one started before it: ids are in the order of time.</summary>
    /// <param name="moderations">Any.</param>
    /// <param name="gradingId">The grading.</param>
    public static IQueryable<StoredModeration> HoldingIn(this IQueryable<StoredModeration> moderations, string gradingId) =>
        moderations.Where(row => string.Compare(row.GradingId, gradingId) <= 0);
}
