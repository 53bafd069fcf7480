using System.Threading.Channels;
using Derivid.Api.Access;
using Derivid.Api.Operating;
using Derivid.Store;
using Derivid.Store.Databases;
using Derivid.Store.Seeding;

namespace Derivid.Api.Table;

/// <summary>
/// Brings the database up to date at the start, or waits until that is done, then keeps looking for newer versions of the
/// table.
/// </summary>
/// <remarks>
/// Looks at once when another process announces a release, and from time to time in any case: announcements may get lost.
/// </remarks>
/// <param name="start">Migrates and seeds, or looks whether that is done.</param>
/// <param name="seed">The seed tables.</param>
/// <param name="firstKey">The administrator key a service begins with.</param>
/// <param name="tables">Takes the versions found.</param>
/// <param name="settings">How often to look.</param>
/// <param name="engine">The database, to say who may share it.</param>
/// <param name="outages">Takes that it can't be used.</param>
/// <param name="lifetime">Ends the process where waiting doesn't help.</param>
/// <param name="time">The clock to wait by.</param>
/// <param name="log">Takes what happened.</param>
public sealed partial class TableWatch(
    DatabaseStart start, SeedTable seed, FirstKey firstKey, TableSnapshots tables, TableWatchSettings settings,
    DatabaseEngine engine, OutageLog outages, IHostApplicationLifetime lifetime, TimeProvider time, ILogger<TableWatch> log)
    : BackgroundService
{
    private readonly Channel<bool> _wakes = Channel.CreateBounded<bool>(
        new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });

    private readonly EachMinute _behind = new(time);
    private readonly EachMinute _broken = new(time);
    private volatile bool _isDatabaseReachable;

    /// <summary>Whether the database answered at the last look.</summary>
    public bool IsDatabaseReachable => _isDatabaseReachable;

    /// <summary>Has it look at once.</summary>
    public void Wake() => _wakes.Writer.TryWrite(true);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var isStarted = false;
        while (true)
        {
            isStarted = await LookAsync(isStarted, stoppingToken);
            await WaitAsync(stoppingToken);
        }
    }

    private async Task WaitAsync(CancellationToken stoppingToken)
    {
        using var either = CancellationTokenSource.CreateLinkedTokenSource(stoppingToken);
        await Task.WhenAny(
            Task.Delay(settings.Interval, time, either.Token), _wakes.Reader.ReadAsync(either.Token).AsTask());
        await either.CancelAsync();
        stoppingToken.ThrowIfCancellationRequested();
    }

    private async Task<bool> LookAsync(bool isStarted, CancellationToken cancellationToken)
    {
        var asked = time.GetTimestamp();
        try
        {
            if (!isStarted)
            {
                await PrepareAsync(cancellationToken);
            }

            var before = tables.Current;
            await tables.RefreshAsync(cancellationToken);
            if (tables.Current is { } current && current != before)
            {
                Loaded(log, current.Table.Version, current.Table.Parents.Count, current.Table.Derivatives.Count);
            }

            _isDatabaseReachable = true;
            outages.NoteAnswer(asked);
            return true;
        }
        catch (DatabaseBehindException fault)
        {
            tables.HeldUpBy = fault.Message;
            if (_behind.Due() is not null)
            {
                Behind(log, fault.Message);
            }

            return isStarted;
        }
        catch (DatabaseNewerException fault)
        {
            Refused(log, fault.Message);
            Environment.ExitCode = 1;
            lifetime.StopApplication();
            return isStarted;
        }
        catch (DatabaseUnavailableException fault)
        {
            // Who asks learns no path and no server's name.
            (_isDatabaseReachable, tables.HeldUpBy) = (false, "The service waits for its database, which it can't use as it is; its log says why.");
            outages.Note(fault.InnerException?.Message ?? fault.Message);
            return isStarted;
        }
        catch (Exception fault) when (tables.Current is not null && fault is not OperationCanceledException)
        {
            // A broken release must not take down what answers well.
            if (_broken.Due() is { } count)
            {
                Broken(log, count, fault);
            }

            return isStarted;
        }
    }

    private async Task PrepareAsync(CancellationToken cancellationToken)
    {
        var report = settings.Migrates
            ? await start.RunAsync(seed, cancellationToken)
            : await start.CheckAsync(seed, cancellationToken);
        await firstKey.MakeAsync(cancellationToken);
        Started(log, report.MigrationsApplied, report.Seeded);
        if (!engine.IsShared)
        {
            OneProcess(log, engine.Name);
        }

        if (report.SeedDiffers)
        {
            SeedDiffers(log);
        }
    }

    [LoggerMessage(LogLevel.Information, "Database up to date; {Migrations} migrations run, seeded now: {Seeded}.")]
    private static partial void Started(ILogger log, int migrations, bool seeded);

    [LoggerMessage(LogLevel.Information,
        "{Engine} serves this one process only; for several, set ConnectionStrings:Derivid to a PostgreSQL database.")]
    private static partial void OneProcess(ILogger log, string engine);

    [LoggerMessage(LogLevel.Warning,
        "The seed tables of this build differ from those the database began with; the released versions stand.")]
    private static partial void SeedDiffers(ILogger log);

    [LoggerMessage(LogLevel.Information, "Table version {Version} loaded: {Parents} parents, {Derivatives} derivatives.")]
    private static partial void Loaded(ILogger log, int version, int parents, int derivatives);

    [LoggerMessage(LogLevel.Warning, "Not ready: {Reason}")]
    private static partial void Behind(ILogger log, string reason);

    [LoggerMessage(LogLevel.Critical, "Not started: {Reason}")]
    private static partial void Refused(ILogger log, string reason);

    [LoggerMessage(LogLevel.Error, "A newer table version could not be loaded; the one held stays (times since this was last said: {Count}).")]
    private static partial void Broken(ILogger log, int count, Exception fault);
}

/// <summary>How a process finds its database at the start, and learns of versions of the table that another one releases.</summary>
/// <param name="Migrates">Whether it brings the database up to date itself; else it waits until that is done.</param>
/// <param name="Interval">How often it looks when it hears nothing.</param>
/// <param name="Listens">Whether it listens for announcements.</param>
public sealed record TableWatchSettings(bool Migrates, TimeSpan Interval, bool Listens)
{
    private const double ShortestSeconds = 0.1;
    private const double LongestSeconds = 3600;
    private const double DefaultSeconds = 5;

    /// <summary>
    /// Reads the settings <c>Database:MigrateAtStart</c> (default true), <c>Table:PollSeconds</c> (0.1 to 3600; default 5)
    /// and <c>Table:Listens</c> (default true).
    /// </summary>
    /// <param name="settings">All settings.</param>
    /// <exception cref="SettingException">A setting can't be read or is out of bounds.</exception>
    public static TableWatchSettings Read(IConfiguration settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        var seconds = settings.GetValue("Table:PollSeconds", DefaultSeconds);
        return seconds is >= ShortestSeconds and <= LongestSeconds
            ? new TableWatchSettings(
                settings.GetValue("Database:MigrateAtStart", true),
                TimeSpan.FromSeconds(seconds),
                settings.GetValue("Table:Listens", true))
            : throw new SettingException(
                $"Table:PollSeconds is {settings["Table:PollSeconds"]}; {ShortestSeconds} to {LongestSeconds} s are allowed.");
    }
}

/// <summary>Listens for versions of the table that other processes release, and wakes the watch.</summary>
/// <param name="engine">The database.</param>
/// <param name="watch">Looks for newer versions.</param>
/// <param name="settings">Whether to listen at all.</param>
/// <param name="outages">Takes that it can't be heard.</param>
/// <param name="time">The clock to wait by.</param>
public sealed class ReleaseListener(
    DatabaseEngine engine, TableWatch watch, TableWatchSettings settings, OutageLog outages, TimeProvider time)
    : BackgroundService
{
    // Meanwhile the watch looks by itself.
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(5);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (settings.Listens && engine.IsShared)
        {
            try
            {
                await engine.ListenAsync(watch.Wake, stoppingToken);
            }
            catch (Exception fault) when (engine.MeansUnavailable(fault) || fault is IOException)
            {
                outages.Note($"announcements of new table versions are not heard, {fault.Message}");
            }

            await Task.Delay(Pause, time, stoppingToken);
        }
    }
}
