using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Idempotency;

/// <summary>Creates things at most once for each key, however often and however concurrently it is sent.</summary>
/// <remarks>The thing, the key and the audit entry are one transaction. Thread safety: safe.</remarks>
/// <param name="database">Where requests and what they made are kept.</param>
/// <param name="audit">Takes the creations down.</param>
/// <param name="time">Dates the keys.</param>
public sealed class IdempotentWrites(DerividDatabase database, AuditTrail audit, TimeProvider time)
{
    // Each round of a race has a winner, and those of one student or one key are few.
    private const int MostAttempts = 5;

    /// <summary>Creates something, or finds what the same request created before.</summary>
    /// <typeparam name="T">What is created.</typeparam>
    /// <param name="key">Makes the request count once. Missing: null, it is carried out each time.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="create">Adds the thing to the context; must be safe to run twice, the first time rolled back.</param>
    /// <param name="find">Finds the thing again by the id <paramref name="create"/> gave.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public async Task<Created<T>> RunAsync<T>(
        IdempotencyKey? key,
        AuditOrigin origin,
        Func<DerividContext, CancellationToken, Task<Creation<T>>> create,
        Func<DerividContext, string, CancellationToken, Task<T>> find,
        CancellationToken cancellation)
    {
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                return await TryAsync(key, origin, create, find, cancellation);
            }
            catch (DbUpdateException fault) when (fault is not DbUpdateConcurrencyException && attempt < MostAttempts)
            {
                // Several at once wanted the same number or had the same key: the next try sees what the first one did.
            }
            catch (CourseRuleException) when (key is not null && attempt == 1)
            {
                // Its twin may have been first while this one waited for the course; if not, the rule is broken again.
            }
        }
    }

    /// <summary>Finds what an earlier request of the same key made, before anything else about this one is judged.</summary>
    /// <remarks>What was right when it was first sent may be refused now; sent again it is still answered as it was.</remarks>
    /// <typeparam name="T">What is created.</typeparam>
    /// <param name="key">The request's key. Missing: null, it was never sent before.</param>
    /// <param name="find">Finds the thing by its id.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The thing. Missing: null, the key is new.</returns>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task<T?> FindAsync<T>(
        IdempotencyKey? key, Func<DerividContext, string, CancellationToken, Task<T>> find, CancellationToken cancellation)
        where T : class =>
        key is null
            ? null
            : await database.RunAsync(
                async (context, token) => await BeforeAsync(context, key, token) is { } before
                    ? await find(context, before.Resource, token)
                    : null,
                cancellation);

    private Task<Created<T>> TryAsync<T>(
        IdempotencyKey? key,
        AuditOrigin origin,
        Func<DerividContext, CancellationToken, Task<Creation<T>>> create,
        Func<DerividContext, string, CancellationToken, Task<T>> find,
        CancellationToken cancellation) =>
        audit.WriteAsync(
            origin,
            async (context, token) =>
            {
                if (key is not null && await BeforeAsync(context, key, token) is { } before)
                {
                    return new Audited<Created<T>>(new Created<T>(await find(context, before.Resource, token), false));
                }

                var creation = await create(context, token);
                if (key is not null)
                {
                    context.Add(new IdempotentRequest(
                        key.Actor, key.Key, key.RequestHash, creation.Id, time.GetUtcNow().UtcDateTime));
                }

                return new Audited<Created<T>>(new Created<T>(creation.Value, true), creation.Acts);
            },
            cancellation);

    private static async Task<IdempotentRequest?> BeforeAsync(
        DerividContext context, IdempotencyKey key, CancellationToken cancellation)
    {
        var before = await context.IdempotentRequests.AsNoTracking()
            .FirstOrDefaultAsync(row => row.Actor == key.Actor && row.Key == key.Key, cancellation);
        return before is null || before.RequestHash == key.RequestHash
            ? before
            : throw new IdempotencyKeyReusedException(key.Key);
    }
}

/// <summary>What a creation came to.</summary>
/// <typeparam name="T">What is created.</typeparam>
/// <param name="Value">The thing.</param>
/// <param name="IsNew">Whether it was created now; else an earlier request of the same key had created it.</param>
public sealed record Created<T>(T Value, bool IsNew);

/// <summary>Something created, its id and what the audit log is to say.</summary>
/// <typeparam name="T">What is created.</typeparam>
/// <param name="Value">The thing.</param>
/// <param name="Id">Finds it again.</param>
/// <param name="Acts">For the audit log.</param>
public sealed record Creation<T>(T Value, string Id, params IReadOnlyList<AuditedAct> Acts);

/// <summary>The sender used one word for two different requests; nothing was changed.</summary>
public sealed class IdempotencyKeyReusedException : Exception
{
    /// <summary>Names the word.</summary>
    /// <param name="key">The sender's word.</param>
    public IdempotencyKeyReusedException(string key)
        : base($"The key '{key}' was sent before with another address or body.") => Key = key;

    /// <summary>The sender's word.</summary>
    public string Key { get; }
}

/// <summary>A request with a key that was carried out, and what came of it.</summary>
/// <param name="Actor">Who sent it.</param>
/// <param name="Key">The sender's own word for it.</param>
/// <param name="RequestHash">Hash of address and body.</param>
/// <param name="Resource">Id of what it created.</param>
/// <param name="AtUtc">When. Units: UTC.</param>
public sealed record IdempotentRequest(string Actor, string Key, string RequestHash, string Resource, DateTime AtUtc);

/// <summary>Names a request that may be sent again and must then change nothing.</summary>
/// <param name="Actor">Who sends it, as the audit log names them.</param>
/// <param name="Key">The sender's own word for it.</param>
/// <param name="RequestHash">Hash of address and body, so that one word is not used for two things.</param>
public sealed record IdempotencyKey(string Actor, string Key, string RequestHash);
