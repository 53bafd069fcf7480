using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using Derivid.Store.Databases;
using Derivid.Store.PostgreSql;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace Derivid.Store.Tests;

[Trait("Database", "PostgreSQL")]
public sealed class PostgreSqlOutageTests(PostgreSqlServer server)
{
    // The time limits are 2 s for connecting or for a command, and half a second to call a command off.
    private static readonly TimeSpan Soon = TimeSpan.FromSeconds(5);

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task ServerTakenAwayIsReportedAndItsReturnIsNot()
    {
        await using var cluster = await PostgreSqlCluster.StartNewAsync(durable: true);
        await using var store = new StoreUnderTest(new PostgreSqlEngine(cluster.ConnectionString));
        await store.StartAsync();
        await store.Identifications.AddAsync(Sample.Identification("before"), Cancellation);

        await cluster.StopAsync();

        var watch = Stopwatch.StartNew();
        await Assert.ThrowsAsync<DatabaseUnavailableException>(
            () => store.Identifications.AddAsync(Sample.Identification("during"), Cancellation));
        await Assert.ThrowsAsync<DatabaseUnavailableException>(() => store.Identifications.FindAsync("before", Cancellation));
        await Assert.ThrowsAsync<DatabaseUnavailableException>(() => store.Tables.LoadAsync(1, Cancellation));
        Assert.InRange(watch.Elapsed, TimeSpan.Zero, Soon);

        await cluster.StartAsync();

        Assert.True(await store.Identifications.AddAsync(Sample.Identification("after"), Cancellation));
        Assert.NotNull(await store.Identifications.FindAsync("before", Cancellation));
        Assert.Null(await store.Identifications.FindAsync("during", Cancellation));
    }

    [Fact]
    public async Task ServerRestartedBetweenTwoCallsGoesUnnoticed()
    {
        await using var cluster = await PostgreSqlCluster.StartNewAsync(durable: true);
        await using var store = new StoreUnderTest(new PostgreSqlEngine(cluster.ConnectionString));
        await store.StartAsync();

        await cluster.StopAsync();
        await cluster.StartAsync();

        Assert.True(await store.Identifications.AddAsync(Sample.Identification("after"), Cancellation));
    }

    [Fact]
    public async Task BatchesCutOffByACrashAreWholeOrAbsent()
    {
        const int Rows = 250;
        await using var cluster = await PostgreSqlCluster.StartNewAsync(durable: true);
        await using var store = new StoreUnderTest(new PostgreSqlEngine(cluster.ConnectionString));
        await store.StartAsync();
        var acknowledged = new List<string>();
        var firstStored = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);

        var writing = Task.WhenAll(Enumerable.Range(0, 3).Select(writer => Task.Run(
            async () =>
            {
                for (var batch = 0; ; batch++)
                {
                    var prefix = $"{writer}-{batch}";
                    await store.Identifications.AddAsync(Sample.Identifications(prefix, Rows), Cancellation);
                    lock (acknowledged)
                    {
                        acknowledged.Add(prefix);
                    }

                    firstStored.TrySetResult();
                }
            },
            Cancellation)));
        await Task.WhenAny(firstStored.Task, writing);
        await cluster.StopAsync();
        await Assert.ThrowsAsync<DatabaseUnavailableException>(() => writing);
        await cluster.StartAsync();

        await using var context = store.NewContext();
        var ids = await context.Identifications.Select(row => row.Id).ToListAsync(Cancellation);
        var batches = ids.GroupBy(id => id[..id.LastIndexOf('-')]).ToDictionary(rows => rows.Key, rows => rows.Count());
        Assert.NotEmpty(acknowledged);
        Assert.All(batches.Values, count => Assert.Equal(Rows, count));
        Assert.All(acknowledged, prefix => Assert.Contains(prefix, batches));
    }

    [Fact]
    public async Task ServerThatAcceptsButNeverAnswersIsReportedSoon()
    {
        using var silent = new TcpListener(IPAddress.Loopback, 0);
        silent.Start();
        await using var store = new StoreUnderTest(
            new PostgreSqlEngine($"Host=127.0.0.1;Port={((IPEndPoint)silent.LocalEndpoint).Port};Username=u;Database=d"));
        var watch = Stopwatch.StartNew();

        await Assert.ThrowsAsync<DatabaseUnavailableException>(() => store.Identifications.FindAsync("any", Cancellation));

        Assert.InRange(watch.Elapsed, TimeSpan.Zero, Soon);
    }

    [Fact]
    public async Task CommandThatHangsIsReportedSoon()
    {
        await using var database = await server.NewDatabaseAsync();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        await using (var blocker = new NpgsqlConnection(database.ConnectionString))
        {
            await blocker.OpenAsync(Cancellation);
            await using var transaction = await blocker.BeginTransactionAsync(Cancellation);
            await using var command = new NpgsqlCommand("LOCK TABLE identifications IN ACCESS EXCLUSIVE MODE", blocker, transaction);
            await command.ExecuteNonQueryAsync(Cancellation);
            var watch = Stopwatch.StartNew();

            await Assert.ThrowsAsync<DatabaseUnavailableException>(
                () => store.Identifications.AddAsync(Sample.Identification("blocked"), Cancellation));

            // The server is there, so that it gets a command's own time limit.
            Assert.InRange(watch.Elapsed, TimeSpan.Zero, 2 * Soon);
        }

        Assert.Null(await store.Identifications.FindAsync("blocked", Cancellation));
        Assert.True(await store.Identifications.AddAsync(Sample.Identification("blocked"), Cancellation));
    }

    [Fact]
    public async Task UnknownDatabaseIsReported()
    {
        await using var database = await server.NewDatabaseAsync();
        var elsewhere = new NpgsqlConnectionStringBuilder(database.ConnectionString) { Database = "derivid_is_not_here" };
        await using var store = new StoreUnderTest(new PostgreSqlEngine(elsewhere.ConnectionString));

        await Assert.ThrowsAsync<DatabaseUnavailableException>(store.StartAsync);
    }

    [Fact]
    public async Task FaultInAStatementIsNotTakenForAnOutage()
    {
        await using var database = await server.NewDatabaseAsync();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        await using (var context = store.NewContext())
        {
            await context.Database.ExecuteSqlAsync($"ALTER TABLE identifications RENAME TO elsewhere", Cancellation);
        }

        await Assert.ThrowsAsync<PostgresException>(() => store.Identifications.FindAsync("no such table", Cancellation));
    }
}
