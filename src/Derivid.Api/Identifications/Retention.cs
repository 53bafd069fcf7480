using System.Globalization;
using Derivid.Api.Table;
using Derivid.Store;
using Derivid.Store.Databases;
using Derivid.Store.Identifications;

namespace Derivid.Api.Identifications;

/// <summary>How long identifications are kept: the setting <c>Identifications:KeepDays</c>.</summary>
/// <remarks>
/// For ever unless set: an id stands in somebody's notebook, and an update of the service should not take away what it
/// leads to. Nothing else refers to a stored identification; courses keep the readings of their reports themselves.
/// </remarks>
/// <param name="KeepDays">Days after an identification was first stored. Bounds: 0, for ever, up.</param>
public sealed record Retention(int KeepDays)
{
    private const string Setting = "Identifications:KeepDays";
    private const int MostDays = 36_500;

    /// <summary>Reads and checks the setting.</summary>
    /// <param name="settings">The host's settings.</param>
    /// <exception cref="SettingException">It is out of bounds.</exception>
    public static Retention Read(IConfiguration settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        var days = settings.GetValue(Setting, 0);
        return days is >= 0 and <= MostDays
            ? new Retention(days)
            : throw new SettingException($"{Setting} is {days}; 0 (for ever) to {MostDays} days are allowed.");
    }

    /// <summary>What those are told who ask for one that is not there.</summary>
    public string Sentence => KeepDays == 0
        ? "One made with store=false is not kept."
        : string.Create(
            CultureInfo.InvariantCulture,
            $"One made with store=false is not kept, and this service deletes others {KeepDays} days after they were first stored.");
}

/// <summary>Deletes identifications past their time.</summary>
/// <param name="retention">How long they are kept.</param>
/// <param name="archive">Where they are kept.</param>
/// <param name="tables">Says when the database is ready.</param>
/// <param name="time">The clock.</param>
/// <param name="log">Takes what was done, and what went wrong.</param>
public sealed partial class RetentionSweep(
    Retention retention, IdentificationArchive archive, TableSnapshots tables, TimeProvider time, ILogger<RetentionSweep> log)
    : BackgroundService
{
    // Chosen: small, since SQLite lets nobody else write meanwhile.
    private const int RowsAtOnce = 200;

    private static readonly TimeSpan Interval = TimeSpan.FromHours(1);
    private static readonly TimeSpan UntilReady = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan BetweenLots = TimeSpan.FromMilliseconds(100);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            if (tables.Current is not null)
            {
                await SweepAsync(stoppingToken);
            }

            await Task.Delay(tables.Current is null ? UntilReady : Interval, stoppingToken);
        }
    }

    private async Task SweepAsync(CancellationToken cancellationToken)
    {
        var deleted = 0;
        try
        {
            var end = time.GetUtcNow().UtcDateTime.AddDays(-retention.KeepDays);
            while (await archive.DeleteOlderAsync(end, RowsAtOnce, cancellationToken) is > 0 and var some)
            {
                deleted += some;
                await Task.Delay(BetweenLots, cancellationToken);
            }
        }
        catch (DatabaseUnavailableException)
        {
            // The table's watch says so already; what is left is deleted the next time.
        }
        catch (Exception fault) when (fault is not OperationCanceledException)
        {
            Failed(log, fault);
        }

        if (deleted > 0)
        {
            Deleted(log, deleted, retention.KeepDays);
        }
    }

    [LoggerMessage(LogLevel.Information, "Deleted {Count} identifications first stored more than {Days} days ago.")]
    private static partial void Deleted(ILogger log, int count, int days);

    [LoggerMessage(LogLevel.Error, "Identifications past their time could not be deleted; the next try is in an hour.")]
    private static partial void Failed(ILogger log, Exception fault);
}
