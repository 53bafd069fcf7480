using Derivid.Core.Teaching;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>What becomes of what was typed when a session ends, by itself or by signing out.</summary>
public sealed class SignedOutTests(BrowserFixture browser, ShownPage shown) : IClassFixture<ShownPage>
{
    private const string Typed = "typed before the session ended";

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    public async Task FormSentTooLateIsGivenBackAndCanBeSent(Way way)
    {
        var gone = TestContext.Current.CancellationToken;
        using var administrator = shown.Service.Administrator();
        var proposal = await administrator.Proposals.CreateAsync(new Contracts.ProposalRequest { Title = "Signed out (invented)" }, null, null, gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, way);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync($"/proposals/{proposal.Id}");
        await reader.FillAsync("A remark", $"{Typed} {way}");
        await reader.Page.Context.ClearCookiesAsync(new BrowserContextClearCookiesOptions { Name = "derivid-session" });
        await reader.PressAsync("Add the remark");

        Assert.Equal("You are no longer signed in.", await reader.HeadingAsync());
        await reader.FillAsync("Key", "dvd_wrong");
        await reader.PressAsync("Sign in");
        Assert.Contains("opens nothing", await reader.TextAsync(), StringComparison.Ordinal);

        await reader.FillAsync("Key", shown.KeyOf(Role.Instructor));
        await reader.PressAsync("Sign in");
        Assert.Equal("You are signed in again.", await reader.HeadingAsync());
        Assert.Contains($"{Typed} {way}", await reader.Page.Locator("main dd").First.TextContentAsync(), StringComparison.Ordinal);
        Assert.DoesNotContain(shown.KeyOf(Role.Instructor), await reader.Page.ContentAsync(), StringComparison.Ordinal);

        await reader.PressAsync("Send it again");
        Assert.EndsWith($"/proposals/{proposal.Id}", reader.Page.Url, StringComparison.Ordinal);
        var comment = Assert.Single(await administrator.Proposals.ListCommentsAsync(proposal.Id, gone).ToListAsync(gone));
        Assert.Equal($"{Typed} {way}", comment.Text);
    }

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    public async Task WhereNobodyNeedsToSignInItIsGivenBackToo(Way way)
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, way);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync("/");
        await reader.FillAsync("Melting range", "236-238");
        await reader.Page.Context.ClearCookiesAsync(new BrowserContextClearCookiesOptions { Name = "derivid-session" });
        await reader.PressAsync("What is it?");
        Assert.Equal("The form was not taken.", await reader.HeadingAsync());
        await reader.PressAsync("Send it again");
        Assert.StartsWith("It is", await reader.HeadingAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task NoFormOfAnyViewIsLost()
    {
        var tried = new HashSet<string>();
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        foreach (var part in shown.Views.Where(view => view.Least is not null).GroupBy(view => view.Least == Role.Student))
        {
            await reader.Page.Context.ClearCookiesAsync();
            await reader.ComeSignedInAsync(shown.KeyOf(part.Key ? Role.Student : Role.Administrator));
            foreach (var (address, _) in part)
            {
                await reader.OpenAsync(address);
                var forms = reader.Page.Locator("main form[method=post][id]");
                for (var number = 0; number < await forms.CountAsync(); number++)
                {
                    if (tried.Contains(address))
                    {
                        await reader.OpenAsync(address);
                    }

                    var form = forms.Nth(number);
                    var fields = form.Locator("input[type=text], textarea");
                    if (await fields.CountAsync() == 0)
                    {
                        continue;
                    }

                    var cookies = await reader.Page.Context.CookiesAsync();
                    await form.EvaluateAsync("(form, text) => form.querySelector('input[type=text]:not([readonly]), textarea:not([readonly])').value = text", Typed);
                    await reader.Page.Context.ClearCookiesAsync(new BrowserContextClearCookiesOptions { Name = "derivid-session" });
                    await form.EvaluateAsync("form => form.requestSubmit(form.querySelector('button[type=submit]'))");
                    await reader.Page.GetByRole(AriaRole.Heading, new PageGetByRoleOptions { Name = "You are no longer signed in." }).WaitForAsync();
                    Assert.True((await reader.Page.Locator("input[name=kept]").InputValueAsync()).Contains(Typed, StringComparison.Ordinal), address);
                    tried.Add(address);
                    await reader.Page.Context.AddCookiesAsync(cookies.Select(cookie => new Cookie
                    {
                        Name = cookie.Name, Value = cookie.Value, Domain = cookie.Domain, Path = cookie.Path, HttpOnly = cookie.HttpOnly, SameSite = cookie.SameSite,
                    }));
                }
            }
        }

        Assert.True(tried.Count >= 10, $"Only {tried.Count} views had a form to try.");
    }

    [Fact]
    public async Task KeyIsNotWrittenIntoTheViewThatGivesTheFormBack()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/sign-in");
        await reader.FillAsync("Key", shown.KeyOf(Role.Instructor));
        await reader.Page.Context.ClearCookiesAsync();
        await reader.PressAsync("Sign in");
        Assert.Equal("The form was not taken.", await reader.HeadingAsync());
        Assert.DoesNotContain(shown.KeyOf(Role.Instructor), await reader.Page.ContentAsync(), StringComparison.Ordinal);

        await reader.FillAsync("Your key, once more", shown.KeyOf(Role.Instructor));
        await reader.PressAsync("Send it again");
        await reader.FollowAsync("Instructor");
        Assert.Equal("Signed in as instructor", await reader.HeadingAsync());
    }

    [Fact]
    public async Task FormOfAnotherSiteIsNotKept()
    {
        using var elsewhere = new HttpClient(new HttpClientHandler { UseCookies = false });
        using var request = new HttpRequestMessage(HttpMethod.Post, shown.Service.Address + "/keys");
        request.Headers.Add("Origin", "https://elsewhere.example");
        request.Headers.Add("Sec-Fetch-Site", "cross-site");
        request.Content = new FormUrlEncodedContent([new("_handler", "key-request"), new("/name", "planted")]);
        using var response = await elsewhere.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Equal(System.Net.HttpStatusCode.Unauthorized, response.StatusCode);
        Assert.DoesNotContain("planted", await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task SigningOutForgetsWhatWasTypedInEveryTab()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Student));
        await reader.OpenAsync("/");
        var other = await reader.Page.Context.NewPageAsync();
        await other.GotoAsync(shown.Service.Address + "/");
        foreach (var tab in new[] { reader.Page, other })
        {
            await tab.GetByLabel("Melting range", new PageGetByLabelOptions { Exact = true }).First.PressSequentiallyAsync("236-238");
            Assert.NotEqual(0, await DraftsAsync(tab));
        }

        await reader.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Sign out" }).First.ClickAsync();
        await reader.Page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Sign in" }).WaitForAsync();
        foreach (var tab in new[] { reader.Page, other })
        {
            Assert.Equal(0, await DraftsAsync(tab));
            await tab.GotoAsync(shown.Service.Address + "/");
            Assert.Empty(await tab.GetByLabel("Melting range", new PageGetByLabelOptions { Exact = true }).First.InputValueAsync());
        }
    }

    [Fact]
    public async Task WhatWasTypedIsItsWritersWhenASessionEndsByItself()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/");
        await TypeAsync("100-101");
        await reader.SignInAsync(shown.KeyOf(Role.Student));
        Assert.Equal("100-101", await TypedAsync());
        await TypeAsync("236-238");
        await reader.Page.Context.ClearCookiesAsync(new BrowserContextClearCookiesOptions { Name = "derivid-session" });
        Assert.Equal("100-101", await TypedAsync());
        await reader.SignInAsync(shown.KeyOf(Role.Grader));
        Assert.Equal("100-101", await TypedAsync());
        await TypeAsync("150-151");
        await reader.SignInAsync(shown.KeyOf(Role.Student));
        Assert.Equal("236-238", await TypedAsync());

        async Task<string> TypedAsync()
        {
            await reader.OpenAsync("/");
            return await Range().InputValueAsync();
        }

        async Task TypeAsync(string range)
        {
            await Range().FillAsync("");
            await Range().PressSequentiallyAsync(range);
        }

        ILocator Range() => reader.Page.GetByLabel("Melting range", new PageGetByLabelOptions { Exact = true }).First;
    }

    private static Task<int> DraftsAsync(IPage tab) =>
        tab.EvaluateAsync<int>("() => Object.keys(sessionStorage).filter(name => name.startsWith('draft ')).length");
}
