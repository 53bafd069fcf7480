using System.Net.Http.Headers;
using Derivid.Core.Teaching;
using Derivid.Testing;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using Microsoft.Extensions.Logging;

namespace Derivid.Api.Tests;

/// <summary>The whole service on a loopback port, on the database named.</summary>
public sealed class ServiceUnderTest : WebApplicationFactory<Program>
{
    /// <summary>What o'clock it is in every test.</summary>
    public static readonly DateTimeOffset Now = new(2026, 3, 14, 9, 26, 53, TimeSpan.Zero);

    /// <summary>A key that opens everything here and nothing elsewhere.</summary>
    public const string AdministratorKey = ServiceProcess.AdministratorKey;

    private static readonly TimeSpan LongestStart = TimeSpan.FromMinutes(1);

    private readonly string _connectionString;
    private readonly Action<IServiceCollection>? _change;
    private readonly (string Name, string Value)[] _settings;

    public ServiceUnderTest(
        string connectionString,
        Action<IServiceCollection>? change = null,
        params (string Name, string Value)[] settings)
    {
        (_connectionString, _change, _settings) = (connectionString, change, settings);

        // Without a port: one told here would be set while the service is starting already, which sometimes is too late.
        UseKestrel();
    }

    /// <summary>What it logs, from <see cref="Logged"/> on.</summary>
    public CapturedLog Log { get; } = new();

    /// <summary>The least it logs. At the least there is every query is written out, which costs more than it does to ask it.</summary>
    public LogLevel Logged { get; init; } = LogLevel.Information;

    /// <summary>Says when half a body has arrived.</summary>
    public HeldBodies Held { get; } = new();

    /// <summary>Starts it and waits until it is ready.</summary>
    public async Task<HttpClient> StartAsync()
    {
        var client = StartUnready();
        using var patience = new CancellationTokenSource(LongestStart);
        while (!(await client.GetAsync("/health/ready", patience.Token)).IsSuccessStatusCode)
        {
            await Task.Delay(20, patience.Token);
        }

        return client;
    }

    /// <summary>Starts it and does not wait.</summary>
    public HttpClient StartUnready()
    {
        StartServer();
        return CreateClient();
    }

    /// <summary>A client that sends a key, or another bearer token.</summary>
    /// <param name="token">The token. Missing: null, it sends none.</param>
    public HttpClient ClientWith(string? token)
    {
        var client = CreateClient();
        client.DefaultRequestHeaders.Authorization = token is null ? null : new AuthenticationHeaderValue("Bearer", token);
        return client;
    }

    /// <summary>A client that sends a new key of a role.</summary>
    public async Task<HttpClient> ClientAsAsync(Role role)
    {
        using var administrator = ClientWith(AdministratorKey);
        return ClientWith((await administrator.MakeKeyAsync(role)).GetProperty("key").GetString());
    }

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseSetting("ConnectionStrings:Derivid", _connectionString);
        builder.UseSetting("urls", "http://127.0.0.1:0");
        builder.UseSetting("Access:AdministratorKey", AdministratorKey);
        foreach (var limit in new[] { "RequestsPerMinute", "AnonymousRequestsPerMinute", "BatchItemsPerMinute", "StoredPerHour", "RequestsAtOnce" })
        {
            builder.UseSetting($"RateLimits:{limit}", "0");
        }

        // Where the machine is busy, a key is known all the same.
        builder.UseSetting("Access:KeyPatienceMilliseconds", "60000");
        foreach (var (name, value) in _settings)
        {
            builder.UseSetting(name, value);
        }

        builder.ConfigureLogging(logging => logging
            .ClearProviders()
            .AddFilter(null, Logged)
            .SetMinimumLevel(Logged)
            .AddProvider(Log));
        builder.ConfigureTestServices(services =>
        {
            services.Replace(ServiceDescriptor.Singleton<TimeProvider>(new FixedTime(Now)));
            services.AddSingleton<IStartupFilter>(Held);
            _change?.Invoke(services);
        });
    }

    // Only what o'clock it is stands still; elapsed time goes on.
    private sealed class FixedTime(DateTimeOffset now) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => now;
    }
}
