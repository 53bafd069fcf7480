using Derivid.Store.Databases;
using Derivid.Store.Sqlite;
using Microsoft.Data.Sqlite;

namespace Derivid.Testing;

/// <summary>An SQLite file that doesn't exist yet, in a temporary folder.</summary>
public sealed class SqliteDatabase : ITestDatabase
{
    private readonly string _folder = Directory.CreateTempSubdirectory("derivid-sqlite-").FullName;

    /// <summary>Where the file will lie.</summary>
    public string FilePath => Path.Combine(_folder, DatabaseOptions.FileName);

    /// <inheritdoc />
    public string ConnectionString => $"Data Source={FilePath}";

    /// <inheritdoc />
    public DatabaseEngine NewEngine() => new SqliteEngine(ConnectionString);

    /// <inheritdoc />
    public ValueTask DisposeAsync()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
        return ValueTask.CompletedTask;
    }
}
