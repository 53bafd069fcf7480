using System.Diagnostics;
using Derivid.Testing;
using Npgsql;

namespace Derivid.Api.Tests.Deployment;

/// <summary>A PostgreSQL server set up as deploy/README.md says: roles by roles.sql, tables by a run with --migrate.</summary>
/// <remarks>
/// psql, pg_dump and pg_restore must not be older than the server, so they are taken from the folder of its own programs:
/// <see cref="PostgreSqlBinaries"/> finds it (the PATH, else Debian's /usr/lib/postgresql/15/bin and its like), and the
/// scripts find it on the PATH they are given here.
/// </remarks>
public sealed class DeployedServer : IAsyncLifetime
{
    public const string Owner = "derivid_owner";
    public const string Service = "derivid";

    private const string Superuser = "postgres";

    private PostgreSqlCluster? _cluster;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => _cluster = await PostgreSqlCluster.StartNewAsync(durable: false);

    public async ValueTask DisposeAsync()
    {
        NpgsqlConnection.ClearAllPools();
        await _cluster!.DisposeAsync();
    }

    /// <summary>Makes an empty database with roles.sql.</summary>
    /// <param name="database">Its name.</param>
    public async Task CreateAsync(string database)
    {
        var made = await RunAsync(
            "postgres", Superuser, "psql", "--no-psqlrc", "-v", "database=" + database, "-f",
            Path.Combine(DeployFiles.Folder, "roles.sql"));
        Assert.True(made.ExitCode == 0, made.Errors);
    }

    /// <summary>Runs the service with --migrate.</summary>
    public Task<Finished> MigrateAsync(string database, string role) =>
        RunAsync(database, role, "dotnet", typeof(Program).Assembly.Location, "--migrate");

    /// <summary>Runs backup.sh or restore.sh.</summary>
    public Task<Finished> ScriptAsync(string script, string database, string role, params string[] arguments) =>
        RunAsync(database, role, Path.Combine(DeployFiles.Folder, script), arguments);

    /// <summary>The service's own process, as its role and without the right to migrate.</summary>
    public ServiceUnderTest NewService(string database) => new(
        ConnectionString(database, Service), null, ("Database:MigrateAtStart", "false"), ("Table:PollSeconds", "0.1"));

    /// <summary>Runs one statement.</summary>
    /// <returns>The first field of the first row. Missing: null, no row.</returns>
    public async Task<object?> ExecuteAsync(string database, string role, string sql)
    {
        await using var connection = new NpgsqlConnection(ConnectionString(database, role));
        await connection.OpenAsync(Cancellation);
        await using var command = new NpgsqlCommand(sql, connection);
        return await command.ExecuteScalarAsync(Cancellation);
    }

    private string ConnectionString(string database, string role) =>
        new NpgsqlConnectionStringBuilder(_cluster!.ConnectionString) { Database = database, Username = role }.ConnectionString;

    private async Task<Finished> RunAsync(string database, string role, string program, params string[] arguments)
    {
        var server = new NpgsqlConnectionStringBuilder(_cluster!.ConnectionString);
        using var process = Process.Start(new ProcessStartInfo(program, arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            Environment =
            {
                ["PATH"] = PostgreSqlBinaries.Find() + Path.PathSeparator + Environment.GetEnvironmentVariable("PATH"),
                ["PGHOST"] = server.Host,
                ["PGPORT"] = $"{server.Port}",
                ["PGDATABASE"] = database,
                ["PGUSER"] = role,
                ["DERIVID_OWNER_PASSWORD"] = "owner's \"password\";",
                ["DERIVID_DB_PASSWORD"] = "service's \"password\";",
                ["ConnectionStrings__Derivid"] = ConnectionString(database, role),
            },
        })!;
        var output = process.StandardOutput.ReadToEndAsync(Cancellation);
        var errors = process.StandardError.ReadToEndAsync(Cancellation);
        await process.WaitForExitAsync(Cancellation);
        return new Finished(process.ExitCode, await output, await errors);
    }

    /// <summary>How a program ended.</summary>
    public sealed record Finished(int ExitCode, string Output, string Errors);
}
