using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>The browser all tests share; each reader has a context of their own, with its cookies and storage.</summary>
public sealed class BrowserFixture : IAsyncLifetime
{
    /// <summary>Names another browser than the one found.</summary>
    public const string Variable = "DERIVID_TEST_BROWSER";

    private static readonly string[] Usual = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

    private IPlaywright? _playwright;
    private IBrowser? _browser;

    public IBrowser Browser => _browser!;

    public async ValueTask InitializeAsync()
    {
        var path = Environment.GetEnvironmentVariable(Variable) ?? Usual.FirstOrDefault(File.Exists)
            ?? throw new InvalidOperationException(
                $"No browser is found: install Debian's chromium, or name one in {Variable}.");
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = path,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }

        _playwright?.Dispose();
    }
}
