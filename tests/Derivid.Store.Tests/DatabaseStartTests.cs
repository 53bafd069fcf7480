using System.Data.Common;
using Derivid.Core.Curation;
using Derivid.Store.Databases;
using Derivid.Store.Seeding;
using Derivid.Store.Tables;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Metadata;

namespace Derivid.Store.Tests;

public abstract class DatabaseStartTests(Func<Task<ITestDatabase>> newDatabase)
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    // How values are converted and compared is in neither of the framework's own texts.
    private static string Told(IModel model) => string.Join('\n',
    [
        model.ToDebugString(MetadataDebugStringOptions.LongDefault),
        model.GetRelationalModel().ToDebugString(MetadataDebugStringOptions.LongDefault),
        .. from entity in model.GetEntityTypes()
           from property in entity.GetProperties()
           select $"{entity.Name}.{property.Name}: {property.GetTypeMapping().Converter?.GetType()}, {property.GetValueComparer().GetType()}",
    ]);

    [Fact]
    public async Task FirstStartMigratesAndSeeds()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());

        var report = await store.StartAsync();

        await using var context = store.NewContext();
        Assert.Equal(new DatabaseStartReport(context.Database.GetMigrations().Count(), Seeded: true, SeedDiffers: false), report);
        Assert.Empty(await context.Database.GetPendingMigrationsAsync(Cancellation));
        Assert.Single(await store.Tables.VersionsAsync(Cancellation));
    }

    [Fact]
    public async Task CheckWaitsForTheMigrationsAndDoesNothingItself()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await using var context = store.NewContext();
        await database.NewEngine().CreateAsync(Cancellation);

        var behind = await Assert.ThrowsAsync<DatabaseBehindException>(store.CheckAsync);
        Assert.Contains($"lacks {context.Database.GetMigrations().Count()} migrations", behind.Message, StringComparison.Ordinal);
        Assert.Empty(await context.Database.GetAppliedMigrationsAsync(Cancellation));

        await store.StartAsync();

        Assert.Equal(new DatabaseStartReport(0, Seeded: false, SeedDiffers: false), await store.CheckAsync());
    }

    // The file or the database is there before its tables are, and requests come meanwhile.
    [Fact]
    public async Task DatabaseIsUnavailableUntilItsStartIsOver()
    {
        await using var database = await newDatabase();
        var engine = database.NewEngine();
        await using var store = new StoreUnderTest(engine);
        await engine.CreateAsync(Cancellation);

        await Assert.ThrowsAsync<DatabaseUnavailableException>(() => store.Keys.FindAsync("any", Cancellation));
        await Assert.ThrowsAsync<DatabaseUnavailableException>(() => store.Identifications.AddAsync(Sample.Identification("early"), Cancellation));

        // Nor does looking whether it is over make it so.
        await Assert.ThrowsAsync<DatabaseBehindException>(store.CheckAsync);
        await Assert.ThrowsAsync<DatabaseUnavailableException>(() => store.Keys.FindAsync("any", Cancellation));

        await store.StartAsync();

        Assert.Null(await store.Keys.FindAsync("any", Cancellation));
        await using var other = new StoreUnderTest(database.NewEngine());
        await other.CheckAsync();
        Assert.Null(await other.Keys.FindAsync("any", Cancellation));
    }

    // What can't be put right by waiting stops the process, and isn't taken for an outage.
    [Fact]
    public async Task MigrationThatTheDatabaseRefusesIsNoOutage()
    {
        await using var database = await newDatabase();
        var engine = database.NewEngine();
        await using var store = new StoreUnderTest(engine);
        await engine.CreateAsync(Cancellation);
        await using (var context = store.NewContext())
        {
            await context.Database.ExecuteSqlAsync($"CREATE TABLE api_keys (id text)", Cancellation);
        }

        await Assert.ThrowsAnyAsync<DbException>(store.StartAsync);
    }

    [Fact]
    public async Task LaterStartChangesNothing()
    {
        await using var database = await newDatabase();
        await using (var first = new StoreUnderTest(database.NewEngine()))
        {
            await first.StartAsync();
        }

        await using var second = new StoreUnderTest(database.NewEngine());
        var report = await second.StartAsync(new SeedTable("sample", () => throw new InvalidOperationException("Read twice.")));

        Assert.Equal(new DatabaseStartReport(0, Seeded: false, SeedDiffers: false), report);
    }

    [Fact]
    public async Task OtherSeedTablesAreReportedAndLeaveVersionOneAlone()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();

        var report = await store.StartAsync(new SeedTable("other", () => SampleTable.Second with { Version = 1 }));

        Assert.Equal(new DatabaseStartReport(0, Seeded: false, SeedDiffers: true), report);
        Assert.Equal(ReferenceTableHash.Of(SampleTable.First), Assert.Single(await store.Tables.VersionsAsync(Cancellation)).ContentHash);
    }

    [Fact]
    public async Task SeveralStartsAtOnceSeedOnce()
    {
        await using var database = await newDatabase();
        var stores = Enumerable.Range(0, 4).Select(_ => new StoreUnderTest(database.NewEngine())).ToList();

        var reports = await Task.WhenAll(stores.Select(store => Task.Run(store.StartAsync, Cancellation)));

        Assert.Single(reports, report => report.Seeded);
        Assert.Single(reports, report => report.MigrationsApplied > 0);
        Assert.All(reports, report => Assert.False(report.SeedDiffers));
        var loaded = await stores[0].Tables.LoadAsync(1, Cancellation);
        Assert.Equal(SampleTable.First.Derivatives.Count, loaded!.Derivatives.Count);
        foreach (var store in stores)
        {
            await store.DisposeAsync();
        }
    }

    [Fact]
    public async Task StartThatFailsHalfWayLeavesNothingBehind()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        var twiceTheSameRow = SampleTable.First with { Sources = [.. SampleTable.First.Sources, SampleTable.First.Sources[0] with { Citation = "" }] };

        // The schema is in place by the time the rows are read and stored.
        await Assert.ThrowsAsync<InvalidDataException>(
            () => store.StartAsync(new SeedTable("sample", () => throw new InvalidDataException("An altered file."))));
        await Assert.ThrowsAnyAsync<Exception>(() => store.StartAsync(new SeedTable("sample", () => twiceTheSameRow)));

        await using (var context = store.NewContext())
        {
            Assert.Empty(await context.Database.GetAppliedMigrationsAsync(Cancellation));
        }

        Assert.True((await store.StartAsync()).Seeded);
    }

    [Fact]
    public async Task DatabaseOfANewerBuildIsRefused()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        await using (var context = store.NewContext())
        {
            await context.Database.ExecuteSqlAsync(
                $"""INSERT INTO "__EFMigrationsHistory" (migration_id, product_version) VALUES ('99990101000000_Later', '99')""",
                Cancellation);
        }

        var refusal = await Assert.ThrowsAsync<DatabaseNewerException>(store.StartAsync);

        Assert.Contains("99990101000000_Later", refusal.Message, StringComparison.Ordinal);
        Assert.Equal(refusal.Message, (await Assert.ThrowsAsync<DatabaseNewerException>(store.CheckAsync)).Message);
    }

    [Fact]
    public async Task EveryModelChangeHasAMigration()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await using var context = store.NewContext();

        Assert.False(context.Database.HasPendingModelChanges());
    }

    // What is used is generated; after a change to the mapping it is generated again (DEVELOPERS.md, Add a migration).
    [Fact]
    public async Task GeneratedModelIsWhatTheMappingSays()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await using var context = store.NewContext();
        var mapped = new DbContextOptionsBuilder<DerividContext>();
        database.NewEngine().Configure(mapped);
        await using var working = new DerividContext(mapped.Options, TableLayout.Standard);

        Assert.IsType<RuntimeModel>(context.Model, exactMatch: false);
        Assert.NotSame(working.Model, context.Model);
        Assert.Equal(Told(working.Model), Told(context.Model));
    }

    [Fact]
    public async Task BuiltInSeedTablesAreStored()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        var seed = SeedTable.BuiltIn();

        await store.StartAsync(seed);

        Assert.Equal(Json.Of(seed.Load().Ordered()), Json.Of((await store.Tables.LoadAsync(1, Cancellation))!));
    }

    public sealed class OnSqlite() : DatabaseStartTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : DatabaseStartTests(async () => await server.NewDatabaseAsync());
}
