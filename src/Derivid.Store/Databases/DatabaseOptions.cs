using System.Data.Common;

namespace Derivid.Store.Databases;

/// <summary>Which engine, and how to reach it.</summary>
/// <param name="Engine">The engine.</param>
/// <param name="ConnectionString">Its connection string. Holds a password: never printed.</param>
public sealed record DatabaseOptions(DatabaseEngineName Engine, string ConnectionString)
{
    /// <summary>The SQLite file's name in the data folder.</summary>
    public const string FileName = "derivid.db";

    /// <summary>Chooses from the settings.</summary>
    /// <param name="engine">The setting <c>Database:Engine</c>. Missing: null or empty, told from the connection string.</param>
    /// <param name="connectionString">The setting <c>ConnectionStrings:Derivid</c>. Missing: null or empty.</param>
    /// <param name="dataFolder">Where the SQLite file lies when neither is given.</param>
    /// <exception cref="SettingException">
    /// The engine is unknown or named without a connection string, or the string belongs to neither engine.
    /// </exception>
    public static DatabaseOptions Choose(string? engine, string? connectionString, string dataFolder)
    {
        var named = string.IsNullOrWhiteSpace(engine) ? (DatabaseEngineName?)null : Named(engine.Trim());
        if (string.IsNullOrWhiteSpace(connectionString))
        {
            return named is null
                ? new DatabaseOptions(DatabaseEngineName.Sqlite, FileIn(dataFolder))
                : throw new SettingException(
                    $"Database:Engine is {named}, but ConnectionStrings:Derivid is empty. Set both, or neither for an SQLite file in the data folder.");
        }

        return new DatabaseOptions(named ?? ToldFrom(connectionString), connectionString);
    }

    /// <summary>Names the engine only, because the connection string may hold a password.</summary>
    /// <returns>The engine's name.</returns>
    public override string ToString() => Engine.ToString();

    private static DatabaseEngineName Named(string engine) => engine.ToUpperInvariant() switch
    {
        "SQLITE" => DatabaseEngineName.Sqlite,
        "POSTGRESQL" => DatabaseEngineName.PostgreSql,
        _ => throw new SettingException($"Database:Engine is '{engine}'; allowed are Sqlite and PostgreSql."),
    };

    private static string FileIn(string dataFolder) =>
        new DbConnectionStringBuilder { ["Data Source"] = Path.Combine(dataFolder, FileName) }.ConnectionString;

    private static DatabaseEngineName ToldFrom(string connectionString)
    {
        var parts = new DbConnectionStringBuilder();
        try
        {
            parts.ConnectionString = connectionString;
        }
        catch (ArgumentException)
        {
            // The provider's message may quote the string, so it isn't passed on.
            throw new SettingException(
                "ConnectionStrings:Derivid is not a list of Keyword=value pairs separated by semicolons.");
        }

        return parts.ContainsKey("Host") || parts.ContainsKey("Server") ? DatabaseEngineName.PostgreSql
            : parts.ContainsKey("Data Source") || parts.ContainsKey("Filename") ? DatabaseEngineName.Sqlite
            : throw new SettingException(
                "ConnectionStrings:Derivid names neither Host (PostgreSQL) nor Data Source (SQLite).");
    }
}

/// <summary>The engines Derivid stores on.</summary>
public enum DatabaseEngineName
{
    /// <summary>A file beside the service; one process at a time.</summary>
    Sqlite,

    /// <summary>A server that several instances share.</summary>
    PostgreSql,
}
