using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>The page that shows the interface: a package's, with a theme and headers of ours.</summary>
[Collection(nameof(ShownPage))]
public sealed class InterfaceTests(BrowserFixture browser, ShownPage shown)
{
    [Theory]
    [InlineData(ColorScheme.Light, 1280)]
    [InlineData(ColorScheme.Dark, 390)]
    public async Task CanBeReadByEverybody(ColorScheme scheme, int width)
    {
        await using var reader = await OpenAsync(scheme, width);
        // All rules once; in the other scheme and width those that hang on colours or on what has to scroll.
        string[] rules = scheme == ColorScheme.Light ? [] : ["color-contrast", "link-in-text-block", "scrollable-region-focusable"];
        var faults = new List<string>();
        await LookAsync("as it opens");

        // One operation that reads and one that writes, with what they take and answer.
        await reader.Page.GetByText("Identifications", new PageGetByTextOptions { Exact = true }).First.ClickAsync();
        foreach (var operation in new[] { "get", "post" })
        {
            await reader.Page.Locator($".opblock-{operation} .opblock-summary-control").First.ClickAsync();
            await reader.Page.Locator($".opblock-{operation} .responses-wrapper").First.WaitForAsync();
        }

        await LookAsync("with operations open");
        await reader.Page.Locator(".btn.authorize").First.ClickAsync();
        await reader.Page.Locator(".modal-ux").WaitForAsync();
        await LookAsync("asking for a key");
        Assert.True(faults.Count == 0, string.Join('\n', faults));

        async Task LookAsync(string state)
        {
            if (await reader.Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth > window.innerWidth"))
            {
                faults.Add($"{state}: it scrolls sideways");
            }

            faults.AddRange((await reader.Page.FaultsAsync(rules)).Where(fault => !OfThePackage.Any(rule => fault.StartsWith(rule + ':', StringComparison.Ordinal))).Select(fault => $"{state}: {fault}"));
        }
    }

    [Fact]
    public async Task KeepsItsHeaders()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        var headers = await (await reader.OpenAsync("/swagger/index.html")).AllHeadersAsync();
        Assert.StartsWith("default-src 'none'; script-src 'self'; style-src 'self';", headers["content-security-policy"], StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", headers["content-security-policy"], StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", headers["content-security-policy"], StringComparison.Ordinal);
        Assert.Equal("DENY", headers["x-frame-options"]);
        Assert.Equal("same-origin", headers["referrer-policy"]);
        Assert.Equal("nosniff", headers["x-content-type-options"]);
    }

    // What the package writes and no theme can mend.
    private static readonly string[] OfThePackage = ["heading-order", "label-content-name-mismatch", "landmark-unique", "region"];

    private async Task<Reader> OpenAsync(ColorScheme scheme, int width)
    {
        var reader = await Reader.SitDownAsync(browser, shown.Service.Address, options: new BrowserNewContextOptions
        {
            ColorScheme = scheme,
            ViewportSize = new ViewportSize { Width = width, Height = 900 },
        });
        await reader.OpenAsync("/swagger/index.html");
        await reader.Page.Locator(".opblock-tag").First.WaitForAsync();
        return reader;
    }
}
