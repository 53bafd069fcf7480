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
    /// <summary>Keeps one.</summary>
    /// <param name="moderation">The moderation.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Created<StoredModeration>> AddAsync(
        StoredModeration moderation, IdempotencyKey? key, AuditOrigin origin, CancellationToken cancellation) => writes.RunAsync(
        key,
        origin,
        (context, _) =>
        {
            context.Moderations.Add(moderation);
            return Task.FromResult(new Creation<StoredModeration>(
                moderation,
                moderation.Id,
                new AuditedAct("report.moderate", $"{Courses.Resource(moderation.CourseId)}/reports/{moderation.ReportId}")));
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

    private static Task<StoredModeration> FindAsync(DerividContext context, string id, CancellationToken cancellation) =>
        context.Moderations.AsNoTracking().FirstAsync(row => row.Id == id, cancellation);
}
