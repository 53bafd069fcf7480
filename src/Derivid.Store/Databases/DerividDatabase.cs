using System.Data.Common;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Databases;

/// <summary>The one way into the database: a context of its own for each piece of work, and one exception when it is lost.</summary>
/// <remarks>
/// Nobody waits for a database that answers nothing: whose work takes long has it asked whether it is there at all, and is
/// told when it is not, as is whoever comes after that, at once. Until this process has seen the database brought up to date its
/// tables may be missing, so what it refuses before that is down to that. Thread safety: safe.
/// </remarks>
/// <param name="contexts">Makes contexts.</param>
/// <param name="engine">The engine behind them.</param>
/// <param name="time">Tells a connection gone stale from a database gone.</param>
public sealed class DerividDatabase(
    IDbContextFactory<DerividContext> contexts, DatabaseEngine engine, TimeProvider time) : IDisposable
{
    // A pooled connection that the server has closed since fails at once; a server that is gone mostly takes longer.
    // Chosen: long enough for a round trip across a campus, short enough that a failure still comes within 3 s.
    private static readonly TimeSpan StaleWithin = TimeSpan.FromMilliseconds(500);

    // Chosen: hardly any work takes as long, and with the time a question may take a failure comes within 3 s.
    private static readonly TimeSpan Suspicious = TimeSpan.FromMilliseconds(500);

    private readonly DatabasePulse _pulse = new(engine, time);
    private volatile bool _isStarted;

    /// <summary>The engine in use.</summary>
    public DatabaseEngine Engine => engine;

    /// <summary>Whether it is known that the database answers nothing just now.</summary>
    public bool IsLost => _pulse.IsLost;

    /// <summary>How long ago it last did something for this process. Missing: null, it has not yet.</summary>
    public TimeSpan? SinceAnswered => _pulse.SinceDone;

    /// <summary>Runs a piece of work, once more if it failed on a connection gone stale.</summary>
    /// <param name="work">The work. It must be safe to run twice, and to be left behind, called off, by whoever waits for it.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>What the work returns.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task<T> RunAsync<T>(
        Func<DerividContext, CancellationToken, Task<T>> work, CancellationToken cancellation)
    {
        try
        {
            return await RunTwiceAsync(work, cancellation);
        }
        catch (Exception fault) when (!_isStarted && fault is not DatabaseUnavailableException && Chain(fault).Any(link => link is DbException) && !Chain(fault).Any(link => link is OutOfMemoryException))
        {
            throw new DatabaseUnavailableException(engine.Name, fault);
        }
    }

    /// <summary>Runs the work after which the database is as this build needs it.</summary>
    /// <inheritdoc cref="RunAsync"/>
    internal async Task<T> StartAsync<T>(
        Func<DerividContext, CancellationToken, Task<T>> work, CancellationToken cancellation)
    {
        var result = await RunTwiceAsync(work, cancellation);
        _isStarted = true;
        return result;
    }

    /// <inheritdoc/>
    public void Dispose() => _pulse.Dispose();

    private async Task<T> RunTwiceAsync<T>(
        Func<DerividContext, CancellationToken, Task<T>> work, CancellationToken cancellation)
    {
        var started = time.GetTimestamp();
        try
        {
            return await RunWatchedAsync(work, cancellation);
        }
        catch (DatabaseUnavailableException) when (!IsLost && time.GetElapsedTime(started) < StaleWithin)
        {
            return await RunWatchedAsync(work, cancellation);
        }
    }

    private async Task<T> RunWatchedAsync<T>(
        Func<DerividContext, CancellationToken, Task<T>> work, CancellationToken cancellation)
    {
        cancellation.ThrowIfCancellationRequested();
        if (IsLost)
        {
            throw Lost();
        }

        // Not disposed of: what is left behind still holds its token.
        var end = new CancellationTokenSource();
        await using var givenUp = cancellation.UnsafeRegister(_ => CancelAside(end), null);
        var running = RunOnceAsync(work, end.Token);
        while (true)
        {
            await ((Task)running).WaitAsync(Suspicious, time, CancellationToken.None).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            if (running.IsCompleted)
            {
                return await running;
            }

            if (!await _pulse.IsThereAsync())
            {
                CancelAside(end);
                throw Lost();
            }
        }
    }

    // PostgreSQL's provider, when it is told to cancel, asks the server to, and waits for that where it stands: on a thread
    // of its own, or a few commands under way when the server goes would take every thread there is.
    private static void CancelAside(CancellationTokenSource end) =>
        Task.Factory.StartNew(end.Cancel, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);

    private DatabaseUnavailableException Lost() => new(
        engine.Name, new TimeoutException("It answers nothing, not even a new connection."));

    private async Task<T> RunOnceAsync<T>(
        Func<DerividContext, CancellationToken, Task<T>> work, CancellationToken cancellation)
    {
        try
        {
            await using var context = await contexts.CreateDbContextAsync(cancellation);
            var result = await work(context, cancellation);
            _pulse.Note();
            return result;
        }
        catch (Exception exception) when (engine.IsDownTo(exception))
        {
            // A command called off may end as one that the server refused, or with its connection.
            cancellation.ThrowIfCancellationRequested();
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
