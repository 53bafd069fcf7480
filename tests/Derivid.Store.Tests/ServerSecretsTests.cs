using Derivid.Store.Access;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Tests;

/// <summary>A service's own secrets; the same on both engines.</summary>
public abstract class ServerSecretsTests(Func<Task<ITestDatabase>> newDatabase)
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task SecretIsMadeOnceWhoeverAsksAndStays()
    {
        await using var database = await newDatabase();
        byte[][] asked;
        await using (var one = new StoreUnderTest(database.NewEngine()))
        await using (var other = new StoreUnderTest(database.NewEngine()))
        {
            await one.StartAsync();
            asked = await Task.WhenAll(Enumerable.Range(0, 8).Select(caller => Task.Run(
                () => (caller % 2 == 0 ? one : other).Get<ServerSecrets>().OfAsync("one", 32, Cancellation), Cancellation)));
        }

        await using var later = new StoreUnderTest(database.NewEngine());
        var again = await later.Get<ServerSecrets>().OfAsync("one", 32, Cancellation);
        var another = await later.Get<ServerSecrets>().OfAsync("another", 32, Cancellation);

        Assert.All(asked, secret => Assert.Equal(again, secret));
        Assert.Equal(32, again.Length);
        Assert.True(again.Distinct().Count() > 8, "Hardly at random.");
        Assert.NotEqual(again, another);
        await using var context = later.NewContext();
        Assert.Equal(["another", "one"], await context.ServerSecrets.Select(secret => secret.Name).Order().ToListAsync(Cancellation));
    }

    public sealed class OnSqlite() : ServerSecretsTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : ServerSecretsTests(async () => await server.NewDatabaseAsync());
}
