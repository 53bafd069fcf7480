using Derivid.Store.PostgreSql;
using Npgsql;

namespace Derivid.Testing;

/// <summary>An empty database on a test's PostgreSQL server.</summary>
public sealed class PostgreSqlDatabase : ITestDatabase
{
    private readonly string _server;
    private readonly string _name;

    private PostgreSqlDatabase(string server, string name)
    {
        (_server, _name) = (server, name);
        ConnectionString = new NpgsqlConnectionStringBuilder(server) { Database = name }.ConnectionString;
    }

    /// <inheritdoc />
    public string ConnectionString { get; }

    /// <inheritdoc />
    public Store.Databases.DatabaseEngine NewEngine() => new PostgreSqlEngine(ConnectionString);

    /// <summary>Makes a database.</summary>
    /// <param name="server">Connects to the server as a user who may create databases.</param>
    public static async Task<PostgreSqlDatabase> CreateAsync(string server)
    {
        var database = new PostgreSqlDatabase(server, $"derivid_test_{Guid.NewGuid():N}");
        await ExecuteAsync(server, $"CREATE DATABASE {database._name}");
        return database;
    }

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        await using (var pooled = new NpgsqlConnection(ConnectionString))
        {
            NpgsqlConnection.ClearPool(pooled);
        }

        await ExecuteAsync(_server, $"DROP DATABASE IF EXISTS {_name} WITH (FORCE)");
    }

    private static async Task ExecuteAsync(string server, string sql)
    {
        await using var connection = new NpgsqlConnection(server);
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync();
    }
}
