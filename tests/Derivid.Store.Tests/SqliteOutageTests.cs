using System.Diagnostics;
using Derivid.Store.Databases;
using Derivid.Testing;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Tests;

public sealed class SqliteOutageTests
{
    private static readonly TimeSpan Soon = TimeSpan.FromSeconds(5);

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task FileTakenAwayIsReportedAndNotReplaced()
    {
        await using var database = new SqliteDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        await store.Identifications.AddAsync(Sample.Identification("before"), Cancellation);
        SqliteConnection.ClearAllPools();
        File.Move(database.FilePath, database.FilePath + ".away");

        await Assert.ThrowsAsync<DatabaseUnavailableException>(
            () => store.Identifications.AddAsync(Sample.Identification("during"), Cancellation));
        Assert.False(File.Exists(database.FilePath));

        File.Move(database.FilePath + ".away", database.FilePath);

        Assert.NotNull(await store.Identifications.FindAsync("before", Cancellation));
        Assert.True(await store.Identifications.AddAsync(Sample.Identification("during"), Cancellation));
    }

    [Fact]
    public async Task FileHeldByAnotherWriterIsReportedSoon()
    {
        await using var database = new SqliteDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        await using (var writer = new SqliteConnection(database.ConnectionString))
        {
            await writer.OpenAsync(Cancellation);
            await using var transaction = await writer.BeginTransactionAsync(Cancellation);
            var watch = Stopwatch.StartNew();

            await Assert.ThrowsAsync<DatabaseUnavailableException>(
                () => store.Identifications.AddAsync(Sample.Identification("blocked"), Cancellation));

            Assert.InRange(watch.Elapsed, TimeSpan.FromSeconds(1), Soon);
            Assert.Null(await store.Identifications.FindAsync("blocked", Cancellation));
        }

        Assert.True(await store.Identifications.AddAsync(Sample.Identification("blocked"), Cancellation));
    }

    [Fact]
    public async Task FileThatIsNoDatabaseIsReported()
    {
        await using var database = new SqliteDatabase();
        await File.WriteAllTextAsync(database.FilePath, new string('x', 5000), Cancellation);
        await using var store = new StoreUnderTest(database.NewEngine());

        await Assert.ThrowsAsync<DatabaseUnavailableException>(store.StartAsync);
    }

    [Fact]
    public async Task FaultInAStatementIsNotTakenForAnOutage()
    {
        await using var database = new SqliteDatabase();
        await using var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        await using (var context = store.NewContext())
        {
            await context.Database.ExecuteSqlAsync($"ALTER TABLE identifications RENAME TO elsewhere", Cancellation);
        }

        await Assert.ThrowsAsync<SqliteException>(() => store.Identifications.FindAsync("no such table", Cancellation));
    }
}
