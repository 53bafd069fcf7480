using Derivid.Store.Databases;
using Derivid.Store.Seeding;

namespace Derivid.Api.Http;

/// <summary>
/// The run that only brings the database up to date, as a role that may make tables, so that the service's own role needs
/// no such right.
/// </summary>
public static partial class MigrationRun
{
    /// <summary>The argument that asks for it.</summary>
    public const string Flag = "--migrate";

    /// <summary>Migrates, and seeds an empty database. Harmless to repeat, and while instances run.</summary>
    /// <param name="app">The application, not started.</param>
    /// <returns>The exit code: 0, or 1 when it could not be done and nothing was changed.</returns>
    public static async Task<int> MigrateAsync(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        await using (app)
        {
            try
            {
                var report = await app.Services.GetRequiredService<DatabaseStart>()
                    .RunAsync(app.Services.GetRequiredService<SeedTable>(), CancellationToken.None);
                Done(app.Logger, report.MigrationsApplied, report.Seeded);
                return 0;
            }
            catch (Exception fault) when (fault is DatabaseUnavailableException or DatabaseNewerException or InvalidOperationException)
            {
                Failed(app.Logger, fault.InnerException?.Message ?? fault.Message);
                return 1;
            }
        }
    }

    [LoggerMessage(LogLevel.Information, "Database up to date; {Migrations} migrations run, seeded now: {Seeded}.")]
    private static partial void Done(ILogger log, int migrations, bool seeded);

    [LoggerMessage(LogLevel.Error, "The database was left as it was: {Reason}")]
    private static partial void Failed(ILogger log, string reason);
}
