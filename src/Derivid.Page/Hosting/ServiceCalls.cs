using System.Net;
using System.Net.Http.Headers;
using Derivid.Client;
using Derivid.Page.Sessions;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Configuration;

namespace Derivid.Page.Hosting;

/// <summary>Makes the clients through which the page reaches the service: over HTTP, as whoever is signed in.</summary>
/// <remarks>
/// A refusal to wait (429, 503) is passed on at once: a reader is told, and what they typed is kept, rather than left before
/// a white page. Thread safety: safe.
/// </remarks>
/// <param name="server">Knows the addresses listened on.</param>
/// <param name="configuration">The host's settings.</param>
/// <param name="mark">Marks calls of this process's own service.</param>
public sealed class ServiceCalls(IServer server, IConfiguration configuration, PageMark mark) : IDisposable
{
    /// <summary>The setting that names the service, where it isn't this process on a loopback address.</summary>
    public const string AddressSetting = "Page:ServiceAddress";

    // A hand-out to a large class takes seconds; whatever takes longer than this answers at once and is looked at again.
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(30);

    private readonly SocketsHttpHandler _sockets = DerividClient.Sockets();
    private readonly PageMark? _mark = configuration[AddressSetting] is { Length: > 0 } ? null : mark;
    private Uri? _address;

    /// <summary>A client for one request of a browser, with the key of its session.</summary>
    /// <param name="context">The request.</param>
    public DerividClient For(HttpContext context) => For(context, Session.Of(context)?.Key);

    /// <summary>A client for one request of a browser, with a key.</summary>
    /// <param name="context">The request.</param>
    /// <param name="key">The key. Missing: null, none is sent.</param>
    public DerividClient For(HttpContext context, string? key)
    {
        ArgumentNullException.ThrowIfNull(context);
        var address = _address ??= Find();
        var http = new HttpClient(new MarkedSockets(_sockets, _mark, context.Connection.RemoteIpAddress ?? IPAddress.None))
        {
            BaseAddress = address,
            Timeout = LongestWait,
        };
        http.DefaultRequestHeaders.Authorization = key is null ? null : new AuthenticationHeaderValue("Bearer", key);
        return new DerividClient(http);
    }

    /// <inheritdoc/>
    public void Dispose() => _sockets.Dispose();

    private Uri Find()
    {
        if (configuration[AddressSetting] is { Length: > 0 } named)
        {
            return new Uri(named.TrimEnd('/') + "/");
        }

        var listened = server.Features.Get<IServerAddressesFeature>()?.Addresses ?? [];
        var address = listened.FirstOrDefault(a => a.StartsWith("http://", StringComparison.OrdinalIgnoreCase) && !a.Contains("//unix:", StringComparison.Ordinal))
            ?? throw new InvalidOperationException(
                $"The page finds no http address of the service to call; set {AddressSetting}.");

        // "Any address" is no address to call; the same port of this machine is.
        var parts = BindingAddress.Parse(address);
        var host = parts.Host switch
        {
            "0.0.0.0" => "127.0.0.1",
            "[::]" or "+" or "*" => "localhost",
            _ => parts.Host,
        };
        return new UriBuilder(Uri.UriSchemeHttp, host, parts.Port).Uri;
    }

    // The secret goes to this process only. The sockets are shared, so they are not disposed of with a client.
    private sealed class MarkedSockets(SocketsHttpHandler sockets, PageMark? mark, IPAddress sender) : HttpMessageHandler
    {
        private readonly HttpMessageInvoker _sockets = new(sockets, disposeHandler: false);

        protected override Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
        {
            mark?.Write(request, sender);
            return _sockets.SendAsync(request, cancellationToken);
        }
    }
}
