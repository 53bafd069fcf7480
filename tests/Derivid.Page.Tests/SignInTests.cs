using Derivid.Testing;

namespace Derivid.Page.Tests;

/// <summary>Signing in at the institution.</summary>
public sealed class SignInTests(BrowserFixture browser, PostgreSqlServer server, InstitutionPage signIn) : IClassFixture<InstitutionPage>
{
    [Fact]
    public async Task WhoHasARoleThereHasItHere()
    {
        var (institution, service) = (signIn.Institution, signIn.Service);
        await using var reader = await Reader.SitDownAsync(browser, service.Address, alsoFrom: institution.Authority);
        await reader.OpenAsync("/proposals");
        Assert.Equal("Sign in", await reader.HeadingAsync());

        await reader.FollowAsync("Sign in at your institution");

        Assert.Equal("Curation", await reader.HeadingAsync());
        await reader.FollowAsync("Instructor");
        Assert.Contains("sign-in:somebody", await reader.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task FormSentTooLateIsSentAfterSigningInThereInAnotherWindow()
    {
        var gone = TestContext.Current.CancellationToken;
        var (institution, service) = (signIn.Institution, signIn.Service);
        using var administrator = service.Administrator();
        var proposal = await administrator.Proposals.CreateAsync(new Contracts.ProposalRequest { Title = "Signed out (invented)" }, null, null, gone);
        await using var reader = await Reader.SitDownAsync(browser, service.Address, alsoFrom: institution.Authority);
        await reader.OpenAsync($"/proposals/{proposal.Id}");
        await reader.FollowAsync("Sign in at your institution");
        await reader.FillAsync("A remark", "written before the session ended");
        await reader.Page.Context.ClearCookiesAsync(new Microsoft.Playwright.BrowserContextClearCookiesOptions { Name = "derivid-session" });
        await reader.PressAsync("Add the remark");
        Assert.Equal("You are no longer signed in.", await reader.HeadingAsync());

        var window = await reader.Page.Context.RunAndWaitForPageAsync(() =>
            reader.Page.GetByText("sign in at your institution in another window").ClickAsync());
        await window.GetByText("sign-in:somebody").First.WaitForAsync();
        await window.CloseAsync();
        await reader.PressAsync("Send it again");
        Assert.Equal("This form was opened in another session.", await reader.HeadingAsync());
        await reader.PressAsync("Send it again");

        Assert.EndsWith($"/proposals/{proposal.Id}", reader.Page.Url, StringComparison.Ordinal);
        Assert.Equal("written before the session ended", Assert.Single(await administrator.Proposals.ListCommentsAsync(proposal.Id, gone).ToListAsync(gone)).Text);
    }

    [Theory]
    [InlineData(Way.Mouse, true)]
    [InlineData(Way.NoScript, true)]
    [InlineData(Way.Mouse, false)]
    public async Task SigningOutEndsTheInstitutionsSessionWhereItSaysHow(Way way, bool announces)
    {
        // One of its own: whose sessions ended there is counted.
        await using var own = new InstitutionPage(server, announces);
        await own.InitializeAsync();
        var (institution, service) = (own.Institution, own.Service);
        await using var reader = await Reader.SitDownAsync(browser, service.Address, way, alsoFrom: institution.Authority);
        await reader.OpenAsync("/sign-in");
        await reader.FollowAsync("Sign in at your institution");
        await reader.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Sign out" }).First.ClickAsync();
        await reader.Page.WaitForURLAsync(service.Address + "/");

        Assert.Equal(announces ? ["somebody"] : [], institution.Ended);
        await reader.Page.GetByRole(Microsoft.Playwright.AriaRole.Link, new() { Name = "Sign in" }).WaitForAsync();
        await reader.OpenAsync("/proposals");
        Assert.Equal("Sign in", await reader.HeadingAsync());

        // Who came with a key has no session there to end.
        await reader.SignInAsync((await service.KeyAsync(Core.Teaching.Role.Instructor)).Key);
        await reader.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Sign out" }).First.ClickAsync();
        await reader.Page.GetByRole(Microsoft.Playwright.AriaRole.Link, new() { Name = "Sign in" }).WaitForAsync();
        Assert.Equal(announces ? 1 : 0, institution.Ended.Count);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task SignInSaysWhetherReadingNeedsAKeyHere(bool needsKey)
    {
        await using var database = await server.NewDatabaseAsync();
        await using var service = await PageUnderTest.StartAsync(database.ConnectionString, 0, ("Access:RequireKeyToRead", needsKey ? "true" : "false"));
        await using var reader = await Reader.SitDownAsync(browser, service.Address);
        await reader.OpenAsync("/sign-in");
        Assert.Contains(
            needsKey ? "Everything here needs one, identifying and reading the table too." : "Identifying and reading the table need none;",
            await reader.TextAsync(), StringComparison.Ordinal);
        await reader.OpenAsync("/table");
        Assert.Equal(needsKey ? "Sign in" : "The reference table", await reader.HeadingAsync());
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
