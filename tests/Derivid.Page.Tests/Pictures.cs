using Derivid.Core.Teaching;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>Takes pictures of every view, to be looked at by a person; run by name, see the contributor guide.</summary>
public sealed class Pictures(BrowserFixture browser, ShownPage shown) : IClassFixture<ShownPage>
{
    [Fact(Explicit = true)]
    public async Task AreTakenOfEveryView()
    {
        var folder = Path.Combine(AppContext.BaseDirectory, "pictures");
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
                        var name = $"{number:00}-{string.Join('-', address.Split('?')[0].Split('/').Where(part => part.Length is > 0 and < 30)).PadLeft(1, '0')}";
                        await reader.Page.ScreenshotAsync(new PageScreenshotOptions { FullPage = true, Path = Path.Combine(folder, $"{name}-{width}-{scheme}.png") });
                        if (scheme == ColorScheme.Light && width == 1280)
                        {
                            await reader.Page.PdfAsync(new PagePdfOptions { Format = "A4", PrintBackground = true, Path = Path.Combine(folder, name + ".pdf") });
                            // The same on one endless sheet as wide as the paper is between its margins.
                            await reader.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
                            await reader.Page.SetViewportSizeAsync(718, 900);
                            await reader.Page.ScreenshotAsync(new PageScreenshotOptions { FullPage = true, Path = Path.Combine(folder, $"{name}-print.png") });
                            await reader.Page.SetViewportSizeAsync(width, 900);
                            await reader.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Screen });
                        }
                    }
                }
            }
        }

        TestContext.Current.SendDiagnosticMessage($"Pictures are in {folder}.");
        Assert.NotEmpty(Directory.GetFiles(folder));
    }
}
