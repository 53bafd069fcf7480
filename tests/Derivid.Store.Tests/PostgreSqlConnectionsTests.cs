using System.Diagnostics;
using System.Globalization;
using Derivid.Store.Auditing;
using Derivid.Store.PostgreSql;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using static Derivid.Store.Tests.TeachingSample;

namespace Derivid.Store.Tests;

/// <summary>How many connections a process takes of a server, and that no one sender takes them all.</summary>
[Trait("Database", "PostgreSQL")]
public sealed class PostgreSqlConnectionsTests(PostgreSqlServer server)
{
    // A write that waits for another's lock gives up after 10 s.
    private static readonly TimeSpan Soon = TimeSpan.FromSeconds(3);

    private static readonly AuditOrigin Sender = new("key:sender", null, "trace") { IsAdministrator = true };

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("", 40)]
    [InlineData(";Maximum Pool Size=7", 7)]
    [InlineData(";MaxPoolSize=7", 7)]
    [InlineData(";Minimum Pool Size=50", 50)]
    public async Task PoolHasFortyUnlessTheConnectionStringSaysOtherwise(string setting, int expected)
    {
        await using var store = new StoreUnderTest(new PostgreSqlEngine("Host=127.0.0.1;Username=u;Database=d" + setting));
        await using var context = store.NewContext();

        Assert.Equal(expected, new NpgsqlConnectionStringBuilder(context.Database.GetConnectionString()).MaxPoolSize);
    }

    [Fact]
    public async Task WritesOfOneSenderHeldUpLeaveConnectionsToOthers()
    {
        const int Writes = 100;
        await using var database = await server.NewDatabaseAsync();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 1, withReports: false, Cancellation);
        await store.Courses.AddAsync(Course("other"), null, Instructor, Cancellation);
        await using var holder = new NpgsqlConnection(database.ConnectionString);
        await holder.OpenAsync(Cancellation);
        await using var transaction = await holder.BeginTransactionAsync(Cancellation);
        await using (var hold = new NpgsqlCommand("SELECT id FROM courses WHERE id = 'c' FOR UPDATE", holder))
        {
            await hold.ExecuteNonQueryAsync(Cancellation);
        }

        // A connection outside of the transaction, which would see the same sessions to its end.
        await using var observer = new NpgsqlConnection(database.ConnectionString);
        await observer.OpenAsync(Cancellation);

        var held = Enumerable.Range(0, Writes).Select(n => Task.Run(
            () => store.Reports.AddAsync(Report(0, suffix: Number(n)), Writes, null, Sender, Cancellation), Cancellation)).ToList();
        while (await CountAsync(observer, "WHERE wait_event_type = 'Lock'") < 2)
        {
            await Task.Delay(20, Cancellation);
        }

        var watch = Stopwatch.StartNew();
        Assert.NotNull(await store.Courses.ChangeAsync("other", 1, (course, _) => course.Name = "Changed", "course.change", StoreUnderTest.Now, Instructor, Cancellation));

        Assert.InRange(watch.Elapsed, TimeSpan.Zero, Soon);
        Assert.InRange(await CountAsync(observer, ""), 1, 9);
        await transaction.RollbackAsync(Cancellation);
        await Task.WhenAll(held);
        Assert.Equal(Writes, (await store.Reports.ListAsync("c", 1, null, null, Writes + 1, Cancellation)).Count);
    }

    [Fact]
    public async Task WritesOfOneSenderComeInTheirOrderAndWhoGivesUpHoldsUpNobody()
    {
        await using var database = await server.NewDatabaseAsync();
        await using var store = await StartedAsync(database);
        var (first, second) = (new TaskCompletionSource(), new TaskCompletionSource());
        using var givenUp = CancellationTokenSource.CreateLinkedTokenSource(Cancellation);
        var begun = new List<string>();
        var held = new[] { WriteAsync("first", first.Task), WriteAsync("second", second.Task) };
        var waiting = Enumerable.Range(0, 5).Select(n => WriteAsync(Number(n), Task.CompletedTask, n == 2 ? givenUp.Token : Cancellation)).ToList();

        // The service itself waits for no one.
        await store.Audit.WriteAsync(AuditOrigin.Service, (_, _) => Task.FromResult(new Audited<int>(0)), Cancellation);
        await givenUp.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => waiting[2]);
        Assert.All(waiting.Where((_, n) => n != 2), write => Assert.False(write.IsCompleted));

        // One turn is free from here on, so that they come one by one.
        first.SetResult();
        await Task.WhenAll(waiting.Where((_, n) => n != 2));
        second.SetResult();
        await Task.WhenAll(held);
        Assert.Equal(["0", "1", "3", "4"], begun.Except(["first", "second"]));

        async Task<int> WriteAsync(string name, Task over, CancellationToken? cancellation = null) => await store.Audit.WriteAsync(
            Sender,
            async (_, _) =>
            {
                lock (begun)
                {
                    begun.Add(name);
                }

                await over;
                return new Audited<int>(0);
            },
            cancellation ?? Cancellation);
    }

    private static string Number(int n) => n.ToString(CultureInfo.InvariantCulture);

    private static async Task<long> CountAsync(NpgsqlConnection connection, string where)
    {
        await using var command = new NpgsqlCommand(
            $"SELECT count(*) FROM (SELECT wait_event_type FROM pg_stat_activity WHERE datname = current_database()) AS session {where}", connection);
        return (long)(await command.ExecuteScalarAsync(Cancellation))!;
    }

    private static async Task<StoreUnderTest> StartedAsync(PostgreSqlDatabase database)
    {
        var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        return store;
    }
}
