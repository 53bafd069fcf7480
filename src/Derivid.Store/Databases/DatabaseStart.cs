using System.Data.Common;
using System.Globalization;
using Derivid.Core;
using Derivid.Store.Seeding;
using Derivid.Store.Tables;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.EntityFrameworkCore.Storage;

namespace Derivid.Store.Databases;

/// <summary>Brings a database to the state this build needs: schema, then table version 1.</summary>
/// <param name="database">The database.</param>
/// <param name="time">Dates the first version.</param>
/// <remarks>
/// All in one transaction under one lock: of several processes starting at once one does the work and the others find
/// it done; one killed half-way leaves nothing behind. The framework's own migration runner commits after each
/// migration, and on SQLite locks with a row that outlives a killed process, so its scripts are run here instead.
/// </remarks>
public sealed class DatabaseStart(DerividDatabase database, TimeProvider time)
{
    // Another instance may be migrating a large table; ordinary commands have the short time limit of requests.
    private static readonly TimeSpan LongestWait = TimeSpan.FromMinutes(5);

    /// <summary>Migrates and seeds. Idempotent.</summary>
    /// <param name="seed">The seed tables.</param>
    /// <param name="cancellation">Gives up early, leaving the database as it was.</param>
    /// <returns>What was done.</returns>
    /// <exception cref="DatabaseNewerException">A newer build has changed it.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task<DatabaseStartReport> RunAsync(SeedTable seed, CancellationToken cancellation)
    {
        return await database.StartAsync(
            async (context, token) =>
            {
                await database.Engine.CreateAsync(token);
                await using var transaction = await database.Engine.BeginAloneAsync(context, LongestWait, token);
                var migrations = await MigrateAsync(context, token);
                var report = await SeedAsync(context, seed, migrations, token);
                await transaction.CommitAsync(token);
                return report;
            },
            cancellation);
    }

    /// <summary>Looks whether the database is as this build needs it, and changes nothing: needs no right to make tables.</summary>
    /// <param name="seed">The seed tables.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>That nothing was done, and whether the seed differs.</returns>
    /// <exception cref="DatabaseBehindException">It has not been brought up to date yet.</exception>
    /// <exception cref="DatabaseNewerException">A newer build has changed it.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<DatabaseStartReport> CheckAsync(SeedTable seed, CancellationToken cancellation) => database.StartAsync(
        async (context, token) =>
        {
            if (context.Database.GetMigrations().Except(await AppliedAsync(context, token)).ToList() is { Count: > 0 } missing)
            {
                throw new DatabaseBehindException(missing);
            }

            var first = await FirstVersionAsync(context, token);
            return new DatabaseStartReport(0, Seeded: false, SeedDiffers: first?.SeedHash != seed.Hash);
        },
        cancellation);

    private async Task<int> MigrateAsync(DerividContext context, CancellationToken cancellation)
    {
        var applied = await AppliedAsync(context, cancellation);
        var known = context.Database.GetMigrations().ToList();
        if (applied.Count == known.Count)
        {
            return 0;
        }

        await ExecuteAsync(context, context.GetService<IHistoryRepository>().GetCreateIfNotExistsScript(), cancellation);
        var script = context.GetService<IMigrator>().GenerateScript(
            fromMigration: applied.LastOrDefault(), options: MigrationsSqlGenerationOptions.NoTransactions);
        await ExecuteAsync(context, script, cancellation);
        return known.Count - applied.Count;
    }

    // Read by hand: the framework would work out its model of the history first, at every start.
    private async Task<List<string>> AppliedAsync(DerividContext context, CancellationToken cancellation)
    {
        List<string> applied = [];
        await context.Database.OpenConnectionAsync(cancellation);
        await using var history = Command(context, database.Engine.HistoryQuery);
        if (Convert.ToInt64(await history.ExecuteScalarAsync(cancellation), CultureInfo.InvariantCulture) > 0)
        {
            await using var command = Command(context, $"SELECT migration_id FROM \"{HistoryRepository.DefaultTableName}\" ORDER BY migration_id");
            await using var rows = await command.ExecuteReaderAsync(cancellation);
            while (await rows.ReadAsync(cancellation))
            {
                applied.Add(rows.GetString(0));
            }
        }

        return applied.Except(context.Database.GetMigrations()).FirstOrDefault() is { } newer
            ? throw new DatabaseNewerException(newer)
            : applied;
    }

    private static Task<TableVersion?> FirstVersionAsync(DerividContext context, CancellationToken cancellation) =>
        context.TableVersions.AsNoTracking().OrderBy(version => version.Number).FirstOrDefaultAsync(cancellation);

    // A script may hold braces, so it goes past the framework's own call, which would take them for parameters.
    private static async Task ExecuteAsync(DerividContext context, string script, CancellationToken cancellation)
    {
        await using var command = Command(context, script);
        await command.ExecuteNonQueryAsync(cancellation);
    }

    private static DbCommand Command(DerividContext context, string sql)
    {
        var command = context.Database.GetDbConnection().CreateCommand();
        command.CommandText = sql;
        command.CommandTimeout = (int)LongestWait.TotalSeconds;
        command.Transaction = context.Database.CurrentTransaction?.GetDbTransaction();
        return command;
    }

    private async Task<DatabaseStartReport> SeedAsync(
        DerividContext context, SeedTable seed, int migrations, CancellationToken cancellation)
    {
        var first = await FirstVersionAsync(context, cancellation);
        if (first is not null)
        {
            return new DatabaseStartReport(migrations, Seeded: false, SeedDiffers: first.SeedHash != seed.Hash);
        }

        var table = seed.Load().Ordered();
        await context.InsertAsync(
            table,
            TableVersion.Of(table, "The seed tables of the first start.", time.GetUtcNow().UtcDateTime, seed.Hash),
            cancellation);
        return new DatabaseStartReport(migrations, Seeded: true, SeedDiffers: false);
    }
}

/// <summary>What a start did to the database.</summary>
/// <param name="MigrationsApplied">Number of migrations run; 0 when the schema was current.</param>
/// <param name="Seeded">Whether table version 1 was stored.</param>
/// <param name="SeedDiffers">
/// Whether the seed tables of this build differ from those stored at the first start. Released versions never change,
/// so the stored ones stand.
/// </param>
public sealed record DatabaseStartReport(int MigrationsApplied, bool Seeded, bool SeedDiffers);

/// <summary>The database's schema is older than this build needs, and bringing it up to date is left to somebody else.</summary>
public sealed class DatabaseBehindException : Exception
{
    /// <summary>Takes how far behind it is.</summary>
    /// <param name="missing">The migrations it lacks. Shape: one at least, in order.</param>
    public DatabaseBehindException(IReadOnlyList<string> missing)
        : base(string.Create(
            CultureInfo.InvariantCulture,
            $"The database lacks {Figure.Count(missing.Count, "migration")} of this build, from {missing[0]} on; run the service once with --migrate, as the role that owns the tables."))
    {
    }
}

/// <summary>The database's schema is newer than this build knows; waiting doesn't help.</summary>
public sealed class DatabaseNewerException : Exception
{
    /// <summary>Takes what this build doesn't know.</summary>
    /// <param name="migration">A migration that a newer build ran.</param>
    public DatabaseNewerException(string migration)
        : base($"The database was last used by a newer build (migration {migration}); start that one, or restore an older copy.")
    {
    }
}
