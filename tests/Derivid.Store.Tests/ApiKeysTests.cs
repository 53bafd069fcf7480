using Derivid.Core.Teaching;
using Derivid.Store.Access;
using Derivid.Store.Auditing;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Tests;

public abstract class ApiKeysTests(Func<Task<ITestDatabase>> newDatabase)
{
    private static readonly AuditOrigin Somebody = new("key:0123456789abcdef", null, null);

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task KeptKeyIsFoundWhole()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var key = Sample.Key("one");

        await store.Keys.AddAsync(key, null, Somebody, Cancellation);

        Assert.Equivalent(key, await store.Keys.FindAsync("one", Cancellation), strict: true);
        Assert.Null(await store.Keys.FindAsync("ONE", Cancellation));
        Assert.Null(await store.Keys.FindAsync("' OR ''='", Cancellation));
    }

    [Fact]
    public void KeyIsUsableUntilItExpiresOrIsRevoked()
    {
        var key = Sample.Key("one", expiresAtUtc: StoreUnderTest.Now);

        Assert.True(key.IsUsable(StoreUnderTest.Now.AddTicks(-1)));
        Assert.False(key.IsUsable(StoreUnderTest.Now));
        Assert.True(Sample.Key("for good").IsUsable(DateTime.MaxValue));
        key.RevokedAtUtc = StoreUnderTest.Now.AddDays(-1);
        Assert.False(key.IsUsable(StoreUnderTest.Now.AddTicks(-1)));
    }

    [Fact]
    public async Task RevokedStaysRevokedAndIsTakenDownOnce()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Keys.AddAsync(Sample.Key("one"), null, Somebody, Cancellation);

        Assert.True(await store.Keys.RevokeAsync("one", Somebody with { Reason = "lost" }, Cancellation));
        Assert.True(await store.Keys.RevokeAsync("one", Somebody, Cancellation));
        Assert.False(await store.Keys.RevokeAsync("none", Somebody, Cancellation));

        Assert.Equal(StoreUnderTest.Now, (await store.Keys.FindAsync("one", Cancellation))!.RevokedAtUtc);
        var entries = await store.Audit.ReadAsync(new AuditFilter(), null, newestFirst: false, 10, Cancellation);
        Assert.Equal(
            [("key.create", "keys/one", null), ("key.revoke", "keys/one", "lost")],
            entries.Select(entry => (entry.Action, entry.Resource, entry.Reason)));
    }

    [Fact]
    public async Task OfSeveralProcessesThatMakeTheFirstKeyOneDoes()
    {
        await using var database = await newDatabase();
        var stores = Enumerable.Range(0, 4).Select(_ => new StoreUnderTest(database.NewEngine())).ToList();
        await stores[0].StartAsync();

        var made = await Task.WhenAll(stores.Select((store, place) => Task.Run(
            () => store.Keys.AddOwnAsync(Sample.Key($"first-{place}"), onlyFirst: true, Cancellation), Cancellation)));

        Assert.Single(made, isMade => isMade);
        Assert.Single(await stores[0].Keys.ListAsync(new ApiKeyFilter(), null, 10, Cancellation));
        foreach (var store in stores)
        {
            await store.DisposeAsync();
        }
    }

    [Fact]
    public async Task KeyOfTheSettingsIsMadeKnownOnceAndNeverRevived()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Keys.AddAsync(Sample.Key("other"), null, Somebody, Cancellation);

        Assert.True(await store.Keys.AddOwnAsync(Sample.Key("set"), onlyFirst: false, Cancellation));
        await store.Keys.RevokeAsync("set", Somebody, Cancellation);
        Assert.False(await store.Keys.AddOwnAsync(Sample.Key("set"), onlyFirst: false, Cancellation));

        Assert.NotNull((await store.Keys.FindAsync("set", Cancellation))!.RevokedAtUtc);
    }

    [Fact]
    public async Task UseIsNotedByTheDay()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Keys.AddAsync(Sample.Key("one"), null, Somebody, Cancellation);
        var unused = (await store.Keys.FindAsync("one", Cancellation))!;
        Assert.Null(unused.LastUsedOn);

        await store.Keys.NoteUseAsync(unused, Cancellation);

        var used = (await store.Keys.FindAsync("one", Cancellation))!;
        Assert.Equal(DateOnly.FromDateTime(StoreUnderTest.Now), used.LastUsedOn);
        Assert.Single(await store.Audit.ReadAsync(new AuditFilter(), null, newestFirst: false, 10, Cancellation));
    }

    [Fact]
    public async Task RoleAndHashCannotBeChanged()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Keys.AddAsync(Sample.Key("one"), null, Somebody, Cancellation);

        await using var context = store.NewContext();
        var key = await context.ApiKeys.SingleAsync(Cancellation);
        context.Entry(key).Property(row => row.Role).CurrentValue = Role.Administrator;

        await Assert.ThrowsAsync<InvalidOperationException>(() => context.SaveChangesAsync(Cancellation));
    }

    [Fact]
    public async Task ListsByRoleAndUseInOrder()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Keys.AddAsync(Sample.Key("c"), null, Somebody, Cancellation);
        await store.Keys.AddAsync(Sample.Key("a", Role.Grader), null, Somebody, Cancellation);
        await store.Keys.AddAsync(Sample.Key("d", expiresAtUtc: StoreUnderTest.Now), null, Somebody, Cancellation);
        await store.Keys.AddAsync(Sample.Key("b", expiresAtUtc: StoreUnderTest.Now.AddDays(1)), null, Somebody, Cancellation);
        await store.Keys.RevokeAsync("c", Somebody, Cancellation);

        Assert.Equal("abcd", await ListAsync(store, new ApiKeyFilter(), null, 10));
        Assert.Equal("bc", await ListAsync(store, new ApiKeyFilter(), ApiKeyPlace.Of(Sample.Key("a")), 2));
        Assert.Equal("a", await ListAsync(store, new ApiKeyFilter(Role.Grader), null, 10));
        Assert.Equal("ab", await ListAsync(store, new ApiKeyFilter(IsUsable: true), null, 10));
        Assert.Equal("cd", await ListAsync(store, new ApiKeyFilter(IsUsable: false), null, 10));
    }

    private static async Task<string> ListAsync(StoreUnderTest store, ApiKeyFilter filter, ApiKeyPlace? beyond, int most) =>
        string.Concat((await store.Keys.ListAsync(filter, beyond, most, Cancellation)).Select(key => key.Id));

    private static async Task<StoreUnderTest> StartedAsync(ITestDatabase database)
    {
        var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        return store;
    }

    public sealed class OnSqlite() : ApiKeysTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : ApiKeysTests(async () => await server.NewDatabaseAsync());
}
