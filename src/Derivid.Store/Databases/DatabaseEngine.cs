using Derivid.Core.Curation;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.EntityFrameworkCore.Metadata;
using Microsoft.EntityFrameworkCore.Storage;
using Microsoft.Extensions.Logging;

namespace Derivid.Store.Databases;

/// <summary>What the two database engines do differently.</summary>
/// <remarks>One implementation an engine, each in the project of its migrations. Thread safety: immutable.</remarks>
public abstract class DatabaseEngine
{
    /// <summary>The engine's name as its makers write it.</summary>
    public abstract string Name { get; }

    /// <summary>Where the database is, for the log: its file, or server and name. Never a password.</summary>
    public abstract string Place { get; }

    /// <summary>Whether several processes may use the database at once.</summary>
    public abstract bool IsShared { get; }

    /// <summary>Asks for one number: how many tables there are that hold which migrations were run. Fails on no database, as asking for that table would.</summary>
    public abstract string HistoryQuery { get; }

    /// <summary>The model of <see cref="TableLayout.Standard"/> for this engine, generated from the mapping by the migration tool: working it out takes a start as long as the table does.</summary>
    protected abstract IModel Model { get; }

    /// <summary>Sets a context up for the engine and for the kinds of record that its table holds.</summary>
    /// <param name="options">The options to add to.</param>
    /// <param name="layout">The kinds of record.</param>
    public void Configure(DbContextOptionsBuilder options, TableLayout layout)
    {
        ArgumentNullException.ThrowIfNull(options);
        Configure(options);
        if (layout == TableLayout.Standard)
        {
            options.UseModel(Model);
        }
    }

    /// <summary>Sets a context up for the engine; its model is worked out from the mapping.</summary>
    /// <param name="options">The options to add to.</param>
    public void Configure(DbContextOptionsBuilder options)
    {
        UseProvider(options);
        options.UseSnakeCaseNamingConvention();

        // What the database refuses is thrown, and logged once by whoever answers it: in a line where the database is away,
        // with its stack where it is a fault of ours.
        options.ConfigureWarnings(events => events.Log(
            (RelationalEventId.CommandError, LogLevel.Debug),
            (RelationalEventId.ConnectionError, LogLevel.Debug),
            (RelationalEventId.TransactionError, LogLevel.Debug),
            (CoreEventId.QueryIterationFailed, LogLevel.Debug),
            (CoreEventId.SaveChangesFailed, LogLevel.Debug)));
    }

    /// <summary>Makes the database itself exist, where that is the service's to do.</summary>
    /// <param name="cancellation">Gives up early.</param>
    public abstract Task CreateAsync(CancellationToken cancellation);

    /// <summary>Begins a transaction that no other process starting on the same database is inside of.</summary>
    /// <param name="context">A context without a transaction.</param>
    /// <param name="longestWait">How long to wait for the others.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The transaction; its end lets the next one in.</returns>
    public abstract Task<IDbContextTransaction> BeginAloneAsync(
        DerividContext context, TimeSpan longestWait, CancellationToken cancellation);

    /// <summary>Waits for the turn to write, first come first served, where the engine lets only one write at a time.</summary>
    /// <param name="longestWait">How long to wait at most; or <see cref="Timeout.InfiniteTimeSpan"/>.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Ends the turn. Missing: null, the engine itself lines writers up.</returns>
    /// <exception cref="Exception">The turn did not come; <see cref="MeansUnavailable"/> says so of it.</exception>
    public virtual Task<IDisposable?> TakeTurnAsync(TimeSpan longestWait, CancellationToken cancellation) => Task.FromResult<IDisposable?>(null);

    /// <summary>Asks the database whether it is there, within 2 s.</summary>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Whether it answered, be it with a refusal.</returns>
    public abstract Task<bool> AnswersAsync(CancellationToken cancellation);

    /// <summary>Says whether work failed because the database can't be used just now.</summary>
    /// <remarks>Want of memory is this process's own, whatever failed for it: a provider that ran out of it may well say that the connection broke.</remarks>
    /// <param name="exception">What the work ended with.</param>
    public bool IsDownTo(Exception exception)
    {
        ArgumentNullException.ThrowIfNull(exception);
        var isUnavailable = false;
        for (Exception? link = exception; link is not null; link = link.InnerException)
        {
            if (link is OutOfMemoryException)
            {
                return false;
            }

            isUnavailable |= MeansUnavailable(link);
        }

        return isUnavailable;
    }

    /// <summary>Says whether an exception of this engine's provider means that the database can't be used just now.</summary>
    /// <param name="exception">The exception itself; the caller walks the inner ones.</param>
    public abstract bool MeansUnavailable(Exception exception);

    /// <summary>Tells every process that listens of a new version of the table, once the transaction is committed.</summary>
    /// <param name="context">A context with a transaction open.</param>
    /// <param name="cancellation">Gives up early.</param>
    public abstract Task AnnounceReleaseAsync(DerividContext context, CancellationToken cancellation);

    /// <summary>Listens for versions of the table that other processes release.</summary>
    /// <param name="heard">Called once listening has begun, and at each release.</param>
    /// <param name="cancellation">Stops listening.</param>
    /// <returns>
    /// Ends by an exception when the connection is lost, and at once where no other process can release anything.
    /// </returns>
    public abstract Task ListenAsync(Action heard, CancellationToken cancellation);

    /// <summary>Chooses provider, connection and migrations.</summary>
    /// <param name="options">The options to add to.</param>
    protected abstract void UseProvider(DbContextOptionsBuilder options);
}
