using System.Net;
using Derivid.Testing;
using Microsoft.Extensions.Logging;

namespace Derivid.Api.Tests.Access;

/// <summary>A service that takes an institution's tokens, and the institution.</summary>
public sealed class ServiceWithSignIn : IAsyncLifetime
{
    private readonly SqliteDatabase _database = new();
    private Institution? _institution;
    private ServiceUnderTest? _service;

    public Institution Institution => _institution!;

    public ServiceUnderTest Service => _service!;

    /// <summary>The settings that have a service take an institution's tokens.</summary>
    /// <param name="authority">Address of the institution's server.</param>
    public static (string Name, string Value)[] Settings(string authority) =>
    [
        ("Access:OpenIdConnect:Authority", authority),
        ("Access:OpenIdConnect:Audience", Institution.Audience),
        ("Access:OpenIdConnect:RequireHttps", "false"),
        ("Access:OpenIdConnect:Roles:learner", "student"),
        ("Access:OpenIdConnect:Roles:staff", "instructor"),
        ("Access:OpenIdConnect:Roles:lab-admin", "administrator"),
    ];

    public async ValueTask InitializeAsync()
    {
        _institution = await Institution.StartAsync();
        _service = new ServiceUnderTest(_database.ConnectionString, null, Settings(_institution.Authority)) { Logged = LogLevel.Trace };
        (await _service.StartAsync()).Dispose();

        // The service fetches the institution's keys with the first token, and on a loaded machine that may take longer
        // than it waits. The tests are about what it does with them.
        using var client = _service.ClientWith(_institution.TokenByHand());
        using var patience = new CancellationTokenSource(TimeSpan.FromMinutes(1));
        while ((await client.GetAsync(Requests.Keys + "/current", patience.Token)).StatusCode
            == HttpStatusCode.ServiceUnavailable)
        {
            await Task.Delay(100, patience.Token);
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _service!.DisposeAsync();
        await _institution!.DisposeAsync();
        await _database.DisposeAsync();
    }
}
