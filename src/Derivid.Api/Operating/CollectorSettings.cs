using Derivid.Store;
using OpenTelemetry.Exporter;

namespace Derivid.Api.Operating;

/// <summary>Where metrics or traces are sent by OTLP, so far as variables of their own say so; the rest is as the exporter reads it from the general ones.</summary>
/// <remarks>The exporter reads general variables only, and would send to a port of this machine where one for a single signal is all there is.</remarks>
/// <param name="Endpoint">The address, sent to as it stands. Missing: null, the general one.</param>
/// <param name="Headers">What is sent along, such as a token. Missing: null, the general ones.</param>
/// <param name="Protocol">How it is sent. Missing: null, the general one.</param>
public sealed record CollectorSettings(Uri? Endpoint, string? Headers, OtlpExportProtocol? Protocol)
{
    private const string Variable = "OTEL_EXPORTER_OTLP_";

    /// <summary>Reads OpenTelemetry's variables of one signal.</summary>
    /// <param name="settings">All settings.</param>
    /// <param name="signal">METRICS or TRACES.</param>
    /// <returns>Missing: null, neither the signal's endpoint nor the general one is set, and nothing is sent.</returns>
    /// <exception cref="SettingException">A variable can't be read.</exception>
    public static CollectorSettings? Read(IConfiguration settings, string signal)
    {
        ArgumentNullException.ThrowIfNull(settings);
        var (own, general) = (EndpointIn(settings, $"{Variable}{signal}_ENDPOINT"), EndpointIn(settings, $"{Variable}ENDPOINT"));
        return own is null && general is null
            ? null
            : new CollectorSettings(own, Text(settings, $"{Variable}{signal}_HEADERS"), ProtocolIn(settings, $"{Variable}{signal}_PROTOCOL"));
    }

    /// <summary>Has an exporter send there.</summary>
    /// <param name="exporter">Its options, as read from the general variables.</param>
    public void Apply(OtlpExporterOptions exporter)
    {
        ArgumentNullException.ThrowIfNull(exporter);
        exporter.Protocol = Protocol ?? exporter.Protocol;
        exporter.Headers = Headers ?? exporter.Headers;
        if (Endpoint is not null)
        {
            // Set even to what it was, an address would no longer have the signal's path put behind it.
            exporter.Endpoint = Endpoint;
        }
    }

    private static Uri? EndpointIn(IConfiguration settings, string name) => Text(settings, name) is not { } text ? null
        : Uri.TryCreate(text, UriKind.Absolute, out var address) && (address.Scheme == Uri.UriSchemeHttp || address.Scheme == Uri.UriSchemeHttps) ? address
        : throw new SettingException($"{name} is '{text}'; an address such as http://collector:4317 is allowed, or nothing.");

    private static OtlpExportProtocol? ProtocolIn(IConfiguration settings, string name) => Text(settings, name) switch
    {
        null => null,
        "grpc" => OtlpExportProtocol.Grpc,
        "http/protobuf" => OtlpExportProtocol.HttpProtobuf,
        var text => throw new SettingException($"{name} is '{text}'; grpc or http/protobuf is allowed, or nothing."),
    };

    private static string? Text(IConfiguration settings, string name) => settings[name]?.Trim() is { Length: > 0 } text ? text : null;
}
