using Derivid.Contracts;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>Decision sheets on the page, and what a step would show.</summary>
[Collection(nameof(ShownPage))]
public sealed class DecisionTests(BrowserFixture browser, ShownPage shown)
{
    private static CancellationToken Gone => TestContext.Current.CancellationToken;

    [Fact]
    public async Task AShelfIsTypedAndTheSheetComesBack()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/decide");
        await reader.Page.GetByLabel("Compounds on the shelf, one a line").FillAsync("acetone\n75-97-8\n");
        await reader.Page.GetByLabel("The unknown's own boiling or melting range can be taken").UncheckAsync();
        foreach (var test in await reader.Page.Locator("input[name=tests]").AllAsync())
        {
            await test.UncheckAsync();
        }

        await reader.PressAsync("Plan it");

        using var client = shown.Service.Administrator();
        var expected = await client.Practice.DecideAsync(
            new DecisionRequest { ShelfList = ["acetone", "75-97-8"], SpotTests = [], TakesConstants = false }, Gone);
        var sheet = await reader.Page.Locator(".decision").InnerTextAsync();
        Assert.Contains(expected.Summary, sheet, StringComparison.Ordinal);
        Assert.Equal(expected.Points.Count, await reader.Page.Locator(".decision .work section").CountAsync());
        Assert.Contains(expected.Points[0].Step!.Name, sheet, StringComparison.Ordinal);
        Assert.Contains("supervisor decide", sheet, StringComparison.Ordinal);
        Assert.Equal("acetone\n75-97-8", (await reader.Page.GetByLabel("Compounds on the shelf, one a line").InputValueAsync()).Trim().ReplaceLineEndings("\n"));
        Assert.False(await reader.Page.Locator("input[name=tests]").First.IsCheckedAsync());
    }

    [Fact]
    public async Task WhatIsWrongIsSaidBesideWhatWasTyped()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/decide?shelf=acetone%0Anobody");

        Assert.Contains("is no parent of this table", await reader.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("nobody", await reader.Page.GetByLabel("Compounds on the shelf, one a line").InputValueAsync(), StringComparison.Ordinal);
        Assert.Equal(0, await reader.Page.Locator(".decision").CountAsync());
    }

    // Twelve compounds with all that the table has: one page of either paper.
    [Fact]
    public async Task ASheetIsPrintedOnOnePage()
    {
        using var client = shown.Service.Administrator();
        var compounds = await client.Table.ListParentsAsync(cancellationToken: Gone).Take(40).Select(parent => parent.Key).ToListAsync(Gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        foreach (var shelf in new[] { compounds, [.. compounds.Take(12)] })
        {
            await reader.OpenAsync("/decide?shelf=" + Uri.EscapeDataString(string.Join('\n', shelf)));
            Assert.Equal(1, await reader.Page.Locator(".decision").CountAsync());
            foreach (var paper in new[] { "A4", "Letter" })
            {
                Assert.True(
                    await reader.PagesAsync(paper) == 1, $"{shelf.Count} compounds on {paper}: more than a page");
            }
        }
    }

    [Fact]
    public async Task AnAnswerLeadsToWhatAStepWouldShow()
    {
        using var client = shown.Service.Administrator();
        var answer = await client.Identifications.IdentifyAsync(
            new IdentificationRequest { Derivatives = [new DerivativeObserved { Kind = "2-4-dinitrophenylhydrazone", MeltingRange = "124-126" }] },
            cancellationToken: Gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync($"/identifications/{answer.Id}");
        await reader.Page.GetByRole(AriaRole.Link, new() { NameRegex = new("^what if. The ") }).First.ClickAsync();

        Assert.Contains("what it may show", await reader.TextAsync(), StringComparison.Ordinal);
        Assert.InRange(await reader.Page.Locator("tbody tr").CountAsync(), 2, 40);
        await reader.Page.GetByRole(AriaRole.Link, new() { Name = "Back to the answer" }).ClickAsync();
        Assert.EndsWith($"/identifications/{answer.Id}", reader.Page.Url, StringComparison.Ordinal);
    }
}
