using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Databases;

/// <summary>The one way into the database: a context of its own for each piece of work, and one exception when it is lost.</summary>
/// <param name="contexts">Makes contexts.</param>
/// <param name="engine">The engine behind them.</param>
/// <param name="time">Tells a connection gone stale from a database gone.</param>
/// <remarks>Thread safety: safe.</remarks>
public sealed class DerividDatabase(
    IDbContextFactory<DerividContext> contexts, DatabaseEngine engine, TimeProvider time)
{
    // A pooled connection that the server has closed since fails at once; a server that is gone mostly takes longer.
    // Chosen: long enough for a round trip across a campus, short enough that a failure still comes within 3 s.
    private static readonly TimeSpan StaleWithin = TimeSpan.FromMilliseconds(500);

    /// <summary>The engine in use.</summary>
    public DatabaseEngine Engine => engine;

    /// <summary>Runs a piece of work, once more if it failed on a connection gone stale.</summary>
    /// <param name="work">The work. It must be safe to run twice.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>What the work returns.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task<T> RunAsync<T>(
        Func<DerividContext, CancellationToken, Task<T>> work, CancellationToken cancellation)
    {
        var started = time.GetTimestamp();
        try
        {
            return await RunOnceAsync(work, cancellation);
        }
        catch (DatabaseUnavailableException) when (time.GetElapsedTime(started) < StaleWithin)
        {
            return await RunOnceAsync(work, cancellation);
        }
    }

    private async Task<T> RunOnceAsync<T>(
        Func<DerividContext, CancellationToken, Task<T>> work, CancellationToken cancellation)
    {
        try
        {
            await using var context = await contexts.CreateDbContextAsync(cancellation);
            return await work(context, cancellation);
        }
        catch (Exception exception) when (Chain(exception).Any(engine.MeansUnavailable))
        {
            throw new DatabaseUnavailableException(engine.Name, exception);
        }
    }

    private static IEnumerable<Exception> Chain(Exception exception)
    {
        for (Exception? link = exception; link is not null; link = link.InnerException)
        {
            yield return link;
        }
    }
}

/// <summary>The database can't be reached or used just now; the same call may succeed later.</summary>
/// <remarks>Whatever was being stored is stored whole or not at all, and storing it again is safe.</remarks>
public sealed class DatabaseUnavailableException : Exception
{
    /// <summary>When to try again, as a hint to callers. Units: s.</summary>
    public const int RetryAfterSeconds = 5;

    /// <summary>Takes the provider's exception.</summary>
    /// <param name="engine">The engine's name.</param>
    /// <param name="cause">What the provider said.</param>
    public DatabaseUnavailableException(string engine, Exception cause)
        : base($"The {engine} database can't be used just now.", cause)
    {
    }
}
