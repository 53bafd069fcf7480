using System.Net;
using Npgsql;

namespace Derivid.Api.Tests.Deployment;

/// <summary>The service runs as a role that may write rows and change no table; a run with --migrate does the rest.</summary>
[Trait("Database", "PostgreSQL")]
public sealed class ServiceRoleTests(DeployedServer server) : IClassFixture<DeployedServer>
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task ServiceWaitsUnreadyUntilTheDatabaseIsMigrated()
    {
        await server.CreateAsync("derivid_waiting");
        await using var service = server.NewService("derivid_waiting");
        using var client = service.StartUnready();
        await WaitedAsync(service).WaitAsync(TimeSpan.FromMinutes(1), Cancellation);
        using var live = await client.GetAsync("/health/live", Cancellation);
        using var waiting = await client.GetAsync("/health/ready", Cancellation);

        Assert.Equal(HttpStatusCode.OK, live.StatusCode);
        Assert.Equal(HttpStatusCode.ServiceUnavailable, waiting.StatusCode);

        var migrated = await server.MigrateAsync("derivid_waiting", DeployedServer.Owner);
        Assert.True(migrated.ExitCode == 0, migrated.Output + migrated.Errors);
        using var ready = await service.StartAsync();
        using var stored = await ready.PostAsync(Requests.Identifications, Requests.Propanone);
        await stored.JsonAsync(HttpStatusCode.Created);
    }

    [Fact]
    public async Task ServiceRoleWritesRowsOfEveryTableAndChangesNone()
    {
        await server.CreateAsync("derivid_roles");
        await server.MigrateAsync("derivid_roles", DeployedServer.Owner);

        Assert.Equal(
            0L,
            await server.ExecuteAsync("derivid_roles", DeployedServer.Service, """
                SELECT count(*) FROM pg_class, unnest(ARRAY['SELECT', 'INSERT', 'UPDATE', 'DELETE']) AS needed
                WHERE relnamespace = 'public'::regnamespace AND relkind = 'r'
                  AND NOT has_table_privilege('derivid', pg_class.oid, needed)
                """));
        Assert.Equal(
            0L,
            await server.ExecuteAsync("derivid_roles", DeployedServer.Service, """
                SELECT count(*) FROM pg_sequences
                WHERE schemaname = 'public'
                  AND NOT has_sequence_privilege('derivid', format('%I.%I', schemaname, sequencename), 'USAGE')
                """));
        foreach (var forbidden in new[]
        {
            "CREATE TABLE more (id int)", "DROP TABLE audit_entries", "ALTER TABLE audit_entries DISABLE TRIGGER ALL",
            "TRUNCATE audit_entries",
        })
        {
            var refusal = await Assert.ThrowsAsync<PostgresException>(
                () => server.ExecuteAsync("derivid_roles", DeployedServer.Service, forbidden));
            Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, refusal.SqlState);
        }
    }

    [Fact]
    public async Task MigratingTwiceIsHarmlessAndAnAbsentDatabaseIsAnError()
    {
        await server.CreateAsync("derivid_twice");

        var first = await server.MigrateAsync("derivid_twice", DeployedServer.Owner);
        var second = await server.MigrateAsync("derivid_twice", DeployedServer.Owner);
        var absent = await server.MigrateAsync("derivid_nowhere", DeployedServer.Owner);

        Assert.Equal((0, 0, 1), (first.ExitCode, second.ExitCode, absent.ExitCode));
        Assert.Contains("seeded now: True", first.Output, StringComparison.Ordinal);
        Assert.Contains("0 migrations run, seeded now: False", second.Output, StringComparison.Ordinal);
        Assert.Contains("\"derivid_nowhere\" does not exist", absent.Output + absent.Errors, StringComparison.Ordinal);
    }

    // Looked at the database at least once.
    private static async Task WaitedAsync(ServiceUnderTest service)
    {
        while (!service.Log.Lines.Any(line => line.Contains("run the service once with --migrate", StringComparison.Ordinal)))
        {
            await Task.Delay(20, Cancellation);
        }
    }
}
