using Derivid.Core.Compounds;
using Derivid.Store.Seeding;
using Derivid.Store.Tables;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Tests;

public abstract class ReferenceTablesTests(Func<Task<ITestDatabase>> newDatabase)
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task LoadedVersionIsWhatWasSeeded()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();

        var loaded = await store.Tables.LoadAsync(1, Cancellation);

        Assert.Equal(Json.Of(SampleTable.First), Json.Of(loaded!));
    }

    [Fact]
    public async Task OrderDoesNotDependOnTheOrderOfStoring()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        var first = SampleTable.First;
        var reversed = first with
        {
            Sources = [.. first.Sources.Reverse()],
            Parents = [.. first.Parents.Reverse()],
            Constants = [.. first.Constants.Reverse()],
            Kinds = [.. first.Kinds.Reverse()],
            Derivatives = [.. first.Derivatives.Reverse()],
            SpotTests = [.. first.SpotTests.Reverse()],
            Responses = [.. first.Responses.Reverse()],
            Colours = [.. first.Colours.Reverse()],
        };

        await store.StartAsync(new SeedTable("reversed", () => reversed));

        Assert.Equal(Json.Of(first), Json.Of((await store.Tables.LoadAsync(1, Cancellation))!));
    }

    [Fact]
    public async Task ReleasedVersionsAreListedNewestFirst()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        await ReleaseSecondAsync(store);

        var versions = await store.Tables.VersionsAsync(Cancellation);

        Assert.Equal([2, 1], versions.Select(version => version.Number));
        var first = versions[1];
        Assert.Equal((2, 3, 2, 3, 2), (first.SourceCount, first.ParentCount, first.DerivativeKindCount, first.DerivativeCount, first.SpotTestCount));
        Assert.Equal((StoreUnderTest.Now, DateTimeKind.Utc), (first.ReleasedAtUtc, first.ReleasedAtUtc.Kind));
        Assert.Equal(("sample", (string?)null), (first.SeedHash, versions[0].SeedHash));
        Assert.Equal(ReferenceTableHash.Of(SampleTable.First), first.ContentHash);
        Assert.NotEqual(first.ContentHash, versions[0].ContentHash);
    }

    [Fact]
    public async Task LaterVersionLeavesTheEarlierAsItWas()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        await ReleaseSecondAsync(store);

        Assert.Equal(Json.Of(SampleTable.First), Json.Of((await store.Tables.LoadAsync(1, Cancellation))!));
        Assert.Equal(Json.Of(SampleTable.Second), Json.Of((await store.Tables.LoadAsync(2, Cancellation))!));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(2)]
    [InlineData(int.MaxValue)]
    public async Task UnknownVersionIsMissing(int version)
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();

        Assert.Null(await store.Tables.LoadAsync(version, Cancellation));
    }

    [Fact]
    public async Task ReleasedRowIsNeitherChangedNorDeleted()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();

        await using (var context = store.NewContext())
        {
            var derivative = await context.Set<Derivative>().FirstAsync(Cancellation);
            context.Entry(derivative).Property(row => row.HighCelsius).CurrentValue = 400;
            await Assert.ThrowsAsync<InvalidOperationException>(() => context.SaveChangesAsync(Cancellation));
        }

        await using (var context = store.NewContext())
        {
            context.Remove(await context.Set<Derivative>().FirstAsync(Cancellation));
            await Assert.ThrowsAsync<InvalidOperationException>(() => context.SaveChangesAsync(Cancellation));
            Assert.Throws<InvalidOperationException>(() => context.SaveChanges());
        }

        Assert.Equal(Json.Of(SampleTable.First), Json.Of((await store.Tables.LoadAsync(1, Cancellation))!));
    }

    [Fact]
    public async Task RowChangedBehindTheServicesBackIsNoticed()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        await using (var context = store.NewContext())
        {
            await context.Database.ExecuteSqlAsync($"UPDATE derivatives SET low_celsius = 100 WHERE key = '1'", Cancellation);
        }

        var refusal = await Assert.ThrowsAsync<InvalidOperationException>(() => store.Tables.LoadAsync(1, Cancellation));

        Assert.Contains("Version 1 of the reference table no longer matches its hash", refusal.Message, StringComparison.Ordinal);
    }

    // What a release does: end the rows that go, add those that come, seal the version; all at once.
    private static async Task ReleaseSecondAsync(StoreUnderTest store)
    {
        await using var context = store.NewContext();
        var changed = await context.Set<Derivative>().SingleAsync(row => row.Key == "1", Cancellation);
        var dropped = await context.Set<ParentConstant>().SingleAsync(row => row.ParentKey == "aa", Cancellation);
        context.Entry(changed).Property("ToVersion").CurrentValue = 2;
        context.Entry(dropped).Property("ToVersion").CurrentValue = 2;
        foreach (object row in (object[])[SampleTable.Second.Derivatives[0], SampleTable.Second.Parents[^1]])
        {
            var entry = context.Entry(row);
            entry.Property("FromVersion").CurrentValue = 2;
            entry.State = EntityState.Added;
        }

        context.Add(new TableVersion
        {
            Number = 2,
            ReleasedAtUtc = StoreUnderTest.Now.AddDays(1),
            Note = "second",
            ContentHash = ReferenceTableHash.Of(SampleTable.Second),
            SourceCount = 2,
            ParentCount = 4,
            DerivativeKindCount = 2,
            DerivativeCount = 3,
            SpotTestCount = 2,
        });
        await context.SaveChangesAsync(Cancellation);
    }

    public sealed class OnSqlite() : ReferenceTablesTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : ReferenceTablesTests(async () => await server.NewDatabaseAsync());
}
