using System.Net.Http.Headers;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Testing;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Extensions.Logging;

namespace Derivid.Page.Tests;

/// <summary>The whole service with its page on a loopback port, on real PostgreSQL.</summary>
public sealed class PageUnderTest : WebApplicationFactory<Program>
{
    private readonly string _database;
    private readonly string _address;
    private readonly (string Name, string Value)[] _settings;

    private PageUnderTest(string database, int port, (string Name, string Value)[] settings)
    {
        (_database, _settings, _address) = (database, settings, $"http://127.0.0.1:{port}");

        // Without the port: told here it would be set while the service is starting already, which sometimes is too late.
        UseKestrel();
    }

    /// <summary>Its address, without a slash at the end.</summary>
    public string Address => ClientOptions.BaseAddress.ToString().TrimEnd('/');

    /// <summary>Starts it and waits until it is ready.</summary>
    /// <param name="database">Connection string of a database of its own.</param>
    /// <param name="port">The port. Missing: 0, one that is free.</param>
    /// <param name="settings">Settings beside the usual ones.</param>
    public static async Task<PageUnderTest> StartAsync(string database, int port = 0, params (string Name, string Value)[] settings)
    {
        var page = new PageUnderTest(database, port, settings);
        page.StartServer();
        using var client = page.CreateClient();
        using var patience = new CancellationTokenSource(TimeSpan.FromMinutes(3));
        while (!(await client.GetAsync("/health/ready", patience.Token)).IsSuccessStatusCode)
        {
            await Task.Delay(20, patience.Token);
        }

        return page;
    }

    /// <summary>The typed client, with the administrator's key.</summary>
    public DerividClient Administrator() => ClientWith(ServiceProcess.AdministratorKey);

    /// <summary>The typed client, with a key.</summary>
    /// <param name="key">The key.</param>
    public DerividClient ClientWith(string key)
    {
        var http = CreateClient();
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key);
        return new DerividClient(http);
    }

    /// <summary>A new key of a role.</summary>
    /// <param name="role">The role.</param>
    public async Task<KeyMade> KeyAsync(Role role)
    {
        using var administrator = Administrator();
        return await administrator.Keys.CreateAsync(
            new KeyRequest { Name = $"a {role} of a test", Role = role }, null, null, TestContext.Current.CancellationToken);
    }

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseSetting("ConnectionStrings:Derivid", _database);
        builder.UseSetting("urls", _address);
        builder.UseSetting("Access:AdministratorKey", ServiceProcess.AdministratorKey);
        foreach (var limit in new[] { "RequestsPerMinute", "AnonymousRequestsPerMinute", "BatchItemsPerMinute" })
        {
            builder.UseSetting($"RateLimits:{limit}", "0");
        }

        // A machine busy with tests is no database away.
        builder.UseSetting("Access:KeyPatienceMilliseconds", "60000");

        foreach (var (name, value) in _settings)
        {
            builder.UseSetting(name, value);
        }

        builder.ConfigureLogging(logging => logging.ClearProviders());
    }
}
