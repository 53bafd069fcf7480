using Derivid.Store.Databases;
using Derivid.Store.PostgreSql;
using Derivid.Store.Sqlite;

namespace Derivid.Api.Hosting;

/// <summary>Chooses the database engine, in one place, from the host's settings.</summary>
internal static class DatabaseHosting
{
    /// <summary>
    /// Adds the store on the engine of <c>Database:Engine</c> and <c>ConnectionStrings:Derivid</c>; without either, on
    /// an SQLite file in <c>Database:Folder</c> (default: <c>data</c> under the content root).
    /// </summary>
    /// <param name="builder">The host's builder.</param>
    /// <returns>The engine chosen.</returns>
    /// <exception cref="InvalidOperationException">The settings contradict each other; see the message.</exception>
    public static DatabaseEngine AddDatabase(this WebApplicationBuilder builder)
    {
        var settings = builder.Configuration;
        var folder = Path.Combine(builder.Environment.ContentRootPath, settings["Database:Folder"] ?? "data");
        var options = DatabaseOptions.Choose(
            settings["Database:Engine"], settings.GetConnectionString("Derivid"), folder);
        DatabaseEngine engine = options.Engine switch
        {
            DatabaseEngineName.Sqlite => new SqliteEngine(options.ConnectionString),
            DatabaseEngineName.PostgreSql => new PostgreSqlEngine(options.ConnectionString),
        };
        builder.Services.AddDerividStore(engine);
        return engine;
    }
}
