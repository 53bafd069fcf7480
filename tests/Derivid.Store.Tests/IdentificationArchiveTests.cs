using System.Data.Common;
using System.Text;
using Derivid.Store.Identifications;
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
        const string Observation = """{ "b":1,"a" : "\u0000 it's – {0} \"\\ \ud83d\udd25 🔥" }""";
        var result = Encoding.UTF8.GetBytes($$"""{"text":"{{Observation}}{{new string('x', 200_000)}}"}""");
        var awkward = StoredIdentification.Of("awkward", 1, "2026.1", Encoding.UTF8.GetBytes(Observation), result, StoreUnderTest.Now);

        Assert.True(await store.Identifications.AddAsync(awkward, Cancellation));

        var found = (await store.Identifications.FindAsync("awkward", Cancellation))!;
        Assert.Equal(Observation, found.ObservationJson);
        Assert.Equal(result, found.Result());
        Assert.Equal(awkward with { ResultBrotli = null }, found with { ResultBrotli = null });
        Assert.Equal(DateTimeKind.Utc, found.CreatedAtUtc.Kind);
    }

    [Fact]
    public async Task AnswerTakesLittleRoom()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var sentences = Encoding.UTF8.GetBytes("[" + string.Join(',', Enumerable.Range(0, 500).Select(
            place => $$"""{"rank":{{place}},"sentence":"The melting range of the {{place}}th derivative agrees with the listed value within {{place % 7}} °C."}""")) + "]");

        await store.Identifications.AddAsync(
            StoredIdentification.Of("long", 1, "2026.1", "{}"u8, sentences, StoreUnderTest.Now), Cancellation);

        var found = (await store.Identifications.FindAsync("long", Cancellation))!;
        Assert.Equal(sentences, found.Result());
        Assert.InRange(found.ResultBrotli!.Length + found.ResultJson.Length, 1, sentences.Length / 8);
    }

    [Fact]
    public async Task RowOlderThanTheCompressionIsReadAsItIs()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var old = new StoredIdentification("old", 1, "2026.1", "{}", """{"text":"as it was, °C"}""", null, StoreUnderTest.Now);
        await store.Identifications.AddAsync(old, Cancellation);

        var found = (await store.Identifications.FindAsync("old", Cancellation))!;

        Assert.Equal(old, found);
        Assert.Equal("""{"text":"as it was, °C"}"""u8, found.Result());
    }

    [Fact]
    public async Task OldestAreDeletedAndTheOthersStay()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var now = StoreUnderTest.Now;
        await store.Identifications.AddAsync(
            [.. Enumerable.Range(0, 10).Select(days => Sample.Identification($"days-{days}", now.AddDays(-days)))], Cancellation);

        var first = await store.Identifications.DeleteOlderAsync(now.AddDays(-5), 3, Cancellation);
        var afterFirst = await IdsAsync(store);
        var second = await store.Identifications.DeleteOlderAsync(now.AddDays(-5), 3, Cancellation);
        var third = await store.Identifications.DeleteOlderAsync(now.AddDays(-5), 3, Cancellation);

        Assert.Equal((3, 1, 0), (first, second, third));
        Assert.Equal(["days-0", "days-1", "days-2", "days-3", "days-4", "days-5", "days-6"], afterFirst);
        Assert.Equal(["days-0", "days-1", "days-2", "days-3", "days-4", "days-5"], await IdsAsync(store));
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
        Assert.False(await store.Identifications.AddAsync(
            StoredIdentification.Of("same", 1, "2026.1", "{}"u8, "{}"u8, StoreUnderTest.Now), Cancellation));

        var found = (await store.Identifications.FindAsync("same", Cancellation))!;
        Assert.Equal(first.ObservationJson, found.ObservationJson);
        Assert.Equal(first.Result(), found.Result());
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

    private static async Task<List<string>> IdsAsync(StoreUnderTest store)
    {
        await using var context = store.NewContext();
        return await context.Identifications.Select(row => row.Id).OrderBy(id => id).ToListAsync(Cancellation);
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
