using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>The browser all tests share; each reader has a context of their own, with its cookies and storage.</summary>
public sealed class BrowserFixture : IAsyncLifetime
{
    /// <summary>Names another browser than the one found.</summary>
    public const string Variable = "DERIVID_TEST_BROWSER";

    // First the browser without its windows, which opens a page in a third of the time and draws it alike.
    private static readonly string[] Usual = ["/usr/bin/chromium-headless-shell", "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

    // The driver's own list, which a second one takes the place of, and two pages that each window makes for an address bar that
    // nobody sees: they are half the work of a new window.
    private static readonly string[] Without =
    [
        "AimEnabled", "AutoDeElevate", "AvoidCorsURLLoaderRestartOnRedirect", "AvoidUnnecessaryBeforeUnloadCheckSync",
        "BlockOriginHeaderModificationOnRedirect", "DestroyProfileOnBrowserClose", "DialMediaRouteProvider", "GlobalMediaControls",
        "HttpsUpgrades", "LensOverlay", "MediaRouter", "NetworkTimeServiceQuerying", "OptimizationHints", "PaintHolding",
        "ThirdPartyStoragePartitioning", "Translate", "WebUIOmniboxAimPopup", "WebUIOmniboxPopup",
    ];

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
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-features=" + string.Join(',', Without)],
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
