using System.Net;
using Derivid.Api.Access;
using Derivid.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Access;

/// <summary>A form asked for before anything else has read the keys that protect forms.</summary>
/// <remarks>
/// The framework reads them without awaiting, here in the midst of writing a view: where what goes on afterwards were to go on in the view's own
/// context, each would wait for the other for ever.
/// </remarks>
public sealed class FirstFormTests(PostgreSqlServer server)
{
    private static CancellationToken Gone => TestContext.Current.CancellationToken;

    [Fact]
    public async Task IsWrittenOnPostgreSql() => await AskAsync(await server.NewDatabaseAsync());

    [Fact]
    public async Task IsWrittenOnSqlite() => await AskAsync(new SqliteDatabase());

    private static async Task AskAsync(ITestDatabase database)
    {
        await using var own = database;
        await using var service = new ServiceUnderTest(database.ConnectionString, WithoutAStart);
        using var client = await service.StartAsync();

        // A wait for ever ends here; nothing else takes so long.
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(Gone);
        patience.CancelAfter(TimeSpan.FromMinutes(1));
        using var form = await client.GetAsync("/sign-in", patience.Token);

        Assert.Equal(HttpStatusCode.OK, form.StatusCode);
        Assert.Contains("__RequestVerificationToken", await form.Content.ReadAsStringAsync(Gone), StringComparison.Ordinal);
    }

    // What reads the keys at the start would be the first to ask.
    private static void WithoutAStart(IServiceCollection services) =>
        services.Remove(services.Single(service => service.ImplementationType == typeof(ProtectionStart)));
}
