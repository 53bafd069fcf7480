using Derivid.Store.Access;
using Derivid.Store.Databases;
using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;

namespace Derivid.Store.Auditing;

/// <summary>The log of every write: the one way to write what a person asks for, and the way to read what was written.</summary>
/// <param name="database">Where it is kept.</param>
/// <param name="time">Dates the entries.</param>
/// <remarks>
/// Entry and write are one transaction, so neither stands without the other. PostgreSQL numbers entries under a lock
/// that lasts until the commit; therefore entries come last in the transaction, where they can't hold up or deadlock
/// with the locks of the work. Whoever was let in may hold their request open for as long as a body takes, so whether their
/// key is good is asked again in the transaction. Isolation is the engine's default (read committed on PostgreSQL). One sender's writes wait
/// for each other (<see cref="WriteTurns"/>), so a piece of work must not ask for another of the same sender.
/// </remarks>
public sealed class AuditTrail(DerividDatabase database, TimeProvider time)
{
    // Writers wait for each other's locks, which a short time limit would take for a lost server.
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(10);

    private const string OfReports = "/reports/";

    private readonly WriteTurns _turns = new();

    /// <summary>How many writes wait for another of the same sender.</summary>
    public int Waiting => _turns.Waiting;

    /// <summary>Does a piece of work in a transaction of its own and takes it down.</summary>
    /// <typeparam name="T">What the work returns.</typeparam>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="work">
    /// The work; what it leaves unsaved in the context is saved. It must be safe to run twice: it is, once more, where
    /// the first try was rolled back. An exception rolls back everything.
    /// </param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <exception cref="KeySpentException">The key that asks for it was revoked or has expired meanwhile; nothing was changed.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<T> WriteAsync<T>(
        AuditOrigin origin,
        Func<DerividContext, CancellationToken, Task<Audited<T>>> work,
        CancellationToken cancellation) =>
        WriteAsync(origin, (context, token) => context.Database.BeginTransactionAsync(token), work, cancellation);

    /// <summary>The same, while no other process is inside of such a piece of work or of its start.</summary>
    /// <inheritdoc cref="WriteAsync{T}(AuditOrigin, Func{DerividContext, CancellationToken, Task{Audited{T}}}, CancellationToken)"/>
    public Task<T> WriteAloneAsync<T>(
        AuditOrigin origin,
        Func<DerividContext, CancellationToken, Task<Audited<T>>> work,
        CancellationToken cancellation) =>
        WriteAsync(
            origin, (context, token) => database.Engine.BeginAloneAsync(context, LongestWait, token), work, cancellation);

    /// <summary>Reads entries in order of their sequence.</summary>
    /// <remarks>
    /// Which student wrote a report, and the trace, which may be one with what they did by name, are withheld while it is marked anonymously: the log names reports, and so would tell whoever marks them
    /// and reads it whose they are. What is kept is complete, and told once grades are published; of a course deleted before, never. What
    /// somebody did whom no roster of the course ever named is told at once. Of what was changed by hand in the reports of such a course, the entries
    /// written when they still named the report don't tell it either.
    /// </remarks>
    /// <param name="filter">Which.</param>
    /// <param name="beyond">The sequence to go on from, exclusive. Missing: null, from the first.</param>
    /// <param name="newestFirst">Whether to read backwards.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<AuditEntry>> ReadAsync(
        AuditFilter filter, long? beyond, bool newestFirst, int most, CancellationToken cancellation) => database.RunAsync(
        async (context, token) =>
        {
            var asksOfReport = $"{filter.Resource} {filter.Within}".Contains(OfReports, StringComparison.Ordinal);
            var before = Courses.Resource("").Length;
            var length = ResourceIds.Length;
            var entries = context.AuditEntries.AsNoTracking()
                .Where(entry => filter.Action == null || entry.Action == filter.Action)
                .Where(entry => filter.Resource == null || entry.Resource == filter.Resource)
                .Where(entry => filter.Within == null || entry.Resource == filter.Within || entry.Resource.StartsWith(filter.Within + "/"))
                .Select(entry => new
                {
                    Entry = entry,
                    IsWithheld = Reports.Acts.Contains(entry.Action)
                        && context.Courses.Any(course => course.Id == entry.Resource.Substring(before, length)
                            && course.IsMarkedAnonymously && course.PublishedGradingId == null)
                        && context.CourseActors.Any(named => named.Actor == entry.Actor && named.CourseId == entry.Resource.Substring(before, length)),
                    HidesReport = entry.Action == Moderations.Act && entry.Resource.Contains(OfReports)
                        && context.Courses.Any(course => course.Id == entry.Resource.Substring(before, length)
                            && course.IsMarkedAnonymously && course.PublishedGradingId == null),
                })
                .Where(row => filter.Actor == null || (row.Entry.Actor == filter.Actor && !row.IsWithheld))
                .Where(row => !asksOfReport || !row.HidesReport);
            var ordered = newestFirst
                ? entries.Where(row => beyond == null || row.Entry.Sequence < beyond).OrderByDescending(row => row.Entry.Sequence)
                : entries.Where(row => beyond == null || row.Entry.Sequence > beyond).OrderBy(row => row.Entry.Sequence);
            var found = await ordered.Take(most).ToListAsync(token);
            return found.ConvertAll(row => row.IsWithheld ? row.Entry with { Actor = AuditEntry.Withheld, TraceId = null }
                : row.HidesReport ? row.Entry with { Resource = row.Entry.Resource[..(before + length)] + OfReports + AuditEntry.Withheld }
                : row.Entry);
        },
        cancellation);

    private async Task<T> WriteAsync<T>(
        AuditOrigin origin,
        Func<DerividContext, CancellationToken, Task<IDbContextTransaction>> begin,
        Func<DerividContext, CancellationToken, Task<Audited<T>>> work,
        CancellationToken cancellation)
    {
        using var own = await _turns.TakeAsync(origin, cancellation);
        return await database.RunAsync(
            async (context, token) =>
            {
                using var turn = await database.Engine.TakeTurnAsync(Timeout.InfiniteTimeSpan, token);
                await using var transaction = await begin(context, token);
                context.Database.SetCommandTimeout(LongestWait);
                await ApiKeys.RefuseSpentAsync(context, origin, time.GetUtcNow().UtcDateTime, token);
                var done = await work(context, token);
                await context.SaveChangesAsync(token);
                foreach (var act in done.Acts)
                {
                    // What is saved is let go: looked through again with each entry, keys for a large class took minutes.
                    context.ChangeTracker.Clear();
                    // One statement each: within one, neither engine promises an order.
                    context.AuditEntries.Add(EntryOf(act, origin));
                    await context.SaveChangesAsync(token);
                }

                await transaction.CommitAsync(token);
                return done.Result;
            },
            cancellation);
    }

    private AuditEntry EntryOf(AuditedAct act, AuditOrigin origin) => new()
    {
        AtUtc = time.GetUtcNow().UtcDateTime,
        Actor = origin.Actor,
        Action = act.Action,
        Resource = act.Resource,
        Reason = origin.Reason,
        TableVersion = act.TableVersion,
        TraceId = origin.TraceId,
    };
}

/// <summary>What a piece of work comes to, and what the audit log is to say of it.</summary>
/// <typeparam name="T">What the work returns.</typeparam>
/// <param name="Result">What it returns.</param>
/// <param name="Acts">What it did, in order. Shape: empty when it changed nothing.</param>
public sealed record Audited<T>(T Result, params IReadOnlyList<AuditedAct> Acts);

/// <summary>One thing that was done, to be taken down.</summary>
/// <param name="Action">What; see <see cref="AuditEntry.Action"/>. No secret, no unknown's identity.</param>
/// <param name="Resource">To what; see <see cref="AuditEntry.Resource"/>. No secret, no unknown's identity.</param>
/// <param name="TableVersion">The table version it started from. Missing: null.</param>
public sealed record AuditedAct(string Action, string Resource, int? TableVersion = null);
