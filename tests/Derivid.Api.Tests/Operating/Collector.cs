using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.Logging;

namespace Derivid.Api.Tests.Operating;

/// <summary>Takes what is sent by OTLP over HTTP, and keeps it as it comes.</summary>
internal sealed class Collector : IAsyncDisposable
{
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(60);

    private readonly WebApplication _server;
    private readonly ConcurrentQueue<(string Path, string Token, string Text)> _got = new();

    private Collector(WebApplication server) => _server = server;

    /// <summary>Where it listens.</summary>
    public string Address => _server.Urls.Single();

    /// <summary>To which paths something was sent, and with which token.</summary>
    public IReadOnlyList<(string Path, string Token)> Senders => [.. _got.Select(each => (each.Path, each.Token)).Distinct()];

    /// <summary>What has the service send to it, soon.</summary>
    public IReadOnlyList<(string Name, string Value)> Settings =>
    [
        ("OTEL_EXPORTER_OTLP_ENDPOINT", Address), ("OTEL_EXPORTER_OTLP_PROTOCOL", "http/protobuf"),
        ("OTEL_BSP_SCHEDULE_DELAY", "200"), ("OTEL_METRIC_EXPORT_INTERVAL", "500"),
    ];

    public static async Task<Collector> StartAsync(HttpProtocols protocols = HttpProtocols.Http1)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(IPAddress.Loopback, 0, listener => listener.Protocols = protocols));
        var collector = new Collector(builder.Build());
        collector._server.Run(collector.TakeAsync);
        await collector._server.StartAsync(TestContext.Current.CancellationToken);
        return collector;
    }

    /// <summary>All that was sent to an address, a byte a character.</summary>
    public string Got(string path) => string.Concat(_got.Where(each => each.Path == path).Select(each => each.Text));

    public async Task<string> UntilAsync(string path, Func<string, bool> isThere)
    {
        var since = Stopwatch.StartNew();
        while (!isThere(Got(path)))
        {
            Assert.True(since.Elapsed < Longest, $"Never sent to {path}; there came {string.Join(", ", _got.Select(each => each.Path).Distinct())}.");
            await Task.Delay(100, TestContext.Current.CancellationToken);
        }

        return Got(path);
    }

    public Task<string> NextAsync(string path)
    {
        var before = _got.Count(each => each.Path == path);
        return UntilAsync(path, _ => _got.Count(each => each.Path == path) > before);
    }

    public ValueTask DisposeAsync() => _server.DisposeAsync();

    private async Task TakeAsync(HttpContext context)
    {
        using var body = new MemoryStream();
        await context.Request.Body.CopyToAsync(body, context.RequestAborted);
        _got.Enqueue((context.Request.Path, context.Request.Headers["token"].ToString(), Encoding.Latin1.GetString(body.ToArray())));
    }
}
