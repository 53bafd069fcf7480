using Derivid.Store.Databases;
using Derivid.Store.Seeding;
using Derivid.Store.Sqlite;

namespace Derivid.Api.Operating;

/// <summary>The runs that do one thing to the database and end; nothing is served.</summary>
/// <remarks>
/// Bringing it up to date is one, as a role that may make tables, so that the service's own role needs no such right. An SQLite
/// database is copied, restored and checked here, since nothing else on the machine need know SQLite; a PostgreSQL database has
/// programs of its own for that.
/// </remarks>
public static partial class DatabaseRun
{
    /// <summary>Does what the arguments ask for.</summary>
    /// <param name="app">The application, not started.</param>
    /// <param name="arguments">What to do; anything but to serve.</param>
    /// <returns>The exit code: 0, or 1 when it could not be done and nothing was changed.</returns>
    public static async Task<int> RunTaskAsync(this WebApplication app, ServiceArguments arguments)
    {
        ArgumentNullException.ThrowIfNull(app);
        ArgumentNullException.ThrowIfNull(arguments);
        await using (app)
        {
            try
            {
                if (arguments.Task == ServiceTask.Migrate)
                {
                    var report = await app.Services.GetRequiredService<DatabaseStart>()
                        .RunAsync(app.Services.GetRequiredService<SeedTable>(), CancellationToken.None);
                    Migrated(app.Logger, report.MigrationsApplied, report.Seeded);
                }
                else
                {
                    OnFile(app, arguments);
                }

                return 0;
            }
            catch (Exception fault) when (fault is DatabaseUnavailableException or DatabaseNewerException or InvalidOperationException)
            {
                Failed(app.Logger, fault.InnerException?.Message ?? fault.Message);
                return 1;
            }
        }
    }

    private static void OnFile(WebApplication app, ServiceArguments arguments)
    {
        if (app.Services.GetRequiredService<DatabaseEngine>() is not SqliteEngine engine)
        {
            throw new InvalidOperationException("It is PostgreSQL, which brings its own programs for this; deploy/backup.sh and deploy/restore.sh call them.");
        }

        var database = engine.Place;
        switch (arguments.Task)
        {
            case ServiceTask.BackUp:
                BackedUp(app.Logger, database, arguments.File!.FullName, SqliteBackup.Write(database, arguments.File.FullName));
                break;
            case ServiceTask.Restore:
                var now = app.Services.GetRequiredService<TimeProvider>().GetUtcNow().UtcDateTime;
                var (holds, former) = SqliteBackup.Restore(arguments.File!.FullName, database, now);
                Restored(app.Logger, arguments.File.FullName, database, holds, former ?? "none");
                break;
            default:
                var file = arguments.File?.FullName ?? database;
                Checked(app.Logger, file, SqliteBackup.Check(file));
                break;
        }
    }

    [LoggerMessage(LogLevel.Information, "Database up to date; {Migrations} migrations run, seeded now: {Seeded}.")]
    private static partial void Migrated(ILogger log, int migrations, bool seeded);

    [LoggerMessage(LogLevel.Information, "{Database} is copied to {File}, and the copy is sound: {Holds}. It holds what is in the vials, hashes of keys and the secrets hand-outs are drawn with: keep it as you would the answers.")]
    private static partial void BackedUp(ILogger log, string database, string file, SqliteContents holds);

    [LoggerMessage(LogLevel.Information, "{File} is sound and stands in the place of {Database}: {Holds}. What stood there before: {Former}.")]
    private static partial void Restored(ILogger log, string file, string database, SqliteContents holds, string former);

    [LoggerMessage(LogLevel.Information, "{File} is sound: {Holds}.")]
    private static partial void Checked(ILogger log, string file, SqliteContents holds);

    [LoggerMessage(LogLevel.Error, "The database was left as it was: {Reason}")]
    private static partial void Failed(ILogger log, string reason);
}
