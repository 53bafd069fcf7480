using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Derivid.Page.Tests;

/// <summary>A proxy that sends each request to the next instance, whoever it is from.</summary>
public sealed class RoundRobin : IAsyncDisposable
{
    private static readonly string[] OfTheConnection = ["Transfer-Encoding", "Connection", "Keep-Alive"];

    private readonly WebApplication _proxy;
    private readonly HttpClient _http = new(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false });
    private readonly string[] _instances;
    private readonly int[] _sent;
    private int _turn;

    private RoundRobin(string[] instances)
    {
        (_instances, _sent) = (instances, new int[instances.Length]);
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        _proxy = builder.Build();
        _proxy.Run(PassOnAsync);
    }

    /// <summary>Its address, without a slash at the end.</summary>
    public string Address { get; private set; } = "";

    /// <summary>Requests each instance got.</summary>
    public IReadOnlyList<int> Sent => _sent;

    /// <summary>Starts it.</summary>
    /// <param name="instances">Addresses of the instances.</param>
    public static async Task<RoundRobin> StartAsync(params string[] instances)
    {
        var proxy = new RoundRobin(instances);
        await proxy._proxy.StartAsync();
        proxy.Address = proxy._proxy.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.Single();
        return proxy;
    }

    public async ValueTask DisposeAsync()
    {
        await _proxy.DisposeAsync();
        _http.Dispose();
    }

    private async Task PassOnAsync(HttpContext context)
    {
        var turn = Interlocked.Increment(ref _turn) % _instances.Length;
        Interlocked.Increment(ref _sent[turn]);
        using var request = new HttpRequestMessage(new HttpMethod(context.Request.Method), _instances[turn] + context.Request.Path + context.Request.QueryString);
        if (context.Request.ContentLength > 0)
        {
            request.Content = new StreamContent(context.Request.Body);
        }

        foreach (var (name, values) in context.Request.Headers)
        {
            if (!request.Headers.TryAddWithoutValidation(name, values.AsEnumerable()))
            {
                request.Content?.Headers.TryAddWithoutValidation(name, values.AsEnumerable());
            }
        }

        using var response = await _http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, context.RequestAborted);
        context.Response.StatusCode = (int)response.StatusCode;
        foreach (var (name, values) in response.Headers.Concat(response.Content.Headers).Where(header => !OfTheConnection.Contains(header.Key, StringComparer.OrdinalIgnoreCase)))
        {
            context.Response.Headers[name] = values.ToArray();
        }

        await response.Content.CopyToAsync(context.Response.Body, context.RequestAborted);
    }
}
