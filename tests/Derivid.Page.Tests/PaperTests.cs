using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>Every view, printed.</summary>
[Collection(nameof(ShownPage))]
public sealed class PaperTests(BrowserFixture browser, ShownPage shown)
{
    // Seven, but for how the browser rounds pixels.
    private const double SmallestPoints = 6.99;

    // Printed as people print it, on A4, in letters that can be read: with all that is usually noted, and with one to three
    // derivatives of compounds of every sort. Two compounds put beside each other take a page more.
    [Theory]
    [InlineData("236-238")]
    [InlineData("125-127")]
    [InlineData("106-108")]
    [InlineData("236-238", "221-223")]
    [InlineData("457-460 F", "221-223")]
    [InlineData("162", "166-167")]
    [InlineData("125-127", "190")]
    [InlineData("200-202", "197-199")]
    [InlineData("125-127", "190", "59-60")]
    [InlineData("162-163", "166-167", "90-91")]
    [InlineData("236-238", "221-223", "34-35", true)]
    [InlineData("236-238", "221-223", null, true)]
    public async Task AnswerIsPrintedOnOnePage(string dinitrophenylhydrazone, string? semicarbazone = null, string? oxime = null, bool isFull = false)
    {
        using var client = shown.Service.Administrator();
        var answer = await client.Identifications.IdentifyAsync(
            new Contracts.IdentificationRequest
            {
                Derivatives =
                [
                    .. new (string Kind, string? Range)[] { ("2-4-dinitrophenylhydrazone", dinitrophenylhydrazone), ("semicarbazone", semicarbazone), ("oxime", oxime) }
                        .Where(made => made.Range is not null)
                        .Select(made => new Contracts.DerivativeObserved { Kind = made.Kind, MeltingRange = made.Range!, Colour = isFull && made.Kind.StartsWith('2') ? "orange-red" : null }),
                ],
                SpotTests = isFull ? [new Contracts.SpotTestObserved { Test = "tollens", Outcome = Core.SpotTests.SpotTestOutcome.Positive }] : null,
                BoilingPoint = isFull ? new Contracts.BoilingPointObserved { Range = "178-180" } : null,
            },
            cancellationToken: TestContext.Current.CancellationToken);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/identifications/" + answer.Id);
        var pdf = await reader.Page.PdfAsync(new PagePdfOptions { Format = "A4", PreferCSSPageSize = true });

        Assert.Single(System.Text.RegularExpressions.Regex.Matches(System.Text.Encoding.Latin1.GetString(pdf), @"/Type\s*/Page\b(?!s)"));

        // What was entered, what leads with its sources and every caution are there, none in letters under 7 points.
        await reader.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        await reader.LayOutAsync();
        var smallest = await reader.Page.EvaluateAsync<double>(
            """
            () => Math.min(...[...document.querySelectorAll('main *')]
              .filter(element => [...element.childNodes].some(node => node.nodeType === Node.TEXT_NODE && node.textContent.trim() !== '') && element.checkVisibility() && !element.closest('svg, .hidden'))
              .map(element => parseFloat(getComputedStyle(element).fontSize) * 0.75))
            """);
        Assert.InRange(smallest, SmallestPoints, 20);
        var leader = await reader.Page.Locator(".candidate details[open] p.paper").First.InnerTextAsync();
        Assert.StartsWith("Listed: ", leader, StringComparison.Ordinal);
        Assert.True(leader.Contains("recalled", StringComparison.Ordinal) || leader.Contains("read", StringComparison.Ordinal) || leader.Contains("cross-checked", StringComparison.Ordinal), leader);
        foreach (var caution in await reader.Page.Locator(".cautions :is(dt, dd, p)").AllAsync())
        {
            Assert.True(await caution.IsVisibleAsync());
        }
    }

    // On paper nothing can be pressed or searched for, and what the view is about, holds and was entered is there.
    [Fact]
    public async Task EveryViewPrintsWhatItHoldsAndNoControls()
    {
        var faults = new List<string>();
        await using var reader = await shown.SignedInAsync(browser);
        await shown.EveryViewAsync(reader, async address =>
        {
            await reader.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
            await reader.LayOutAsync();
            var wrong = await reader.Page.EvaluateAsync<string[]>(
                """
                () => {
                  const seen = element => element.checkVisibility({ visibilityProperty: true }) && element.getClientRects().length > 0;
                  const all = selector => [...document.querySelectorAll(selector)];
                  const controls = all('nav, button, .button, .skip, .who, form.search, input[type=submit], input[type=file]').filter(seen).map(element => 'shows ' + element.outerHTML.slice(0, 120));
                  const entered = all('main form:not(.search) :is(input:not([type=hidden], [type=password], [type=radio], [type=checkbox]), textarea)')
                    .filter(field => field.value !== '' && !field.closest('details:not([open]), .screen') && !seen(field)).map(field => 'hides ' + field.outerHTML.slice(0, 120));
                  // An answer is one page, with a line for whoever doesn't lead; see below.
                  const held = document.querySelector('main > .answer') ? [] : all('main :is(h1, dd, td)').filter(element => element.textContent.trim() !== '' && !element.closest('.screen, details:not([open])')
                    && !element.querySelector('.screen, svg') && !seen(element)).map(element => 'hides ' + element.outerHTML.slice(0, 120));
                  const nothing = document.querySelector('main').innerText.trim().length < 20 ? ['shows nothing'] : [];
                  return [...controls, ...entered, ...held, ...nothing].slice(0, 5);
                }
                """);
            faults.AddRange(wrong.Select(what => $"{address} {what}"));
            await reader.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Screen });
        });

        Assert.True(faults.Count == 0, string.Join('\n', faults));

        // An answer on paper says what was entered, first.
        await reader.OpenAsync(shown.Views.First(view => view.Address.StartsWith("/identifications/", StringComparison.Ordinal)).Address);
        await reader.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        var entered = reader.Page.Locator("section.entered");
        foreach (var reading in new[] { "236–238 °C", "orange-red", "positive" })
        {
            Assert.Contains(reading, await entered.InnerTextAsync(), StringComparison.Ordinal);
        }

        // Of the candidates the page has room for some, the leader's evidence among them, and says that there are others.
        Assert.True(await reader.Page.Locator(".candidate .who-is-it").First.IsVisibleAsync());
        Assert.True(await reader.Page.Locator(".candidate .evidence").First.IsVisibleAsync());
        Assert.True(await reader.Page.GetByText("a page has room for some of those likely").IsVisibleAsync());

        Assert.True((await entered.BoundingBoxAsync())!.Y < (await reader.Page.Locator("section.what-it-may-be").BoundingBoxAsync())!.Y);
    }
}
