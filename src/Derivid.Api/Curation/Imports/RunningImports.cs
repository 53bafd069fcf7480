using System.Collections.Concurrent;
using System.Diagnostics;
using System.Threading.Channels;
using Derivid.Api.Operating;
using Derivid.Core.Curation;
using Derivid.Store.Auditing;
using Derivid.Store.Curation;
using Derivid.Store.Databases;

namespace Derivid.Api.Curation.Imports;

/// <summary>Runs the imports sent to this process, one after another, and says that they live.</summary>
/// <param name="imports">Runs one.</param>
/// <param name="jobs">Where imports are kept.</param>
/// <param name="meter">Counts those that ended.</param>
/// <param name="time">The clock to wait by.</param>
/// <param name="log">Takes what went wrong.</param>
public sealed partial class RunningImports(
    Store.Curation.Imports imports, ImportJobs jobs, ServiceMeter meter, TimeProvider time, ILogger<RunningImports> log) : BackgroundService
{
    /// <summary>How many may wait.</summary>
    public const int MostWaiting = 8;

    private static readonly TimeSpan Pulse = TimeSpan.FromSeconds(1);

    private readonly Channel<WaitingImport> _waiting = Channel.CreateBounded<WaitingImport>(MostWaiting);
    private readonly ConcurrentDictionary<string, WaitingImport> _live = new(StringComparer.Ordinal);

    // Those that broke off here without a database, counted then, and told interrupted by whoever finds them silent.
    private readonly ConcurrentDictionary<string, bool> _brokenOff = new(StringComparer.Ordinal);

    private volatile bool _isRunning;

    /// <summary>How many are worked on.</summary>
    public int Active => _isRunning ? 1 : 0;

    /// <summary>How many wait.</summary>
    public int Waiting => int.Max(0, _live.Count - Active);

    /// <summary>Whether one more may be sent just now.</summary>
    public bool HasRoom => _live.Count < MostWaiting;

    /// <summary>Takes an import.</summary>
    /// <param name="job">The import, as kept.</param>
    /// <param name="sent">What was sent; the queue disposes of it.</param>
    /// <param name="origin">Who sent it.</param>
    public async Task AddAsync(ImportJob job, SentLists sent, AuditOrigin origin)
    {
        ArgumentNullException.ThrowIfNull(job);
        var import = new WaitingImport(job, sent, origin, Activity.Current?.Context ?? default);
        _live[job.Id] = import;
        await _waiting.Writer.WriteAsync(import);
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        jobs.FoundLost += CountLost;
        try
        {
            await Task.WhenAll(WorkAsync(stoppingToken), BeatAsync(stoppingToken));
        }
        finally
        {
            jobs.FoundLost -= CountLost;
        }
    }

    private void CountLost(object? sender, ImportJob job)
    {
        if (!_brokenOff.TryRemove(job.Id, out _))
        {
            meter.ImportLost(job.IsDryRun);
        }
    }

    private async Task WorkAsync(CancellationToken stoppingToken)
    {
        await foreach (var import in _waiting.Reader.ReadAllAsync(stoppingToken))
        {
            using (import)
            {
                await RunAsync(import, stoppingToken);
                _live.TryRemove(import.Job.Id, out _);
            }
        }
    }

    private async Task RunAsync(WaitingImport import, CancellationToken stoppingToken)
    {
        using var span = ServiceTrace.Begin("import", import.Within);
        var (began, state) = (time.GetTimestamp(), ImportState.Interrupted);
        _isRunning = true;
        try
        {
            // Off the request's threads: reading and checking keep a core busy.
            state = await Task.Run(
                () => imports.RunAsync(import.Job, import.Sent.Rows(), import.Progress, import.Origin, import.CalledOff, stoppingToken), CancellationToken.None);
        }
        catch (DatabaseUnavailableException fault)
        {
            // Without signs of life it is told interrupted; nothing of it was taken.
            _brokenOff[import.Job.Id] = true;
            DatabaseAway(log, import.Job.Id, fault.GetBaseException().Message);
        }
        catch (Exception fault) when (!stoppingToken.IsCancellationRequested)
        {
            Lost(log, import.Job.Id, fault);
        }
        finally
        {
            _isRunning = false;
            meter.Imported(state, import.Job.IsDryRun, time.GetElapsedTime(began), span);
        }
    }

    private async Task BeatAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Pulse, time);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            foreach (var import in _live.Values)
            {
                await BeatAsync(import, stoppingToken);
            }
        }
    }

    private async Task BeatAsync(WaitingImport import, CancellationToken stoppingToken)
    {
        try
        {
            if (!await jobs.SeenAsync(import.Job.Id, import.Progress, stoppingToken))
            {
                import.CallOff();
            }
        }
        catch (DatabaseUnavailableException)
        {
            // The next beat may get through.
        }
        catch (ObjectDisposedException)
        {
            // It ended between the two lines.
        }
    }

    [LoggerMessage(LogLevel.Warning, "The database was away and the import {Id} broke off; nothing of it was taken: {Reason}")]
    private static partial void DatabaseAway(ILogger log, string id, string reason);

    [LoggerMessage(LogLevel.Error, "The import {Id} broke off; nothing of it was taken.")]
    private static partial void Lost(ILogger log, string id, Exception fault);
}

/// <summary>An import this process is to run, or runs.</summary>
/// <param name="Job">The import.</param>
/// <param name="Sent">What was sent.</param>
/// <param name="Origin">Who sent it.</param>
/// <param name="Within">The span of the request that sent it.</param>
internal sealed record WaitingImport(ImportJob Job, SentLists Sent, AuditOrigin Origin, ActivityContext Within) : IDisposable
{
    private readonly CancellationTokenSource _called = new();

    /// <summary>How far it has come.</summary>
    public ImportProgress Progress { get; } = new();

    /// <summary>Whether it was called off.</summary>
    public CancellationToken CalledOff => _called.Token;

    /// <summary>Calls it off.</summary>
    public void CallOff() => _called.Cancel();

    /// <inheritdoc/>
    public void Dispose()
    {
        Sent.Dispose();
        _called.Dispose();
    }
}
