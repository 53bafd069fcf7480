using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>Every view, printed.</summary>
[Collection(nameof(ShownPage))]
public sealed class PaperTests(BrowserFixture browser, ShownPage shown)
{
    // Seven, but for how the browser rounds pixels.
    private const double SmallestPoints = 6.99;

    // Printed as people print it, on both sizes of paper: the README's example, single readings, two and three derivatives, with
    // tests, colours and the unknown's own temperatures, over the whole range of readings. Two compounds put beside each other take a page more.
    [Fact]
    public async Task AnAnswerIsPrintedOnOnePageInLettersThatCanBeRead()
    {
        var gone = TestContext.Current.CancellationToken;
        using var client = shown.Service.Administrator();
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        var faults = new List<string>();
        var observations = Observations().ToList();
        foreach (var (what, observation) in observations)
        {
            var answer = await client.Identifications.IdentifyAsync(observation, cancellationToken: gone);
            await reader.OpenAsync("/identifications/" + answer.Id);
            foreach (var paper in new[] { "A4", "Letter" })
            {
                if (await reader.PagesAsync(paper) is not 1 and var pages)
                {
                    faults.Add($"{what}: {pages} pages of {paper}");
                }
            }

            await reader.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
            await reader.LayOutAsync();
            faults.AddRange((await reader.Page.EvaluateAsync<string[]>(
                """
                smallest => {
                  const points = element => parseFloat(getComputedStyle(element).fontSize) * 0.75 * (element.getScreenCTM?.().a ?? 1);
                  const written = [...document.querySelectorAll('main *')].filter(element => element.checkVisibility() && !element.closest('.hidden')
                    && [...element.childNodes].some(node => node.nodeType === Node.TEXT_NODE && node.textContent.trim() !== '')).filter(element => !element.closest('svg') || element.localName === 'text');
                  const small = written.filter(element => points(element) < (element.localName === 'text' ? 5.5 : smallest)).map(element => `${points(element).toFixed(2)} pt: ${element.textContent.slice(0, 40)}`);
                  const missing = ['.entered dd', '.leads .evidence td', ...document.querySelector('.leads table.stack') ? ['.leads p.paper'] : [], '.cautions dt', '.cautions dd', '.none .who-is-it']
                    .filter(part => !document.querySelector(part) || [...document.querySelectorAll(part)].some(element => !element.checkVisibility())).map(part => `no ${part}`);
                  return [...small.slice(0, 3), ...missing];
                }
                """, SmallestPoints)).Select(fault => $"{what}: {fault}"));
            await reader.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Null });
        }

        Assert.True(faults.Count == 0, string.Join('\n', faults));
        Assert.True(observations.Count > 30);
    }

    private static IEnumerable<(string What, IdentificationRequest Observation)> Observations()
    {
        yield return ("the README's", Of(("2-4-dinitrophenylhydrazone", "125-127", "yellow")) with { SpotTests = Tests(("iodoform", true), ("tollens", false)) });
        yield return ("a ketone boiled", Of(("2-4-dinitrophenylhydrazone", "162", null)) with
        {
            BoilingPoint = new BoilingPointObserved { Range = "155-156" }, SpotTests = Tests(("tollens", false), ("iodoform", false), ("schiff", false)),
        });
        yield return ("an oil", new IdentificationRequest
        {
            Derivatives =
            [
                new DerivativeObserved { Kind = "2-4-dinitrophenylhydrazone", Precipitate = Precipitate.Oil },
                new DerivativeObserved { Kind = "semicarbazone", MeltingRange = "121-122" },
            ],
            SpotTests = Tests(("tollens", false), ("iodoform", true), ("schiff", false), ("bromine", false)),
        });
        yield return ("everything", Of(("2-4-dinitrophenylhydrazone", "236-238", "orange-red"), ("semicarbazone", "221-223", null), ("oxime", "34-35", null)) with
        {
            BoilingPoint = new BoilingPointObserved { Range = "178-180" }, State = PhysicalState.Liquid, SpotTests = Tests(("tollens", true), ("iodoform", false)),
        });
        foreach (var celsius in Enumerable.Range(0, 8).Select(step => 84 + (25 * step)))
        {
            yield return ($"one, {celsius}", Of(("2-4-dinitrophenylhydrazone", $"{celsius}-{celsius + 2}", "yellow")) with { SpotTests = Tests(("iodoform", true), ("tollens", false)) });
            yield return ($"two, {celsius}", Of(("2-4-dinitrophenylhydrazone", $"{celsius}-{celsius + 1}", null), ("semicarbazone", $"{celsius + 20}-{celsius + 21}", null)) with { SpotTests = Tests(("tollens", true)) });
            yield return ($"three, {celsius}", Of(
                ("2-4-dinitrophenylhydrazone", $"{celsius}-{celsius + 1}", "orange"), ("semicarbazone", $"{celsius + 10}-{celsius + 12}", null), ("oxime", $"{Math.Max(30, celsius - 60)}", null)) with
            {
                SpotTests = Tests(("tollens", false), ("iodoform", false)),
            });
            yield return ($"a semicarbazone, {celsius + 30}", Of(("semicarbazone", $"{celsius + 30}-{celsius + 31}", null)));
        }

        static IdentificationRequest Of(params (string Kind, string Range, string? Colour)[] made) => new()
        {
            Derivatives = [.. made.Select(one => new DerivativeObserved { Kind = one.Kind, MeltingRange = one.Range, Colour = one.Colour })],
        };

        static IReadOnlyList<SpotTestObserved> Tests(params (string Test, bool IsPositive)[] run) =>
            [.. run.Select(one => new SpotTestObserved { Test = one.Test, Outcome = one.IsPositive ? SpotTestOutcome.Positive : SpotTestOutcome.Negative })];
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
