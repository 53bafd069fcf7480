using System.Data.Common;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Tests;

public abstract class IdentificationArchiveTests(Func<Task<ITestDatabase>> newDatabase)
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task StoredIsFoundByteForByte()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var awkward = Sample.Identification("awkward") with
        {
            ObservationJson = """{ "b":1,"a" : "\u0000 it's – {0} \"\\ \ud83d\udd25 🔥" }""",
            ResultJson = $$"""{"text":"{{new string('x', 200_000)}}"}""",
        };

        Assert.True(await store.Identifications.AddAsync(awkward, Cancellation));

        var found = await store.Identifications.FindAsync("awkward", Cancellation);
        Assert.Equal(awkward, found);
        Assert.Equal(DateTimeKind.Utc, found!.CreatedAtUtc.Kind);
    }

    [Theory]
    [InlineData("")]
    [InlineData("unknown")]
    [InlineData("' OR ''='")]
    public async Task UnknownIdIsMissing(string id)
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Identifications.AddAsync(Sample.Identification("known"), Cancellation);

        Assert.Null(await store.Identifications.FindAsync(id, Cancellation));
    }

    [Fact]
    public async Task SecondUnderTheSameIdLeavesTheFirst()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var first = Sample.Identification("same");

        Assert.True(await store.Identifications.AddAsync(first, Cancellation));
        Assert.False(await store.Identifications.AddAsync(first with { ResultJson = "{}" }, Cancellation));

        Assert.Equal(first, await store.Identifications.FindAsync("same", Cancellation));
    }

    [Fact]
    public async Task ManyAreStoredAndTheNewOnesNamed()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var many = Sample.Identifications("many", 1000);
        await store.Identifications.AddAsync(many[500], Cancellation);

        var added = await store.Identifications.AddAsync([.. many, many[0], many[999]], Cancellation);

        Assert.Equal(many.Where((_, place) => place != 500).Select(row => row.Id).Order(), added.Order());
        Assert.Equal(1000, await CountAsync(store));
    }

    [Fact]
    public async Task NoneIsNothingToStore()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);

        Assert.Empty(await store.Identifications.AddAsync([], Cancellation));
    }

    [Fact]
    public async Task BatchThatFailsAtTheEndStoresNothing()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var batch = Sample.Identifications("batch", 350);
        batch[^1] = batch[^1] with { TableVersion = 77 };

        await Assert.ThrowsAnyAsync<DbException>(() => store.Identifications.AddAsync(batch, Cancellation));

        Assert.Equal(0, await CountAsync(store));
    }

    [Fact]
    public async Task BatchesWithTheSameIdsAtOnceStoreEachOnce()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var batch = Sample.Identifications("shared", 300);

        var added = await Task.WhenAll(Enumerable.Range(0, 6).Select(place => Task.Run(
            () => store.Identifications.AddAsync(
                [.. place % 2 == 0 ? batch : batch.AsEnumerable().Reverse()], Cancellation),
            Cancellation)));

        Assert.Equal(300, added.Sum(ids => ids.Count));
        Assert.Equal(300, await CountAsync(store));
    }

    [Fact]
    public async Task CancelledStoreStoresNothing()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        using var cancelled = new CancellationTokenSource();
        await cancelled.CancelAsync();

        await Assert.ThrowsAnyAsync<OperationCanceledException>(
            () => store.Identifications.AddAsync(Sample.Identifications("cancelled", 200), cancelled.Token));

        Assert.Equal(0, await CountAsync(store));
    }

    private static async Task<StoreUnderTest> StartedAsync(ITestDatabase database)
    {
        var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        return store;
    }

    private static async Task<int> CountAsync(StoreUnderTest store)
    {
        await using var context = store.NewContext();
        return await context.Identifications.CountAsync(Cancellation);
    }

    public sealed class OnSqlite() : IdentificationArchiveTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : IdentificationArchiveTests(async () => await server.NewDatabaseAsync());
}
