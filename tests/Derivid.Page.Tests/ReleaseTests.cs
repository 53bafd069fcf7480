using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Page.Tests;

/// <summary>What curators do until a version of the table is released, and what is seen of it: each on a service of its own.</summary>
public sealed class ReleaseTests(BrowserFixture browser, PostgreSqlServer server) : IAsyncLifetime
{
    private const string Dnp = "2-4-dinitrophenylhydrazone";

    private readonly FreshPage _fresh = new(server);

    private PageUnderTest Service => _fresh.Service;

    public ValueTask InitializeAsync() => _fresh.InitializeAsync();

    public ValueTask DisposeAsync() => _fresh.DisposeAsync();

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    [InlineData(Way.Keyboard)]
    public async Task TwoCuratorsCorrectAValue(Way way)
    {
        var gone = TestContext.Current.CancellationToken;
        using var administrator = Service.Administrator();
        var row = await administrator.Table.ListDerivativesAsync(new DerivativeQuery { Parent = "cyclohexanone", Kind = Dnp }, gone).FirstAsync(gone);

        await using var author = await SitDownAsync(way);
        await using var reviewer = await SitDownAsync(way);
        await author.SignInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await author.FillAsync("Correct a value of", "cyclohexanone");
        await author.PressAsync("Find it");
        await author.FollowAsync($"Correct 2,4-dinitrophenylhydrazone {Figure.Degrees(row.LowCelsius)}");
        await author.FillAsync("As the source prints it (may be empty)", "159-160.5 dec.");
        await author.FillAsync("Why, with the source", "An invented correction.");
        await author.PressAsync("Propose it and hand it in");
        Assert.Contains("waiting for review", await author.TextAsync(), StringComparison.Ordinal);

        await reviewer.SignInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await reviewer.FollowAsync($"Correct derivatives: {row.Key}");
        await reviewer.PressAsync("Approve and release it");

        // Counted is all that both do, from signing in on: each finds there what waits for them.
        Assert.Contains("released, as version 2", await reviewer.TextAsync(), StringComparison.Ordinal);
        Assert.InRange(author.Interactions + reviewer.Interactions, 1, 12);

        // The compound's own view tells of it, with what stood there before and a way to version and proposal.
        await author.OpenAsync("/table/cyclohexanone");
        var told = author.Page.GetByRole(Microsoft.Playwright.AriaRole.Region, new() { Name = $"{row.Key} in version 2" });
        Assert.Contains("159-160.5 dec.", await told.InnerTextAsync(), StringComparison.Ordinal);
        Assert.Equal(reviewer.Page.Url.Split('?')[0], await told.GetByRole(Microsoft.Playwright.AriaRole.Link, new() { Name = "its proposal" }).EvaluateAsync<string>("link => link.href"));
        await author.FollowAsync("Version 2");
        Assert.EndsWith("?version=2", author.Page.Url, StringComparison.Ordinal);

        // Typed once, as printed: both ends and the decomposition were read from it.
        var now = await administrator.Table.ListDerivativesAsync(new DerivativeQuery { Parent = "cyclohexanone", Kind = Dnp }, gone).FirstAsync(each => each.Key == row.Key, gone);
        Assert.Equal((159, 160.5, true, "159-160.5 dec."), (now.LowCelsius, now.HighCelsius, now.Decomposes, now.AsPrinted));
    }

    [Fact]
    public async Task HistoryIsLookedThroughBackToTheFirstVersion()
    {
        var gone = TestContext.Current.CancellationToken;
        using var author = Service.ClientWith((await Service.KeyAsync(Role.Instructor)).Key);
        using var reviewer = Service.ClientWith((await Service.KeyAsync(Role.Instructor)).Key);
        foreach (var version in Enumerable.Range(2, 10))
        {
            // The second version is about cyclohexanone, those after it about another compound.
            var parent = (await author.Table.GetParentAsync(version == 2 ? "cyclohexanone" : "hexanal", null, gone)).Parent with { Note = $"Written in version {version} (invented)." };
            var proposal = await author.Proposals.PutRecordAsync(
                await author.Proposals.CreateAsync(new ProposalRequest { Title = $"Version {version} (invented)" }, null, null, gone),
                "parents", parent.Key, System.Text.Json.JsonSerializer.SerializeToElement(parent, WireJson.Options), null, gone);
            await reviewer.Proposals.ReleaseAsync(await reviewer.Proposals.ApproveAsync(await author.Proposals.SubmitAsync(proposal, null, gone), null, gone), null, gone);
        }

        await using var reader = await SitDownAsync(Way.NoScript);
        await reader.OpenAsync("/table/cyclohexanone");
        Assert.Contains("Nothing of it was changed in versions 4 to 11; earlier ones are not looked through here.", await reader.TextAsync(), StringComparison.Ordinal);
        await reader.FollowAsync("Look through earlier versions");
        var told = reader.Page.GetByRole(Microsoft.Playwright.AriaRole.Region, new() { Name = "cyclohexanone in version 2" });
        Assert.Contains("Written in version 2 (invented).", await told.InnerTextAsync(), StringComparison.Ordinal);
        Assert.Contains("That is all that was changed in versions 2 to 3, back to the first.", await reader.TextAsync(), StringComparison.Ordinal);
        await reader.FollowAsync("Back to the latest");
        Assert.Equal(0, await told.CountAsync());

        // Whoever may read no proposals is led to none.
        await reader.OpenAsync("/table/hexanal");
        Assert.Equal(8, await reader.Page.GetByRole(Microsoft.Playwright.AriaRole.Region).Filter(new() { HasText = "Written in version" }).CountAsync());
        Assert.Equal(0, await reader.Page.GetByRole(Microsoft.Playwright.AriaRole.Link, new() { Name = "its proposal" }).CountAsync());
    }

    [Fact]
    public async Task ProposalIsHandedBackMendedReleasedAndUndone()
    {
        var gone = TestContext.Current.CancellationToken;
        using var administrator = Service.Administrator();
        await using var author = await SitDownAsync(Way.NoScript);
        await author.SignInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await author.OpenAsync("/records/sources");
        await author.FillAsync("Key", "invented-source");
        await author.FillAsync("Citation", "An invented source.");
        await author.ChooseAsync("How the source got its values", "estimated");
        await author.FillAsync("Family: sources that may copy each other", "invented");
        await author.ChooseAsync("How its values came into the table", "none");
        await author.PressAsync("Propose to add it");
        var address = new Uri(author.Page.Url).AbsolutePath;
        await author.OpenAsync($"/records/spot-tests/tollens?proposal={address.Split('/')[^1]}");
        await author.FillAsync("Time it takes, min", "14");
        await author.PressAsync("Propose it and hand it in");
        Assert.Contains("waiting for review", await author.TextAsync(), StringComparison.Ordinal);

        await using var reviewer = await SitDownAsync(Way.NoScript);
        await reviewer.SignInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await reviewer.OpenAsync(address);
        await reviewer.FillAsync("A word about it", "Leave the source out (invented).");
        await reviewer.PressAsync("Hand it back");
        Assert.Contains("draft", await reviewer.TextAsync(), StringComparison.Ordinal);

        await author.OpenAsync(address);
        Assert.Contains("Leave the source out (invented).", await author.TextAsync(), StringComparison.Ordinal);
        Assert.Equal(2, await author.Page.Locator("section.sheet").CountAsync());
        await author.Page.GetByRole(Microsoft.Playwright.AriaRole.Region, new() { Name = "sources invented-source" })
            .GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Take it back" }).ClickAsync();
        Assert.Equal(1, await author.Page.Locator("section.sheet").CountAsync());
        await author.PressAsync("Hand it in");

        await reviewer.OpenAsync(address);
        await reviewer.PressAsync("Approve and release it");
        Assert.Contains("released, as version 2", await reviewer.TextAsync(), StringComparison.Ordinal);
        Assert.Equal(14, (await administrator.Table.ListSpotTestsAsync(null, null, gone).SingleAsync(test => test.Key == "tollens", gone)).Minutes);
        Assert.DoesNotContain(await administrator.Table.ListSourcesAsync(null, gone).ToListAsync(gone), source => source.Key == "invented-source");

        // Back to how it was before.
        await author.OpenAsync("/proposals");
        await author.FillAsync("What it is about", "Back to the first version (invented)");
        await author.FillAsync("Why, with the sources", "Fifteen minutes after all.");
        await author.Page.GetByLabel("It begins").SelectOptionAsync(new Microsoft.Playwright.SelectOptionValue { Value = "1" });
        await author.PressAsync("Make it");
        Assert.Contains("Goes back to", await author.TextAsync(), StringComparison.Ordinal);
        await author.PressAsync("Hand it in");
        await reviewer.OpenAsync(new Uri(author.Page.Url).AbsolutePath);
        await reviewer.PressAsync("Approve and release it");
        Assert.Contains("released, as version 3", await reviewer.TextAsync(), StringComparison.Ordinal);
        Assert.Equal(15, (await administrator.Table.ListSpotTestsAsync(null, null, gone).SingleAsync(test => test.Key == "tollens", gone)).Minutes);
    }

    private Task<Reader> SitDownAsync(Way way) => Reader.SitDownAsync(browser, Service.Address, way);
}
