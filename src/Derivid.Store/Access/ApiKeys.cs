using Derivid.Core.Teaching;
using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Access;

/// <summary>Keeps the keys given out and finds them again.</summary>
/// <param name="database">Where they are kept.</param>
/// <param name="audit">Takes down who made and revoked them.</param>
/// <param name="writes">Makes each request that carries a key count once.</param>
/// <param name="time">The clock.</param>
public sealed class ApiKeys(DerividDatabase database, AuditTrail audit, IdempotentWrites writes, TimeProvider time)
{
    /// <summary>Finds one, usable or not, as it stands in the database this moment.</summary>
    /// <param name="id">Its public part.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The key. Missing: null, no such key.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<ApiKey?> FindAsync(string id, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.ApiKeys.AsNoTracking().FirstOrDefaultAsync(key => key.Id == id, token),
        cancellation);

    /// <summary>Finds many in one question, usable or not.</summary>
    /// <param name="ids">Their public parts.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: the keys there are, by public part.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<Dictionary<string, ApiKey>> FindAsync(IReadOnlyCollection<string> ids, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.ApiKeys.AsNoTracking().Where(key => ids.Contains(key.Id)).ToDictionaryAsync(key => key.Id, token),
        cancellation);

    /// <summary>Lists keys, oldest first.</summary>
    /// <param name="filter">Which.</param>
    /// <param name="beyond">The place to go on after. Missing: null, from the start.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<ApiKey>> ListAsync(
        ApiKeyFilter filter, ApiKeyPlace? beyond, int most, CancellationToken cancellation)
    {
        var now = time.GetUtcNow().UtcDateTime;
        var (instant, id) = beyond ?? ApiKeyPlace.Start;
        return database.RunAsync(
            (context, token) => context.ApiKeys.AsNoTracking()
                .Where(key => key.CreatedAtUtc > instant || (key.CreatedAtUtc == instant && string.Compare(key.Id, id) > 0))
                .Where(key => filter.Role == null || key.Role == filter.Role)
                .Where(key => filter.WithStudents || key.Role != Role.Student)
                .Where(key => filter.IsUsable == null
                    || filter.IsUsable == (key.RevokedAtUtc == null
                        && (key.ExpiresAtUtc == null || key.ExpiresAtUtc > now)))
                .OrderBy(key => key.CreatedAtUtc).ThenBy(key => key.Id).Take(most).ToListAsync(token),
            cancellation);
    }

    /// <summary>Keeps a new key.</summary>
    /// <param name="key">The key.</param>
    /// <param name="request">Makes the request count once. Missing: null.</param>
    /// <param name="origin">Who made it, and why.</param>
    /// <param name="cancellation">Gives up early, keeping nothing.</param>
    /// <returns>The key; of one made before, nobody knows the secret any more but who was told it then.</returns>
    /// <exception cref="IdempotencyKeyReusedException">The idempotency key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was kept.</exception>
    public Task<Created<ApiKey>> AddAsync(
        ApiKey key, IdempotencyKey? request, AuditOrigin origin, CancellationToken cancellation) => writes.RunAsync(
        request,
        origin,
        async (context, token) =>
        {
            // Held, so that whoever revokes the maker's key finds in the list what it made, and it makes none afterwards.
            await HoldAsync(context, origin, null, token);
            context.ApiKeys.Add(key);
            return new Creation<ApiKey>(key, key.Id, Created(key));
        },
        (context, id, token) => context.ApiKeys.AsNoTracking().FirstAsync(known => known.Id == id, token),
        cancellation);

    /// <summary>Keeps a key that comes from the service itself, unless there is one already.</summary>
    /// <param name="key">The key.</param>
    /// <param name="onlyFirst">Whether any key at all stands in its way, or only one of the same public part.</param>
    /// <param name="cancellation">Gives up early, keeping nothing.</param>
    /// <returns>Whether it was kept. Of several processes that ask at once, one is told so.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was kept.</exception>
    public Task<bool> AddOwnAsync(ApiKey key, bool onlyFirst, CancellationToken cancellation) => audit.WriteAloneAsync(
        AuditOrigin.Service,
        async (context, token) =>
        {
            if (await context.ApiKeys.AnyAsync(known => onlyFirst || known.Id == key.Id, token))
            {
                return new Audited<bool>(false);
            }

            context.ApiKeys.Add(key);
            return new Audited<bool>(true, Created(key));
        },
        cancellation);

    /// <summary>Revokes a key, for good and for every process from the next request on.</summary>
    /// <remarks>Of two who revoke each other's at once one is first, and the other's opens nothing any more: a key is always left.</remarks>
    /// <param name="id">Its public part.</param>
    /// <param name="origin">Who revokes it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <returns>Whether there is such a key; one already revoked stays as it is.</returns>
    /// <exception cref="KeySpentException">The key that revokes it was revoked or has expired itself; nothing was changed.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<bool> RevokeAsync(string id, AuditOrigin origin, CancellationToken cancellation) => audit.WriteAsync(
        origin,
        async (context, token) =>
        {
            var now = time.GetUtcNow().UtcDateTime;
            await HoldAsync(context, origin, id, token);
            var revoked = await context.ApiKeys.Where(key => key.Id == id && key.RevokedAtUtc == null)
                .ExecuteUpdateAsync(key => key.SetProperty(row => row.RevokedAtUtc, now), token);
            return revoked > 0
                ? new Audited<bool>(true, Revoked(id))
                : new Audited<bool>(await context.ApiKeys.AnyAsync(key => key.Id == id, token));
        },
        cancellation);

    /// <summary>Notes the day a key was used, once a day.</summary>
    /// <param name="key">The key as it was found.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task NoteUseAsync(ApiKey key, CancellationToken cancellation)
    {
        var today = DateOnly.FromDateTime(time.GetUtcNow().UtcDateTime);
        if (key.LastUsedOn >= today)
        {
            return;
        }

        await database.RunAsync(
            (context, token) => context.ApiKeys
                .Where(row => row.Id == key.Id && (row.LastUsedOn == null || row.LastUsedOn < today))
                .ExecuteUpdateAsync(row => row.SetProperty(used => used.LastUsedOn, today), token),
            cancellation);
    }

    /// <summary>Refuses what is asked for with a key that is no good any more.</summary>
    /// <param name="context">The transaction it is asked for in.</param>
    /// <param name="origin">Who asks.</param>
    /// <param name="now">The instant. Units: UTC.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="KeySpentException">It was revoked or has expired.</exception>
    internal static async Task RefuseSpentAsync(DerividContext context, AuditOrigin origin, DateTime now, CancellationToken cancellation)
    {
        if (ActorName.KeyIdOf(origin.Actor) is { } id
            && await context.ApiKeys.AnyAsync(key => key.Id == id && (key.RevokedAtUtc != null || key.ExpiresAtUtc <= now), cancellation))
        {
            throw new KeySpentException();
        }
    }

    internal static AuditedAct Created(ApiKey key) => new("key.create", Resource(key.Id));

    internal static AuditedAct Revoked(string id) => new("key.revoke", Resource(id));

    /// <summary>Keeps everybody else from revoking the key of whoever asks, and another, until this transaction ends.</summary>
    private async Task HoldAsync(DerividContext context, AuditOrigin origin, string? other, CancellationToken cancellation)
    {
        // In one order everywhere: two who wait for each other would wait until the database gives one of them up.
        foreach (var held in new[] { ActorName.KeyIdOf(origin.Actor), other }.OfType<string>().Order(StringComparer.Ordinal))
        {
            // Writing what is there already locks a row on both engines, whatever their isolation.
            await context.ApiKeys.Where(key => key.Id == held)
                .ExecuteUpdateAsync(key => key.SetProperty(row => row.RevokedAtUtc, row => row.RevokedAtUtc), cancellation);
        }

        await RefuseSpentAsync(context, origin, time.GetUtcNow().UtcDateTime, cancellation);
    }

    private static string Resource(string id) => "keys/" + id;
}

/// <summary>The key that asks was good when the request began, and was revoked or has expired since.</summary>
public sealed class KeySpentException() : Exception("The key was revoked or has expired since the request began; nothing was changed.");
