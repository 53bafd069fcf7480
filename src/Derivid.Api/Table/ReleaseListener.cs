using Derivid.Store.Databases;

namespace Derivid.Api.Table;

/// <summary>Listens for versions of the table that other processes release, and wakes the watch.</summary>
/// <param name="engine">The database.</param>
/// <param name="watch">Looks for newer versions.</param>
/// <param name="settings">Whether to listen at all.</param>
/// <param name="time">The clock to wait by.</param>
/// <param name="log">Takes what happened.</param>
public sealed partial class ReleaseListener(
    DatabaseEngine engine, TableWatch watch, TableWatchSettings settings, TimeProvider time, ILogger<ReleaseListener> log)
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
                Lost(log, fault.Message);
            }

            await Task.Delay(Pause, time, stoppingToken);
        }
    }

    [LoggerMessage(LogLevel.Warning, "Announcements of new table versions are not heard for now: {Reason}")]
    private static partial void Lost(ILogger log, string reason);
}
