using System.Diagnostics.Metrics;
using System.Net;
using System.Net.Sockets;
using OpenTelemetry.Metrics;

namespace Derivid.Api.Operating;

/// <summary>Answers /metrics in the form that Prometheus reads, on a port of its own, and nothing else.</summary>
/// <remarks>
/// A server beside the service's and not an address more of it: what fills that one's connections, places or queues leaves this one,
/// which then is wanted most, and no route of the one can ever show up at the other. Thread safety: started and stopped once.
/// </remarks>
/// <param name="settings">Where it listens.</param>
/// <param name="metrics">What it tells.</param>
/// <param name="lifetime">Ends the process where it can't listen.</param>
/// <param name="log">Takes where it listens.</param>
public sealed partial class MetricsServer(
    TelemetrySettings settings, MeterProvider metrics, IHostApplicationLifetime lifetime, ILogger<MetricsServer> log) : BackgroundService
{
    /// <summary>The one address it answers.</summary>
    public const string Path = "/metrics";

    private IPEndPoint Place => new(settings.MetricsAddress, settings.MetricsPort!.Value);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        // A process can't be told to end before it has begun.
        var begun = new TaskCompletionSource();
        await using var told = lifetime.ApplicationStarted.Register(begun.SetResult);
        await begun.Task.WaitAsync(stoppingToken);
        await using var server = Build();
        try
        {
            await server.StartAsync(stoppingToken);
        }
        catch (Exception fault) when (fault is IOException or SocketException)
        {
            Refused(log, Place, fault.Message);
            Environment.ExitCode = 1;
            lifetime.StopApplication();
            return;
        }

        Listens(log, server.Urls.Single());
        await server.WaitForShutdownAsync(stoppingToken);
    }

    private WebApplication Build()
    {
        // Empty: it reads no setting of the service's, and has no address but this one.
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            if (Place.Address.Equals(IPAddress.IPv6Any))
            {
                // All of the machine's, which may have none of IPv6.
                kestrel.ListenAnyIP(Place.Port);
            }
            else
            {
                kestrel.Listen(Place);
            }
        });
        builder.Services.AddSingleton<IMeterFactory, UnheardMeters>();
        var server = builder.Build();
        server.UseOpenTelemetryPrometheusScrapingEndpoint(metrics, context => context.Request.Path == Path, null, null, null);
        return server;
    }

    [LoggerMessage(LogLevel.Information, "Metrics are told at {Address}/metrics.")]
    private static partial void Listens(ILogger log, string address);

    [LoggerMessage(LogLevel.Critical, "Not started: metrics can't be told at {Place}: {Reason}")]
    private static partial void Refused(ILogger log, IPEndPoint place, string reason);

    // Or its own connections and requests would be counted among the service's.
    private sealed class UnheardMeters : IMeterFactory
    {
        private readonly Meter _meter = new("Derivid.MetricsServer");

        public Meter Create(MeterOptions options) => _meter;

        public void Dispose() => _meter.Dispose();
    }
}
