using System.Data.Common;
using System.Globalization;
using Derivid.Store.Auditing;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Tests;

public abstract class AuditTrailTests(Func<Task<ITestDatabase>> newDatabase, int writers, params string[] forbidden)
{
    private static readonly AuditOrigin Somebody = new("key:0123456789abcdef", "a reason", "00-trace");

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task EntrySaysWhoWhenWhatWhyAndFromWhichVersion()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);

        await WriteAsync(store, "one", new AuditedAct("proposal.release", "proposals/7", 3));

        var entry = Assert.Single(await AllAsync(store));
        Assert.Equal(
            new AuditEntry
            {
                Sequence = 1,
                AtUtc = StoreUnderTest.Now,
                Actor = Somebody.Actor,
                Action = "proposal.release",
                Resource = "proposals/7",
                Reason = "a reason",
                TableVersion = 3,
                TraceId = "00-trace",
            },
            entry);
    }

    [Fact]
    public async Task WorkThatFailsLeavesNeitherItsWriteNorAnEntry()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);

        await Assert.ThrowsAsync<InvalidOperationException>(() => store.Audit.WriteAsync<int>(
            Somebody,
            async (context, token) =>
            {
                context.ApiKeys.Add(Sample.Key("lost"));
                await context.SaveChangesAsync(token);
                throw new InvalidOperationException("Half-way.");
            },
            Cancellation));

        Assert.Empty(await AllAsync(store));
        Assert.Null(await store.Keys.FindAsync("lost", Cancellation));
    }

    [Fact]
    public async Task EntryThatCannotBeKeptTakesItsWriteWithIt()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);

        await Assert.ThrowsAsync<DbUpdateException>(() => WriteAsync(store, "lost", new AuditedAct(null!, "keys/lost")));

        Assert.Empty(await AllAsync(store));
        Assert.Null(await store.Keys.FindAsync("lost", Cancellation));
    }

    [Fact]
    public async Task WorkThatChangesNothingIsNotTakenDown()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);

        Assert.Equal(5, await store.Audit.WriteAsync(Somebody, (_, _) => Task.FromResult(new Audited<int>(5)), Cancellation));

        Assert.Empty(await AllAsync(store));
    }

    [Fact]
    public async Task NothingWrittenCanBeChangedOrDeleted()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await WriteAsync(store, "one", new AuditedAct("key.create", "keys/one"));
        var before = await AllAsync(store);

        foreach (var sql in forbidden)
        {
            await using var context = store.NewContext();
            var refusal = await Assert.ThrowsAnyAsync<DbException>(
                () => context.Database.ExecuteSqlRawAsync(sql, Cancellation));
            Assert.Contains("append-only", refusal.Message, StringComparison.Ordinal);
        }

        await using var tracked = store.NewContext();
        tracked.Entry(await tracked.AuditEntries.SingleAsync(Cancellation)).Property(entry => entry.Actor).CurrentValue = "x";
        await Assert.ThrowsAsync<InvalidOperationException>(() => tracked.SaveChangesAsync(Cancellation));
        Assert.Equal(before, await AllAsync(store));
    }

    [Fact]
    public async Task ManyWritersAtOnceAreTakenDownWithoutGapsAndInTheOrderTheyCameToStand()
    {
        const int Each = 10;
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await WriteAsync(store, "shared", new AuditedAct("key.create", "keys/shared"));
        using var over = new CancellationTokenSource();
        var reading = Task.Run(() => ReadOnAsync(store, over.Token), Cancellation);

        // Half of all pieces of work also change one row they share; every fifth is given up at the end.
        await Task.WhenAll(Enumerable.Range(0, writers).Select(writer => Task.Run(
            async () =>
            {
                for (var turn = 0; turn < Each; turn++)
                {
                    await WriteOrGiveUpAsync(store, writer, turn);
                }
            },
            Cancellation)));
        await over.CancelAsync();

        var seen = await reading;
        var kept = writers * Each * 4 / 5;
        var all = await AllAsync(store);
        Assert.Equal(Enumerable.Range(1, 1 + kept).Select(n => (long)n), all.Select(entry => entry.Sequence));
        Assert.Equal(1 + kept, all.Select(entry => entry.Resource).Distinct().Count());
        Assert.Equal(all.Take(seen.Count), seen);
        Assert.True(seen.Count > 1, "The reader saw nothing while the writers wrote.");
    }

    [Fact]
    public async Task ReadsForwardsBackwardsAndFiltered()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        for (var number = 1; number <= 6; number++)
        {
            await WriteAsync(store, $"k{number}", new AuditedAct(number % 2 == 0 ? "even" : "odd", $"keys/k{number}"));
        }

        Assert.Equal([3, 4], await ReadAsync(store, new AuditFilter(), 2, newestFirst: false, most: 2));
        Assert.Equal([4, 3], await ReadAsync(store, new AuditFilter(), 5, newestFirst: true, most: 2));
        Assert.Equal([2, 4, 6], await ReadAsync(store, new AuditFilter(Action: "even"), null, newestFirst: false, most: 9));
        Assert.Equal([5], await ReadAsync(store, new AuditFilter(Resource: "keys/k5"), null, newestFirst: true, most: 9));
        Assert.Empty(await ReadAsync(store, new AuditFilter(Actor: "key:nobody"), null, newestFirst: true, most: 9));
    }

    private static async Task<List<long>> ReadAsync(
        StoreUnderTest store, AuditFilter filter, long? beyond, bool newestFirst, int most) =>
        [.. (await store.Audit.ReadAsync(filter, beyond, newestFirst, most, Cancellation)).Select(entry => entry.Sequence)];

    private static Task<List<AuditEntry>> AllAsync(StoreUnderTest store) =>
        store.Audit.ReadAsync(new AuditFilter(), null, newestFirst: false, 100_000, Cancellation);

    private static Task<int> WriteAsync(StoreUnderTest store, string key, AuditedAct act) => store.Audit.WriteAsync(
        Somebody,
        (context, _) =>
        {
            context.ApiKeys.Add(Sample.Key(key));
            return Task.FromResult(new Audited<int>(0, act));
        },
        Cancellation);

    private static async Task WriteOrGiveUpAsync(StoreUnderTest store, int writer, int turn)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"{writer}-{turn}");
        try
        {
            // Each its own, or most would wait for their turn and not for each other's locks.
            await store.Audit.WriteAsync(
                Somebody with { Actor = string.Create(CultureInfo.InvariantCulture, $"key:{writer}") },
                async (context, token) =>
                {
                    context.ApiKeys.Add(Sample.Key(name));
                    if (turn % 2 == 0)
                    {
                        await context.ApiKeys.Where(key => key.Id == "shared").ExecuteUpdateAsync(
                            key => key.SetProperty(row => row.LastUsedOn, new DateOnly(2026, 1, 1 + turn)), token);
                    }

                    // An entry that can't be kept: its number must be given to the next.
                    return new Audited<int>(0, new AuditedAct("key.create", turn % 5 == 4 ? null! : "keys/" + name));
                },
                Cancellation);
        }
        catch (DbUpdateException) when (turn % 5 == 4)
        {
        }
    }

    // Reads on from the last entry seen, as somebody who follows the log does.
    private static async Task<List<AuditEntry>> ReadOnAsync(StoreUnderTest store, CancellationToken over)
    {
        var seen = new List<AuditEntry>();
        while (!over.IsCancellationRequested)
        {
            seen.AddRange(await store.Audit.ReadAsync(
                new AuditFilter(), seen.Count > 0 ? seen[^1].Sequence : null, newestFirst: false, 500, Cancellation));
        }

        return seen;
    }

    private static async Task<StoreUnderTest> StartedAsync(ITestDatabase database)
    {
        var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        return store;
    }

    public sealed class OnSqlite() : AuditTrailTests(
        () => Task.FromResult<ITestDatabase>(new SqliteDatabase()),
        writers: 8,
        "UPDATE audit_entries SET actor = 'x'",
        "DELETE FROM audit_entries",
        "INSERT OR REPLACE INTO audit_entries (sequence, at_utc, actor, action, resource) VALUES (1, '2026-01-01', 'x', 'x', 'x')");

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : AuditTrailTests(
        async () => await server.NewDatabaseAsync(),
        writers: 32,
        "UPDATE audit_entries SET actor = 'x'",
        "DELETE FROM audit_entries",
        "TRUNCATE audit_entries");
}
