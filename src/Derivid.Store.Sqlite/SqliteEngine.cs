using System.Diagnostics.CodeAnalysis;
using Derivid.Store.Databases;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.EntityFrameworkCore.Storage;

namespace Derivid.Store.Sqlite;

/// <summary>SQLite: a file beside the service, for one process at a time.</summary>
[SuppressMessage(
    "Design", "CA1001", Justification = "A semaphore whose wait handle nobody asks for holds nothing to dispose of.")]
public sealed class SqliteEngine : DatabaseEngine
{
    // How long a command waits for another writer. Units: s. Short, so that a caller hears of it within 3 s.
    private const int BusySeconds = 2;

    // SQLite's result codes.
    private const int Busy = 5;
    private const int CannotOpen = 14;

    private readonly SqliteConnectionStringBuilder _connection;
    private readonly SemaphoreSlim _turn = new(1);

    /// <summary>Takes the connection.</summary>
    /// <param name="connectionString">An SQLite connection string with a Data Source.</param>
    /// <exception cref="SettingException">The connection string isn't SQLite's.</exception>
    public SqliteEngine(string connectionString)
    {
        try
        {
            // ReadWrite: a file taken away while the service runs is reported, not replaced by an empty one.
            _connection = new SqliteConnectionStringBuilder(connectionString)
            {
                Mode = SqliteOpenMode.ReadWrite,
                DefaultTimeout = BusySeconds,
            };
        }
        catch (ArgumentException)
        {
            throw new SettingException(
                "ConnectionStrings:Derivid has keywords that SQLite doesn't know; an example is Data Source=data/derivid.db.");
        }
    }

    /// <inheritdoc />
    public override string Name => "SQLite";

    /// <inheritdoc />
    public override bool IsShared => false;

    /// <inheritdoc />
    public override string HistoryQuery => $"SELECT count(*) FROM sqlite_master WHERE name = '{HistoryRepository.DefaultTableName}'";

    /// <inheritdoc />
    protected override IModel Model => CompiledModel.DerividContextModel.Instance;

    /// <inheritdoc />
    public override string Place => Path.GetFullPath(_connection.DataSource);

    /// <inheritdoc />
    public override async Task CreateAsync(CancellationToken cancellation)
    {
        MakeFolder();
        var creating = new SqliteConnectionStringBuilder(_connection.ConnectionString)
        {
            Mode = SqliteOpenMode.ReadWriteCreate,
            Pooling = false,
        };
        await using var connection = new SqliteConnection(creating.ConnectionString);
        await connection.OpenAsync(cancellation);
        await using var command = connection.CreateCommand();

        // Readers and the writer don't wait for each other; the setting stays with the file.
        command.CommandText = "PRAGMA journal_mode = WAL;";
        await command.ExecuteNonQueryAsync(cancellation);
    }

    /// <inheritdoc />
    /// <remarks>The provider begins every transaction as the one writer, and waits its turn.</remarks>
    public override Task<IDbContextTransaction> BeginAloneAsync(
        DerividContext context, TimeSpan longestWait, CancellationToken cancellation)
    {
        ((SqliteConnection)context.Database.GetDbConnection()).DefaultTimeout = (int)longestWait.TotalSeconds;
        return context.Database.BeginTransactionAsync(cancellation);
    }

    /// <inheritdoc />
    /// <remarks>SQLite's own way is to try again after a while, by which somebody unlucky never gets in.</remarks>
    public override async Task<IDisposable?> TakeTurnAsync(TimeSpan longestWait, CancellationToken cancellation) =>
        await _turn.WaitAsync(longestWait, cancellation)
            ? new Turn(_turn)
            : throw new SqliteException("Others are writing already.", Busy);

    /// <inheritdoc />
    /// <remarks>A file answers, or refuses by itself.</remarks>
    public override Task<bool> AnswersAsync(CancellationToken cancellation) => Task.FromResult(true);

    /// <inheritdoc />
    /// <remarks>Source: SQLite's primary result codes (sqlite.org/rescode.html).</remarks>
    public override bool MeansUnavailable(Exception exception) => exception is SqliteException
    {
        SqliteErrorCode: Busy or 6 or 8 or 10 or 11 or 13 or CannotOpen or 26,  // busy, locked, read-only, I/O, corrupt, full, can't open, no database
    };

    /// <inheritdoc />
    /// <remarks>Nobody to tell: a file serves one process.</remarks>
    public override Task AnnounceReleaseAsync(DerividContext context, CancellationToken cancellation) => Task.CompletedTask;

    /// <inheritdoc />
    public override Task ListenAsync(Action heard, CancellationToken cancellation) => Task.CompletedTask;

    /// <inheritdoc />
    protected override void UseProvider(DbContextOptionsBuilder options) => options.UseSqlite(
        _connection.ConnectionString,
        sqlite => sqlite.MigrationsAssembly(typeof(SqliteEngine).Assembly).CommandTimeout(BusySeconds));

    private void MakeFolder()
    {
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(Place)!);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new SqliteException(fault.Message, CannotOpen);
        }
    }

    private sealed class Turn(SemaphoreSlim turn) : IDisposable
    {
        public void Dispose() => turn.Release();
    }
}
