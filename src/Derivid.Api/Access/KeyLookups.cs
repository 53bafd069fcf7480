using System.Collections.Concurrent;
using System.Threading.RateLimiting;
using Derivid.Store.Access;
using Derivid.Store.Databases;

namespace Derivid.Api.Access;

/// <summary>Looks keys up in the database, made-up ones by the hundred.</summary>
/// <remarks>
/// A key that opened something before is looked up by itself, at once, and never from memory. One that is looked up already is looked up once
/// more after that, for all who sent it meanwhile: so a revocation holds from the next request on, and whoever sends a key a hundred times
/// at once takes one connection of the database. Keys that this process has not met, made
/// up or new, are looked up together: at once while there are few, then ten times a second all that came meanwhile. So whoever
/// tries keys costs the database ten questions a second, however many they send and from wherever, and the first use of a
/// new key hardly waits. Thread safety: safe.
/// </remarks>
/// <param name="keys">The keys given out.</param>
/// <param name="database">Tells whether it is known to answer nothing.</param>
public sealed class KeyLookups(ApiKeys keys, DerividDatabase database) : IDisposable
{
    /// <summary>Questions to the database about keys not met, before they come one a <see cref="Pause"/>. Chosen.</summary>
    public const int AtOnce = 10;

    /// <summary>Between questions about keys not met, once there are many. Chosen: nobody notices it at a first sign-in.</summary>
    public static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(100);

    // By secret and not by public part, which others may know.
    private readonly ConcurrentDictionary<string, bool> _met = new(StringComparer.Ordinal);
    private readonly Lock _gate = new();
    private readonly TokenBucketRateLimiter _questions = new(new TokenBucketRateLimiterOptions
    {
        TokenLimit = AtOnce,
        TokensPerPeriod = 1,
        ReplenishmentPeriod = Pause,
        QueueLimit = 1,
    });

    private readonly Dictionary<string, Line> _lines = new(StringComparer.Ordinal);
    private HashSet<string> _asked = [];
    private Task<Dictionary<string, ApiKey>>? _next;

    /// <summary>Finds a key, usable or not, as it stands in the database this moment.</summary>
    /// <param name="sent">The key as sent.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>Missing: null, no key has its public part.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be asked just now.</exception>
    public async Task<ApiKey?> FindAsync(KeyText sent, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(sent);

        // Where the answer is known already nobody waits for others to ask with.
        return database.IsLost ? await keys.FindAsync(sent.Id, cancellationToken)
            : HasMet(sent) ? await InLineAsync(sent.Id).WaitAsync(cancellationToken)
            : (await TogetherAsync(sent.Id).WaitAsync(cancellationToken)).GetValueOrDefault(sent.Id);
    }

    /// <summary>Whether a key opened something in this process before, and nothing against it was heard since.</summary>
    /// <param name="sent">The key as sent.</param>
    public bool HasMet(KeyText sent) => _met.ContainsKey(Name(sent));

    /// <summary>Takes down what came of a key.</summary>
    /// <param name="sent">The key as sent.</param>
    /// <param name="opens">Whether it opens anything.</param>
    public void Note(KeyText sent, bool opens)
    {
        ArgumentNullException.ThrowIfNull(sent);
        if (opens)
        {
            _met.TryAdd(Name(sent), true);
        }
        else
        {
            _met.TryRemove(Name(sent), out _);
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _questions.Dispose();

    private static string Name(KeyText sent) => Convert.ToHexStringLower(sent.SecretHash());

    private Task<ApiKey?> InLineAsync(string id)
    {
        lock (_gate)
        {
            if (_lines.TryGetValue(id, out var line))
            {
                var current = line.Current;
                return line.Next ??= Task.Run(() => FindAsync(id, line, current));
            }

            line = new Line();
            _lines.Add(id, line);
            return line.Current = Task.Run(() => FindAsync(id, line, null));
        }
    }

    private async Task<ApiKey?> FindAsync(string id, Line line, Task? before)
    {
        if (before is not null)
        {
            await before.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }

        try
        {
            return await keys.FindAsync(id, CancellationToken.None);
        }
        finally
        {
            lock (_gate)
            {
                (line.Current, line.Next) = (line.Next, null);
                if (line.Current is null)
                {
                    _lines.Remove(id);
                }
            }
        }
    }

    private Task<Dictionary<string, ApiKey>> TogetherAsync(string id)
    {
        lock (_gate)
        {
            _asked.Add(id);
            return _next ??= Task.Run(AskAsync);
        }
    }

    private async Task<Dictionary<string, ApiKey>> AskAsync()
    {
        using var question = await _questions.AcquireAsync();
        HashSet<string> asked;
        lock (_gate)
        {
            (asked, _asked, _next) = (_asked, [], null);
        }

        return await keys.FindAsync(asked, CancellationToken.None);
    }

    // A lookup under way, and the one that begins when it ends. Of both, whoever waits for it came before it began.
    private sealed class Line
    {
        public Task<ApiKey?>? Current { get; set; }

        public Task<ApiKey?>? Next { get; set; }
    }
}
