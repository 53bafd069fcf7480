using Derivid.Core.Teaching;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>Takes pictures of every view, to be looked at by a person; run by name, see the contributor guide.</summary>
[Collection(nameof(ShownPage))]
public sealed class Pictures(BrowserFixture browser, ShownPage shown)
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "pictures");

    [Fact(Explicit = true)]
    public async Task AreTakenOfEveryView()
    {
        foreach (var scheme in new[] { ColorScheme.Light, ColorScheme.Dark })
        {
            foreach (var width in new[] { 1280, 390 })
            {
                foreach (var isStudent in new[] { false, true })
                {
                    await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, options: new BrowserNewContextOptions
                    {
                        ColorScheme = scheme,
                        ViewportSize = new ViewportSize { Width = width, Height = 900 },
                    });
                    await reader.SignInAsync(shown.KeyOf(isStudent ? Role.Student : Role.Administrator));
                    foreach (var (number, (address, _)) in shown.Views.Index().Where(view => view.Item.Least == Role.Student == isStudent))
                    {
                        await reader.OpenAsync(address);
                        await TakeAsync(reader, $"{number:00}-{string.Join('-', address.Split('?')[0].Split('/').Where(part => part.Length is > 0 and < 30)).PadLeft(1, '0')}", width, scheme);
                    }

                    // What no address shows.
                    if (!isStudent)
                    {
                        await reader.OpenAsync("/keys/class");
                        await reader.FillAsync("Whom they are for", "s-901\ns-902\ns-903");
                        await reader.PressAsync("Make them");
                        await TakeAsync(reader, "90-keys-made", width, scheme);
                    }

                    await reader.OpenAsync(isStudent ? shown.ReportBegun : "/courses/new");
                    if (!isStudent)
                    {
                        await reader.PressAsync("Make it");
                        await TakeAsync(reader, "91-faults", width, scheme);
                    }

                    await reader.Page.Context.ClearCookiesAsync(new BrowserContextClearCookiesOptions { Name = "derivid-session" });
                    await reader.PressAsync(isStudent ? "Save the draft" : "Make it");
                    await TakeAsync(reader, $"92-given-back-{(isStudent ? "report" : "course")}", width, scheme);
                }
            }
        }

        TestContext.Current.SendDiagnosticMessage($"Pictures are in {Folder}.");
        Assert.NotEmpty(Directory.GetFiles(Folder));
    }

    private static async Task TakeAsync(Reader reader, string name, int width, ColorScheme scheme)
    {
        await reader.LayOutAsync();
        await reader.Page.ScreenshotAsync(new PageScreenshotOptions { FullPage = true, Path = Path.Combine(Folder, $"{name}-{width}-{scheme}.png") });
        if (scheme != ColorScheme.Light || width != 1280)
        {
            return;
        }

        await reader.Page.PdfAsync(new PagePdfOptions { Format = "A4", PrintBackground = true, Path = Path.Combine(Folder, name + ".pdf") });
        // The same on one endless sheet as wide as the paper is between its margins.
        await reader.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        await reader.Page.SetViewportSizeAsync(718, 900);
        await reader.Page.ScreenshotAsync(new PageScreenshotOptions { FullPage = true, Path = Path.Combine(Folder, $"{name}-print.png") });
        await reader.Page.SetViewportSizeAsync(width, 900);
        await reader.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Screen });
    }
}
