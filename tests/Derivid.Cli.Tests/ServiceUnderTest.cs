using Derivid.Testing;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Extensions.Logging;

namespace Derivid.Cli.Tests;

/// <summary>The whole service on a loopback port, on an SQLite file of its own, with an administrator key that tests know.</summary>
public sealed class ServiceUnderTest : WebApplicationFactory<Program>, IAsyncLifetime
{
    /// <summary>Made up for these tests.</summary>
    public static readonly string AdministratorKey = $"dvd_{new string('a', 16)}_{new string('7', 64)}";

    private static readonly TimeSpan LongestStart = TimeSpan.FromMinutes(1);

    private readonly SqliteDatabase _database = new();

    // Without a port: one told here would be set while the service is starting already, which sometimes is too late.
    public ServiceUnderTest() => UseKestrel();

    public Uri Address { get; private set; } = null!;

    public async ValueTask InitializeAsync()
    {
        StartServer();
        using var client = CreateClient();
        Address = client.BaseAddress!;
        using var patience = new CancellationTokenSource(LongestStart);
        while (!(await client.GetAsync("/health/ready", patience.Token)).IsSuccessStatusCode)
        {
            await Task.Delay(20, patience.Token);
        }
    }

    public override async ValueTask DisposeAsync()
    {
        await base.DisposeAsync();
        await _database.DisposeAsync();
    }

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseSetting("ConnectionStrings:Derivid", _database.ConnectionString);
        builder.UseSetting("Access:AdministratorKey", AdministratorKey);
        builder.UseSetting("urls", "http://127.0.0.1:0");
        builder.ConfigureLogging(logging => logging.ClearProviders());
    }
}
