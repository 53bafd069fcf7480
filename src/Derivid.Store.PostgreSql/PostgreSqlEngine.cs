using System.Data.Common;
using System.Net.Sockets;
using Derivid.Store.Databases;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.EntityFrameworkCore.Storage;
using Npgsql;

namespace Derivid.Store.PostgreSql;

/// <summary>PostgreSQL: a server that several instances share.</summary>
/// <remarks>
/// A process takes 40 connections at most and one to listen on, unless the connection string names a Maximum Pool Size; whoever finds
/// none free within the time limit for connecting hears that the database can't be used.
/// </remarks>
public sealed class PostgreSqlEngine : DatabaseEngine
{
    // Time limit for connecting, unless the connection string sets its own. Units: s. Short, so that a caller hears of a
    // lost server within 3 s.
    private const int ConnectSeconds = 2;

    // Time limit for a command, unless the connection string sets its own. Units: s. Not to find out that the server is
    // gone, which is found out sooner (DerividDatabase): when it has passed, the provider waits for the server where it stands.
    private const int CommandSeconds = 6;

    // After a time limit the server is asked to stop, on a connection of its own; a lost server won't answer that
    // either. Units: ms.
    private const int CancellationMilliseconds = 500;

    // How long a new connection may take when the question is whether the server is there at all. Units: s.
    private const int AnswerSeconds = 2;

    // Most connections of a process, unless the connection string sets its own. Chosen: two instances find room on a server with
    // its default of 100, of which it keeps 3 for superusers, beside a backup and an administrator.
    private const int PoolSize = 40;

    // Any number will do so long as every instance uses the same: "DERIVID" in ASCII.
    private const long StartLock = 0x44_45_52_49_56_49_44;

    // Units: s.
    private const int KeepAliveSeconds = 10;

    /// <summary>What the server's list of sessions calls the connection that listens for releases.</summary>
    public const string ListenerName = "derivid-listener";

    // What metrics call the pool; else it would be called by its connection string.
    private const string PoolName = "derivid";

    private const string ReleaseChannel = "derivid_table_version";

    private readonly string _connectionString;
    private readonly Lazy<NpgsqlDataSource> _asking;
    private readonly Lazy<NpgsqlDataSource> _listening;

    /// <summary>Takes the connection.</summary>
    /// <param name="connectionString">A PostgreSQL connection string with a Host.</param>
    /// <exception cref="SettingException">The connection string isn't PostgreSQL's.</exception>
    public PostgreSqlEngine(string connectionString)
    {
        try
        {
            var given = new DbConnectionStringBuilder { ConnectionString = connectionString };
            var connection = new NpgsqlConnectionStringBuilder(connectionString);
            if (!given.ContainsKey("Timeout"))
            {
                connection.Timeout = ConnectSeconds;
            }

            if (!given.ContainsKey("Command Timeout") && !given.ContainsKey("CommandTimeout"))
            {
                connection.CommandTimeout = CommandSeconds;
            }

            if (!given.ContainsKey("Cancellation Timeout") && !given.ContainsKey("CancellationTimeout"))
            {
                connection.CancellationTimeout = CancellationMilliseconds;
            }

            if (!given.ContainsKey("Maximum Pool Size") && !given.ContainsKey("MaxPoolSize"))
            {
                connection.MaxPoolSize = Math.Max(PoolSize, connection.MinPoolSize);
            }

            _connectionString = connection.ConnectionString;
            _asking = Alone("derivid-asking", settings => settings.Timeout = AnswerSeconds);
            _listening = Alone(ListenerName, settings => (settings.KeepAlive, settings.ApplicationName) = (KeepAliveSeconds, ListenerName));
            Place = FormattableString.Invariant($"{connection.Host}:{connection.Port}/{connection.Database ?? connection.Username}");
        }
        catch (ArgumentException)
        {
            // The provider's message may quote the string, so it isn't passed on.
            throw new SettingException(
                "ConnectionStrings:Derivid has keywords that PostgreSQL doesn't know; an example is Host=localhost;Database=derivid;Username=derivid;Password=...");
        }
    }

    /// <inheritdoc />
    public override string Name => "PostgreSQL";

    /// <inheritdoc />
    public override string HistoryQuery => $"SELECT count(to_regclass('\"{HistoryRepository.DefaultTableName}\"'))";

    /// <inheritdoc />
    protected override IModel Model => CompiledModel.DerividContextModel.Instance;

    /// <inheritdoc />
    public override string Place { get; }

    /// <inheritdoc />
    public override bool IsShared => true;

    /// <inheritdoc />
    /// <remarks>Nothing to do: making databases and their users is the administrator's.</remarks>
    public override Task CreateAsync(CancellationToken cancellation) => Task.CompletedTask;

    /// <inheritdoc />
    public override async Task<IDbContextTransaction> BeginAloneAsync(
        DerividContext context, TimeSpan longestWait, CancellationToken cancellation)
    {
        context.Database.SetCommandTimeout(longestWait);
        var transaction = await context.Database.BeginTransactionAsync(cancellation);
        await context.Database.ExecuteSqlAsync($"SELECT pg_advisory_xact_lock({StartLock})", cancellation);
        return transaction;
    }

    /// <inheritdoc />
    public override async Task<bool> AnswersAsync(CancellationToken cancellation)
    {
        try
        {
            await using var connection = await _asking.Value.OpenConnectionAsync(cancellation);
            return true;
        }
        catch (PostgresException)
        {
            return true;
        }
        catch (Exception fault) when (IsDownTo(fault))
        {
            return false;
        }
    }

    /// <inheritdoc />
    /// <remarks>
    /// A failure to talk to the server at all, or a refusal of these classes of SQLSTATE (PostgreSQL manual, Appendix
    /// A): 08 connection, 28 authorization, 3D no such database, 40 rolled back, 53 resources, 55P03 and 57 operator
    /// intervention, 58 system error, 25006 read-only server.
    /// </remarks>
    public override bool MeansUnavailable(Exception exception) => exception switch
    {
        PostgresException { IsTransient: true } => true,
        PostgresException refusal => refusal.SqlState is "25006" or "55P03"
            || refusal.SqlState[..2] is "08" or "28" or "3D" or "40" or "53" or "57" or "58",
        NpgsqlException or TimeoutException or IOException or SocketException => true,
        _ => false,
    };

    /// <inheritdoc />
    public override Task AnnounceReleaseAsync(DerividContext context, CancellationToken cancellation) =>
        context.Database.ExecuteSqlRawAsync($"NOTIFY {ReleaseChannel}", cancellation);

    /// <inheritdoc />
    /// <remarks>
    /// On a connection of its own, which must not be a pooled one: it lasts. Keepalive finds a server that went away
    /// without a word.
    /// </remarks>
    public override async Task ListenAsync(Action heard, CancellationToken cancellation)
    {
        await using var connection = await _listening.Value.OpenConnectionAsync(cancellation);
        connection.Notification += (_, _) => heard();
        await using (var listen = new NpgsqlCommand($"LISTEN {ReleaseChannel}", connection))
        {
            await listen.ExecuteNonQueryAsync(cancellation);
        }

        // What was released between the last look and now was announced to nobody.
        heard();
        while (true)
        {
            await connection.WaitAsync(cancellation);
        }
    }

    // Connections of their own, none of them kept; named, for the same reason as the pool. They need none of the server's types, whose
    // loading the provider waits for without a limit once less than a second of the time for connecting is left.
    private Lazy<NpgsqlDataSource> Alone(string name, Action<NpgsqlConnectionStringBuilder> configure) => new(() =>
    {
        var builder = new NpgsqlDataSourceBuilder(_connectionString) { Name = name };
        builder.ConnectionStringBuilder.Pooling = false;
        configure(builder.ConnectionStringBuilder);
        builder.ConfigureTypeLoading(types => types.EnableTypeLoading(false));
        return builder.Build();
    });

    /// <inheritdoc />
    protected override void UseProvider(DbContextOptionsBuilder options) => options.UseNpgsql(
        _connectionString,
        postgres => postgres.MigrationsAssembly(typeof(PostgreSqlEngine).Assembly).ConfigureDataSource(pool => pool.Name = PoolName));
}
