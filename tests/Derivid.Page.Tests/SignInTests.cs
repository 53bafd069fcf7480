using Derivid.Testing;

namespace Derivid.Page.Tests;

/// <summary>Signing in at the institution.</summary>
public sealed class SignInTests(BrowserFixture browser, PostgreSqlServer server)
{
    [Fact]
    public async Task WhoHasARoleThereHasItHere()
    {
        await using var institution = await Institution.StartAsync("staff");
        await using var database = await server.NewDatabaseAsync();
        await using var service = await PageUnderTest.StartAsync(database.ConnectionString, 0, institution.Settings());
        await using var reader = await Reader.SitDownAsync(browser, service.Address, alsoFrom: institution.Authority);
        await reader.OpenAsync("/proposals");
        Assert.Equal("Sign in", await reader.HeadingAsync());

        await reader.FollowAsync("Sign in at your institution");

        Assert.Equal("Curation", await reader.HeadingAsync());
        await reader.FollowAsync("Instructor");
        Assert.Contains("sign-in:somebody", await reader.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task WhoHasNoneIsToldSo()
    {
        await using var institution = await Institution.StartAsync("visitor");
        await using var database = await server.NewDatabaseAsync();
        await using var service = await PageUnderTest.StartAsync(database.ConnectionString, 0, institution.Settings());
        await using var reader = await Reader.SitDownAsync(browser, service.Address, alsoFrom: institution.Authority);
        await reader.OpenAsync("/sign-in");

        await reader.FollowAsync("Sign in at your institution");

        Assert.Equal("Sign in", await reader.HeadingAsync());
        Assert.Contains("gives you no role here", await reader.TextAsync(), StringComparison.Ordinal);
    }
}
