using Derivid.Core.Curation;
using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Curation;

/// <summary>Keeps imports: what was sent, how far it has come, what is wrong with it.</summary>
/// <remarks>
/// A process that reads a file gives signs of life; one that was killed gives none, and whoever looks at the import
/// after a while finds it interrupted. Its rows were never written, since they are all written in one transaction that
/// also ends the import.
/// </remarks>
/// <param name="database">Where they are kept.</param>
/// <param name="audit">Takes down who sent and who called off.</param>
/// <param name="writes">Makes each request that carries a key count once.</param>
/// <param name="time">The clock.</param>
public sealed class ImportJobs(DerividDatabase database, AuditTrail audit, IdempotentWrites writes, TimeProvider time)
{
    /// <summary>What is told of an import whose process ended.</summary>
    internal const string ProcessEnded =
        "The process that read the file ended before it was done. Nothing was taken; send the file again.";

    // Who is silent may have ended, or go on without a database to say so.
    private const string FellSilent =
        "The reading of the file broke off: its process ended, or lost the database. Nothing was taken; send the file again.";

    private static readonly ImportState[] Live = [ImportState.Queued, ImportState.Running];

    /// <summary>Silence after which a process is taken to be dead. Ten times the pulse, for a machine under load.</summary>
    public static TimeSpan LostAfter { get; } = TimeSpan.FromSeconds(10);

    /// <summary>An import was found whose process had fallen silent, and ended as interrupted; once for each.</summary>
    public event EventHandler<ImportJob>? FoundLost;

    /// <summary>Keeps a new import.</summary>
    /// <param name="origin">Who sent it, and why.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="job">The import.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<Created<ImportJob>> AddAsync(
        AuditOrigin origin, IdempotencyKey? key, ImportJob job, CancellationToken cancellation) => writes.RunAsync(
        key,
        origin,
        (context, _) =>
        {
            context.ImportJobs.Add(job);
            return Task.FromResult(new Creation<ImportJob>(job, job.Id, new AuditedAct("import.start", Resource(job.Id))));
        },
        MadeAsync,
        cancellation);

    /// <summary>Finds what an earlier request of the same key started.</summary>
    /// <inheritdoc cref="IdempotentWrites.FindAsync"/>
    public Task<ImportJob?> MadeByAsync(IdempotencyKey? key, CancellationToken cancellation) =>
        writes.FindAsync(key, MadeAsync, cancellation);

    /// <summary>Finds one; whose process has fallen silent is told interrupted from then on.</summary>
    /// <param name="id">The import.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Missing: null, no such import.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task<ImportJob?> FindAsync(string id, CancellationToken cancellation)
    {
        var now = time.GetUtcNow().UtcDateTime;
        var job = await ReadAsync(id, cancellation);
        if (job is null || !Live.Contains(job.State) || job.SeenAtUtc > now - LostAfter)
        {
            return job;
        }

        if (await EndAsync(id, ImportState.Interrupted, FellSilent, job.SeenAtUtc, cancellation) > 0)
        {
            FoundLost?.Invoke(this, job);
        }

        return await ReadAsync(id, cancellation);
    }

    /// <summary>What is wrong with a file, in the order of its lines.</summary>
    /// <param name="id">The import.</param>
    /// <param name="beyond">Number of the fault to go on after; 0 from the start.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<ImportFault>> FaultsAsync(string id, int beyond, int most, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.ImportFaults.AsNoTracking()
            .Where(fault => fault.JobId == id && fault.Number > beyond).OrderBy(fault => fault.Number).Take(most).ToListAsync(token),
        cancellation);

    /// <summary>Asks for an import to be called off; its process hears of it with its next sign of life.</summary>
    /// <param name="origin">Who, and why.</param>
    /// <param name="id">The import.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<bool> RequestCancelAsync(AuditOrigin origin, string id, CancellationToken cancellation) => audit.WriteAsync(
        origin,
        async (context, token) =>
        {
            var asked = await context.ImportJobs.Where(job => job.Id == id && Live.Contains(job.State) && !job.IsCancelRequested)
                .ExecuteUpdateAsync(job => job.SetProperty(row => row.IsCancelRequested, true), token);
            return asked > 0
                ? new Audited<bool>(true, new AuditedAct("import.cancel", Resource(id)))
                : new Audited<bool>(false);
        },
        cancellation);

    /// <summary>Begins to read.</summary>
    /// <returns>Whether the import is still wanted.</returns>
    internal async Task<bool> BeginAsync(string id, CancellationToken cancellation) => await database.RunAsync(
        (context, token) => context.ImportJobs.Where(job => job.Id == id && job.State == ImportState.Queued && !job.IsCancelRequested)
            .ExecuteUpdateAsync(job => job.SetProperty(row => row.State, ImportState.Running), token),
        cancellation) == 1;

    /// <summary>Gives a sign of life and says how far the reading is.</summary>
    /// <param name="id">The import.</param>
    /// <param name="progress">How far.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Whether the import is still wanted.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<bool> SeenAsync(string id, ImportProgress progress, CancellationToken cancellation)
    {
        var now = time.GetUtcNow().UtcDateTime;
        return database.RunAsync(
            async (context, token) =>
            {
                await context.ImportJobs.Where(job => job.Id == id && Live.Contains(job.State)).ExecuteUpdateAsync(
                    job => job.SetProperty(row => row.SeenAtUtc, now)
                        .SetProperty(row => row.Percent, progress.Percent)
                        .SetProperty(row => row.Rows, progress.Rows)
                        .SetProperty(row => row.Faults, progress.Faults),
                    token);
                return await context.ImportJobs.AnyAsync(
                    job => job.Id == id && Live.Contains(job.State) && !job.IsCancelRequested, token);
            },
            cancellation);
    }

    internal Task AddFaultsAsync(IReadOnlyList<ImportFault> faults, CancellationToken cancellation) => database.RunAsync(
        async (context, token) =>
        {
            context.ImportFaults.AddRange(faults);
            return await context.SaveChangesAsync(token);
        },
        cancellation);

    /// <summary>Ends an import, unless it has ended.</summary>
    internal Task EndAsync(
        string id, ImportState state, string message, ImportProgress progress, CancellationToken cancellation) => database.RunAsync(
        (context, token) => EndAsync(context, id, state, message, progress, token), cancellation);

    /// <summary>Ends an import within a transaction.</summary>
    /// <returns>1, or 0 if it had ended.</returns>
    internal Task<int> EndAsync(
        DerividContext context, string id, ImportState state, string message, ImportProgress progress, CancellationToken cancellation)
    {
        var now = time.GetUtcNow().UtcDateTime;
        var percent = state == ImportState.Succeeded ? 100 : progress.Percent;
        return context.ImportJobs.Where(job => job.Id == id && Live.Contains(job.State)).ExecuteUpdateAsync(
            job => job.SetProperty(row => row.State, state)
                .SetProperty(row => row.Message, message)
                .SetProperty(row => row.EndedAtUtc, now)
                .SetProperty(row => row.Percent, percent)
                .SetProperty(row => row.Rows, progress.Rows)
                .SetProperty(row => row.Faults, progress.Faults)
                .SetProperty(row => row.RowsAtFault, progress.RowsAtFault)
                .SetProperty(row => row.Added, progress.Added)
                .SetProperty(row => row.Changed, progress.Changed)
                .SetProperty(row => row.Unchanged, progress.Unchanged)
                .SetProperty(row => row.Removed, progress.Removed),
            cancellation);
    }

    private Task<int> EndAsync(string id, ImportState state, string message, DateTime lastSeen, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.ImportJobs.Where(job => job.Id == id && Live.Contains(job.State) && job.SeenAtUtc == lastSeen)
            .ExecuteUpdateAsync(
                job => job.SetProperty(row => row.State, state).SetProperty(row => row.Message, message)
                    .SetProperty(row => row.EndedAtUtc, lastSeen),
                token),
        cancellation);

    private Task<ImportJob?> ReadAsync(string id, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.ImportJobs.AsNoTracking().FirstOrDefaultAsync(row => row.Id == id, token), cancellation);

    private static Task<ImportJob> MadeAsync(DerividContext context, string id, CancellationToken cancellation) =>
        context.ImportJobs.AsNoTracking().FirstAsync(row => row.Id == id, cancellation);

    private static string Resource(string id) => "imports/" + id;
}
