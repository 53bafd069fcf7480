using Derivid.Core.Teaching;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>Every view, read with what its reader has: other eyes, a keyboard, colours of their own.</summary>
[Collection(nameof(ShownPage))]
public sealed class AccessibilityTests(BrowserFixture browser, ShownPage shown)
{
    [Fact]
    public async Task NoViewBreaksARuleOfAccessibility()
    {
        var faults = new List<string>();
        await using var reader = await shown.SignedInAsync(browser);
        await shown.EveryViewAsync(reader, async address =>
        {
            // Folded parts belong to the view too; rows of a table are alike, and each costs time.
            await reader.UnfoldAllAsync();
            await reader.Page.EvaluateAsync("() => document.querySelectorAll('tbody').forEach(body => [...body.rows].slice(30).forEach(row => row.remove()))");
            foreach (var scheme in new[] { ColorScheme.Light, ColorScheme.Dark })
            {
                await reader.Page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = scheme });
                faults.AddRange((await reader.Page.FaultsAsync(RulesIn(scheme))).Select(fault => $"{address}, {scheme}: {fault}"));
            }
        });

        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    [Fact]
    public async Task TheRulesBite()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.Page.SetContentAsync("<html lang='en'><title>Invented</title><main><h1 style='color: #ccc; background: #fff'>Pale</h1><img src='data:,'></main>");
        Assert.Equal(["color-contrast", "image-alt"], (await reader.Page.FaultsAsync()).Select(fault => fault.Split(':')[0]).Order());
        Assert.StartsWith("color-contrast: <h1", Assert.Single(await reader.Page.FaultsAsync(RulesIn(ColorScheme.Dark))), StringComparison.Ordinal);
    }

    // All rules in the light; in the dark those that look at colours, the others don't hang on them.
    private static string[] RulesIn(ColorScheme scheme) => scheme == ColorScheme.Dark ? ["color-contrast", "link-in-text-block"] : [];

    [Theory]
    [InlineData(ColorScheme.Light)]
    [InlineData(ColorScheme.Dark)]
    public async Task FaultsAndFailuresBreakNoRuleOfAccessibilityEither(ColorScheme scheme)
    {
        var faults = new List<string>();
        await using var reader = await shown.SignedInAsync(browser, new BrowserNewContextOptions { ColorScheme = scheme, ViewportSize = new ViewportSize { Width = 390, Height = 800 } });
        await reader.OpenAsync("/");
        await reader.FillAsync("Melting range", "hot");
        await reader.FillAsync("Boiling range", "300-200");
        await reader.PressAsync("What is it?");
        await LookAsync(".faults", "the bench with faults");

        await reader.OpenAsync("/courses/new");
        await reader.PressAsync("Make it");
        await LookAsync(".faults", "a course with faults");

        await reader.OpenAsync("/keys/class");
        await reader.FillAsync("Whom they are for", "one\none");
        await reader.PressAsync("Make them");
        await LookAsync(".faults", "keys with faults");

        await reader.OpenAsync("/identifications/nothing");
        await LookAsync("h1[autofocus]", "a failure");

        await reader.OpenAsync(shown.Views.Single(view => view.Address.EndsWith("/withdrawal", StringComparison.Ordinal)).Address);
        await reader.Page.Context.ClearCookiesAsync();
        await reader.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Give it up for good" }).ClickAsync();
        await reader.Page.GetByText("You are no longer signed in.").WaitForAsync();
        await LookAsync("input[name=kept]", "a form given back");
        await ImportRunsAsync(reader);
        await LookAsync("[data-goes-on] progress", "a running import");
        Assert.True(faults.Count == 0, string.Join('\n', faults));

        async Task LookAsync(string mark, string state)
        {
            Assert.NotEqual(0, await reader.Page.Locator(mark).CountAsync());
            await reader.UnfoldAllAsync();
            faults.AddRange((await reader.Page.FaultsAsync(RulesIn(scheme))).Select(fault => $"{state}: {fault}"));
        }
    }

    // WCAG 2.2, 2.4.7 and 1.4.11: what has the focus is ringed, at 3 to 1 beside what lies around it. So in every scheme.
    [Theory]
    [InlineData(ColorScheme.Light, ForcedColors.None)]
    [InlineData(ColorScheme.Dark, ForcedColors.None)]
    [InlineData(ColorScheme.Light, ForcedColors.Active)]
    public async Task WhatHasTheFocusIsRinged(ColorScheme scheme, ForcedColors forced)
    {
        const int least = 10;
        var faults = new List<string>();
        await using var reader = await shown.SignedInAsync(browser, new BrowserNewContextOptions { ColorScheme = scheme, ForcedColors = forced });
        foreach (var address in new[] { "/", shown.Views.First(view => view.Address.StartsWith("/identifications/", StringComparison.Ordinal)).Address, "/table", "/courses/new", "/keys" })
        {
            await reader.OpenAsync(address);
            var ringed = 0;
            for (; ringed < 60; ringed++)
            {
                await reader.Page.Keyboard.PressAsync("Tab");
                var fault = await reader.Page.EvaluateAsync<string?>(
                    """
                    () => {
                      const parts = colour => colour.match(/[\d.]+/g).map(Number);
                      const light = colour => {
                        const [r, g, b] = parts(colour).map(part => (part / 255) <= .03928 ? part / 255 / 12.92 : ((part / 255 + .055) / 1.055) ** 2.4);
                        return .2126 * r + .7152 * g + .0722 * b;
                      };
                      const isClear = colour => parts(colour)[3] === 0;
                      const e = document.activeElement;
                      if (e === document.body) { return 'end'; }
                      // Offset from the element, the ring lies on what the element lies on.
                      let around = e.parentElement;
                      while (around.parentElement && isClear(getComputedStyle(around).backgroundColor)) { around = around.parentElement; }
                      const ring = getComputedStyle(e);
                      const [a, b] = [light(ring.outlineColor), light(getComputedStyle(around).backgroundColor)];
                      const contrast = (Math.max(a, b) + .05) / (Math.min(a, b) + .05);
                      return ring.outlineStyle !== 'none' && parseFloat(ring.outlineWidth) >= 2 && contrast >= 3 ? null
                        : `${ring.outlineStyle} ${ring.outlineWidth} ${contrast.toFixed(1)}: ${e.outerHTML.slice(0, 120)}`;
                    }
                    """);
                if (fault == "end")
                {
                    break;
                }

                if (fault is not null)
                {
                    faults.Add($"{address}: {fault}");
                }
            }

            Assert.True(ringed >= least, $"{address} has only {ringed} stops.");
        }

        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    // Where somebody's own colours are forced on the page, what says something by its colour is still told from what lies under it.
    [Fact]
    public async Task NothingVanishesWhereColoursAreForced()
    {
        var faults = new List<string>();
        var marks = 0;
        await using var reader = await shown.SignedInAsync(browser, new BrowserNewContextOptions { ForcedColors = ForcedColors.Active });
        await shown.EveryViewAsync(reader, async address =>
        {
            await reader.UnfoldAllAsync();
            var found = await reader.Page.EvaluateAsync<string[]>(
                """
                () => {
                  const paper = getComputedStyle(document.body).backgroundColor;
                  const seen = [...document.querySelectorAll('main svg :is(rect, path, line, circle, text)')];
                  const painted = e => { const s = getComputedStyle(e); return [s.fill, s.stroke].filter(paint => paint !== 'none' && !paint.startsWith('rgba(0, 0, 0, 0')); };
                  const gone = seen.filter(e => painted(e).length > 0 && painted(e).every(paint => paint === paper));
                  const bare = [...document.querySelectorAll('main :is(button, .button, input:not([type=hidden]), select, textarea)')]
                    .filter(e => e.checkVisibility() && !e.matches('.link, [type=checkbox], [type=radio], [type=file]'))
                    .filter(e => getComputedStyle(e).borderStyle === 'none' || getComputedStyle(e).borderTopColor === paper);
                  return [String(seen.length), ...[...gone, ...bare].slice(0, 3).map(e => e.outerHTML.slice(0, 120))];
                }
                """);
            marks += int.Parse(found[0], System.Globalization.CultureInfo.InvariantCulture);
            faults.AddRange(found.Skip(1).Select(mark => $"{address}: {mark}"));
        });

        Assert.True(faults.Count == 0, string.Join('\n', faults));
        Assert.True(marks > 100, $"Only {marks} marks were looked at.");
    }

    // An import on its way, held there: whoever asks again gets the first answer.
    private async Task ImportRunsAsync(Reader reader)
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.ClientWith(shown.KeyOf(Role.Instructor));
        var proposal = await instructor.Proposals.CreateAsync(new Contracts.ProposalRequest { Title = "A long file (invented)" }, null, null, gone);
        using var file = new MemoryStream(System.Text.Encoding.UTF8.GetBytes(
            "key,name,rank,synonyms\n" + string.Join('\n', Enumerable.Range(0, 100_000).Select(row => $"c{row},colour {row},99,"))));
        await reader.SignInAsync(shown.KeyOf(Role.Instructor));
        var started = await instructor.Imports.StartAsync(proposal, new Client.ImportFile("colours", file, Client.ExportFormat.Csv), true, null, null, gone);
        string? first = null;
        await reader.Page.RouteAsync("**/imports/*", async route =>
        {
            var answer = await route.FetchAsync();
            first ??= await answer.TextAsync();
            await route.FulfillAsync(new RouteFulfillOptions { Response = answer, Body = first });
        });
        await reader.OpenAsync("/imports/" + started.Id);
    }
}
