using System.Globalization;
using System.Net;
using Derivid.Store;

namespace Derivid.Api.Operating;

/// <summary>What is told of the service to those who watch it, and where; nothing, unless it is set.</summary>
/// <param name="MetricsPort">The port at which Prometheus may ask. Missing: null, none. Bounds: 0, any that is free, to 65535.</param>
/// <param name="MetricsAddress">The address of that port; this machine's own, unless another is named.</param>
/// <param name="Metrics">Where metrics are sent by OTLP. Missing: null, nowhere.</param>
/// <param name="Traces">Where traces are sent by OTLP. Missing: null, nowhere.</param>
/// <param name="TraceShare">The share of traces that are recorded. Bounds: 0 to 1.</param>
public sealed record TelemetrySettings(int? MetricsPort, IPAddress MetricsAddress, CollectorSettings? Metrics, CollectorSettings? Traces, double TraceShare)
{
    private const string Port = "Telemetry:MetricsPort";
    private const string Address = "Telemetry:MetricsAddress";
    private const string Share = "Telemetry:TraceShare";

    // Chosen: enough to see where time goes, little enough to keep.
    private const double DefaultShare = 0.1;

    /// <summary>Whether metrics are told at all.</summary>
    public bool HasMetrics => MetricsPort is not null || Metrics is not null;

    /// <summary>
    /// Reads the settings <c>Telemetry:MetricsPort</c>, <c>Telemetry:MetricsAddress</c> (an address, or * for all there are) and
    /// <c>Telemetry:TraceShare</c>, and those of OpenTelemetry's own that say where a collector is.
    /// </summary>
    /// <param name="settings">All settings.</param>
    /// <exception cref="SettingException">A setting can't be read or is out of bounds.</exception>
    public static TelemetrySettings Read(IConfiguration settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        var share = settings.GetValue(Share, DefaultShare);
        return new TelemetrySettings(
            settings[Port] is { Length: > 0 } port ? PortOf(port) : null,
            settings[Address] is { Length: > 0 } address ? AddressOf(address) : IPAddress.Loopback,
            CollectorSettings.Read(settings, "METRICS"),
            CollectorSettings.Read(settings, "TRACES"),
            share is >= 0 and <= 1 ? share : throw new SettingException($"{Share} is {settings[Share]}; 0 to 1 is allowed."));
    }

    private static int PortOf(string text) => ushort.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var port)
        ? port
        : throw new SettingException($"{Port} is '{text}'; 0 to {ushort.MaxValue} is allowed, or nothing.");

    private static IPAddress AddressOf(string text) => text == "*" ? IPAddress.IPv6Any
        : IPAddress.TryParse(text, out var address) ? address
        : throw new SettingException($"{Address} is '{text}'; an address such as 127.0.0.1 or :: is allowed, or * for all.");
}
