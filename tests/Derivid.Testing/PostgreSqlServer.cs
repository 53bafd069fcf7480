using DotNet.Testcontainers.Builders;
using Npgsql;
using Testcontainers.PostgreSql;
using Xunit;

namespace Derivid.Testing;

/// <summary>The PostgreSQL server of a test run; an assembly fixture, started when the first test asks for a database.</summary>
/// <remarks>
/// Order of choice: the connection string in the environment variable <see cref="Variable"/>; a container where a
/// Docker engine answers; local binaries; else the test fails with what to install. Nothing is skipped.
/// </remarks>
public sealed class PostgreSqlServer : IAsyncDisposable
{
    /// <summary>Names a server to use instead; its user must be allowed to create databases.</summary>
    public const string Variable = "DERIVID_TEST_POSTGRES";

    private const string Image = "postgres:17-alpine";

    private readonly Lazy<Task<string>> _connectionString;
    private readonly List<IAsyncDisposable> _owned = [];
    private int _databases;

    /// <summary>Promises a server.</summary>
    public PostgreSqlServer()
    {
        _connectionString = new Lazy<Task<string>>(StartAsync);
    }

    /// <summary>Makes an empty database.</summary>
    /// <returns>The database; disposing drops it.</returns>
    public async Task<PostgreSqlDatabase> NewDatabaseAsync()
    {
        var server = await _connectionString.Value;
        Interlocked.Increment(ref _databases);
        return await PostgreSqlDatabase.CreateAsync(server);
    }

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        if (_connectionString.IsValueCreated)
        {
            Say($"PostgreSQL gave {_databases} databases to tests.");
        }

        foreach (var owned in _owned)
        {
            await owned.DisposeAsync();
        }
    }

    private async Task<string> StartAsync()
    {
        var (connectionString, how) = Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } given
            ? (given, $"the server in {Variable}")
            : await StartContainerAsync() is { } container
                ? (container, $"a container of {Image}")
                : (await StartLocalAsync(), $"local binaries in {PostgreSqlBinaries.Find()}");
        await using var connection = new NpgsqlConnection(connectionString);
        await connection.OpenAsync();
        Say($"PostgreSQL {connection.ServerVersion} from {how}.");
        return connectionString;
    }

    private async Task<string?> StartContainerAsync()
    {
        try
        {
            var container = new PostgreSqlBuilder(Image).Build();
            await container.StartAsync();
            _owned.Add(container);
            return container.GetConnectionString();
        }
        catch (DockerUnavailableException)
        {
            return null;
        }
    }

    private async Task<string> StartLocalAsync()
    {
        if (PostgreSqlBinaries.Find() is null)
        {
            throw new InvalidOperationException(
                $"These tests need PostgreSQL and found none. Install its server programs (Debian and Ubuntu: apt-get install postgresql), start a Docker engine, or name a server in {Variable}.");
        }

        var cluster = await PostgreSqlCluster.StartNewAsync(durable: false);
        _owned.Add(cluster);
        return cluster.ConnectionString;
    }

    private static void Say(string sentence) => TestContext.Current.SendDiagnosticMessage(sentence);
}
