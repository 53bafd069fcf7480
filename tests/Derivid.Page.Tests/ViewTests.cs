using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Derivid.Core.Teaching;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>Every view, held against what every view must keep.</summary>
public sealed class ViewTests(BrowserFixture browser, ShownPage shown) : IClassFixture<ShownPage>
{
    [Fact]
    public async Task NoViewBreaksARuleOfAccessibility()
    {
        var faults = new List<string>();
        await using var reader = await SignedInAsync();
        await EveryViewAsync(reader, async address =>
        {
            // Folded parts belong to the view too; rows of a table are alike, and each costs time.
            await UnfoldAsync(reader.Page);
            await reader.Page.EvaluateAsync("() => document.querySelectorAll('tbody').forEach(body => [...body.rows].slice(30).forEach(row => row.remove()))");
            foreach (var scheme in new[] { ColorScheme.Light, ColorScheme.Dark })
            {
                await reader.Page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = scheme });
                var result = await reader.Page.RunAxe(RulesIn(scheme));
                faults.AddRange(result.Violations.SelectMany(rule => rule.Nodes.Select(node => $"{address}, {scheme}: {rule.Id}: {node.Html}")));
            }
        });

        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    // All rules in the light; in the dark those that look at colours, the others don't hang on them.
    private static AxeRunOptions RulesIn(ColorScheme scheme) => new()
    {
        ResultTypes = [ResultType.Violations],
        RunOnly = scheme == ColorScheme.Dark ? RunOnlyOptions.Rules("color-contrast", "link-in-text-block") : null,
    };

    [Fact]
    public async Task NoViewScrollsSidewaysAndNothingIsCutOff()
    {
        var faults = new List<string>();
        await using var reader = await SignedInAsync();
        await EveryViewAsync(reader, async address =>
        {
            await UnfoldAsync(reader.Page);
            await reader.LayOutAsync();
            foreach (var (width, percent) in new[] { (320, 100), (390, 100), (640, 200), (1280, 200) })
            {
                await reader.Page.SetViewportSizeAsync(width, 800);
                await reader.Page.EvaluateAsync("percent => document.documentElement.style.fontSize = percent + '%'", percent);
                await LookAsync(address, $"{width} px, {percent} %");
            }
        });

        Assert.True(faults.Count == 0, string.Join('\n', faults));

        async Task LookAsync(string address, string size)
        {
            // Nothing reaches past the window, none of it is hidden by a box too small for it, and no text lies over another.
            var wide = await reader.Page.EvaluateAsync<string[]>(
                """
                () => {
                  const isMeant = e => e.closest('svg, .hidden, .skip, input, textarea') || getComputedStyle(e).position === 'absolute';
                  const all = [...document.body.querySelectorAll('*')].filter(e => e.checkVisibility() && !isMeant(e));
                  const beyond = all.filter(e => e.getBoundingClientRect().right > window.innerWidth + 1);
                  const cut = all.filter(e => ['hidden', 'clip'].includes(getComputedStyle(e).overflowX) && e.scrollWidth > e.clientWidth + 1);
                  const scrolls = document.documentElement.scrollWidth > window.innerWidth ? ['the view scrolls sideways'] : [];
                  const buttons = all.filter(e => e.matches('button, .button, tbody th, dt') && e.scrollWidth > e.clientWidth + 1);
                  return [...scrolls, ...[...beyond, ...cut, ...buttons].slice(0, 3).map(e => e.outerHTML.slice(0, 160))];
                }
                """);
            faults.AddRange(wide.Select(element => $"{address}, {size}: {element}"));
        }
    }

    [Theory]
    [InlineData(ColorScheme.Light)]
    [InlineData(ColorScheme.Dark)]
    public async Task FaultsAndFailuresBreakNoRuleOfAccessibilityEither(ColorScheme scheme)
    {
        var faults = new List<string>();
        await using var reader = await SignedInAsync(new BrowserNewContextOptions { ColorScheme = scheme, ViewportSize = new ViewportSize { Width = 390, Height = 800 } });
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
            await UnfoldAsync(reader.Page);
            var found = await reader.Page.RunAxe(RulesIn(scheme));
            faults.AddRange(found.Violations.SelectMany(rule => rule.Nodes.Select(node => $"{state}: {rule.Id}: {node.Html}")));
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
        await using var reader = await SignedInAsync(new BrowserNewContextOptions { ColorScheme = scheme, ForcedColors = forced });
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
        await using var reader = await SignedInAsync(new BrowserNewContextOptions { ForcedColors = ForcedColors.Active });
        await EveryViewAsync(reader, async address =>
        {
            await UnfoldAsync(reader.Page);
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

    [Fact]
    public void NoViewIsLeftOut()
    {
        var addresses = shown.Views.Select(view => view.Address.Split('?')[0].Split('/', StringSplitOptions.RemoveEmptyEntries)).ToList();
        var templates = typeof(View).Assembly.GetTypes()
            .SelectMany(type => type.GetCustomAttributes(typeof(Microsoft.AspNetCore.Components.RouteAttribute), inherit: false))
            .Cast<Microsoft.AspNetCore.Components.RouteAttribute>().Select(route => route.Template).ToList();
        Assert.True(templates.Count > 30);
        Assert.All(templates, template => Assert.Contains(addresses, address => Fits(template.Split('/', StringSplitOptions.RemoveEmptyEntries), address)));

        static bool Fits(string[] template, string[] address) => template.Length == address.Length
            && template.Zip(address).All(part => part.First.StartsWith('{') || part.First == part.Second);
    }

    [Fact]
    public async Task EveryViewKeepsItsHeadersAndIsKeptByNoCache()
    {
        await using var reader = await SignedInAsync();
        foreach (var (address, _) in shown.Views)
        {
            var headers = await (await reader.OpenAsync(address)).AllHeadersAsync();
            Assert.Equal("no-store", headers["cache-control"]);
            Assert.DoesNotContain("unsafe", headers["content-security-policy"], StringComparison.Ordinal);
            Assert.Contains("default-src 'none'", headers["content-security-policy"], StringComparison.Ordinal);
            Assert.Contains("frame-ancestors 'none'", headers["content-security-policy"], StringComparison.Ordinal);
            Assert.Equal("same-origin", headers["referrer-policy"]);
            Assert.Equal("nosniff", headers["x-content-type-options"]);
        }
    }

    // Everybody at every view, by its address: theirs opens, another's does not. An instructor is the curator too.
    [Theory]
    [InlineData(null)]
    [InlineData(Role.Student)]
    [InlineData(Role.Grader)]
    [InlineData(Role.Instructor)]
    [InlineData(Role.Administrator)]
    public async Task EveryViewOpensForItsRolesAndForNoOther(Role? role)
    {
        var faults = new List<string>();
        var (opened, refused) = (0, 0);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        if (role is { } some)
        {
            await reader.SignInAsync(shown.KeyOf(some));
        }

        foreach (var (address, least) in shown.Views)
        {
            var response = await reader.OpenAsync(address);
            var heading = await reader.HeadingAsync();
            var expected = address == "/nowhere" ? 404
                : least is null ? 200
                : role is null ? SignInAsked
                : least > role ? 403
                // Who grades may hand in for a student, but a draft is the student's own.
                : address.EndsWith("/hand-in", StringComparison.Ordinal) && role > Role.Student ? 404
                : 200;
            var found = response.Status == 200 && heading == "Sign in" && address != "/sign-in" ? SignInAsked : response.Status;
            _ = expected == 200 ? opened++ : refused++;
            if (found != expected)
            {
                faults.Add($"{address} answered {found} instead of {expected}: {heading}");
            }
        }

        Assert.True(faults.Count == 0, string.Join('\n', faults));
        Assert.True(opened >= 7 && refused > 0, $"{opened} views were to open, {refused} not.");
    }

    [Fact]
    public async Task AnotherStudentOpensNothingOfACourse()
    {
        var faults = new List<string>();
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.SignInAsync((await shown.Service.KeyAsync(Role.Student)).Key);
        foreach (var (address, _) in shown.Views.Where(view => view.Address.StartsWith("/courses/", StringComparison.Ordinal)))
        {
            var answered = (await reader.OpenAsync(address)).Status;
            if (answered is not (403 or 404))
            {
                faults.Add($"{address} answered {answered}");
            }
        }

        Assert.True(faults.Count == 0, string.Join('\n', faults));
        await reader.OpenAsync("/courses");
        Assert.DoesNotContain("(invented)", await reader.TextAsync(), StringComparison.Ordinal);
    }

    // In the place of a status: whoever isn't signed in is led to where they can.
    private const int SignInAsked = 0;

    // Printed as people print it, on A4: with all that is usually read, and with a 2,4-dinitrophenylhydrazone and a semicarbazone
    // of compounds of every sort. Two compounds put beside each other take a page more.
    [Theory]
    [InlineData("236-238", null)]
    [InlineData("125-127", null)]
    [InlineData("106-108", null)]
    [InlineData("236-238", "221-223")]
    [InlineData("457-460 F", "221-223")]
    [InlineData("162", "166-167")]
    [InlineData("125-127", "190")]
    [InlineData("200-202", "197-199")]
    [InlineData("236-238", "221-223", true)]
    public async Task AnswerIsPrintedOnOnePage(string dinitrophenylhydrazone, string? semicarbazone, bool isFull = false)
    {
        using var client = shown.Service.Administrator();
        var answer = await client.Identifications.IdentifyAsync(
            new Contracts.IdentificationRequest
            {
                Derivatives =
                [
                    new Contracts.DerivativeObserved { Kind = "2-4-dinitrophenylhydrazone", MeltingRange = dinitrophenylhydrazone, Colour = isFull ? "orange-red" : null },
                    .. semicarbazone is null ? Array.Empty<Contracts.DerivativeObserved>() : [new Contracts.DerivativeObserved { Kind = "semicarbazone", MeltingRange = semicarbazone }],
                ],
                SpotTests = isFull ? [new Contracts.SpotTestObserved { Test = "tollens", Outcome = Core.SpotTests.SpotTestOutcome.Positive }] : null,
                BoilingPoint = isFull ? new Contracts.BoilingPointObserved { Range = "178-180" } : null,
            },
            cancellationToken: TestContext.Current.CancellationToken);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/identifications/" + answer.Id);
        var pdf = await reader.Page.PdfAsync(new PagePdfOptions { Format = "A4", PreferCSSPageSize = true });

        Assert.Single(System.Text.RegularExpressions.Regex.Matches(System.Text.Encoding.Latin1.GetString(pdf), @"/Type\s*/Page\b(?!s)"));
    }

    [Fact]
    public async Task WhatTheTableCoversIsReachedFromTheTableAndSaidInFull()
    {
        using var administrator = shown.Service.Administrator();
        var coverage = await administrator.Table.GetCoverageAsync(null, TestContext.Current.CancellationToken);
        await using var reader = await SignedInAsync();
        await reader.OpenAsync("/table");
        await reader.FollowAsync("What it covers, and what it lacks");
        var headings = await reader.Page.Locator("main h2").AllInnerTextsAsync();
        Assert.Equal(
            [coverage.WithoutSecondDerivative.Count, coverage.NeverCrossChecked.Count, coverage.InseparablePairsInAll],
            headings.Select(heading => int.Parse(heading.Split(": ")[1], System.Globalization.NumberStyles.AllowThousands, System.Globalization.CultureInfo.InvariantCulture)));
        Assert.Equal(
            coverage.WithoutSecondDerivative.Count + coverage.NeverCrossChecked.Count + coverage.InseparablePairs.Count,
            await reader.Page.Locator("main details li").CountAsync());
    }

    [Fact]
    public async Task GradingsOfOneMinuteAreToldApart()
    {
        await using var reader = await SignedInAsync();
        var grading = shown.Views.Single(view => view.Address.Contains("/gradings/", StringComparison.Ordinal) && view.Address.Split('/').Length == 5).Address;
        await reader.OpenAsync(grading);
        Assert.StartsWith("Grading 1, ", await reader.HeadingAsync(), StringComparison.Ordinal);
        Assert.StartsWith("Grading 2, ", await reader.Page.Locator("#other option").First.InnerTextAsync(), StringComparison.Ordinal);
        await reader.OpenAsync(string.Join('/', grading.Split('/')[..3]));
        Assert.Equal(["Grading 2", "Grading 1"], (await reader.Page.Locator("th a[href*='/gradings/']").AllInnerTextsAsync()).Select(name => name.Split(',')[0]));
    }

    // On paper nothing can be pressed or searched for, and what the view is about, holds and was entered is there.
    [Fact]
    public async Task EveryViewPrintsWhatItHoldsAndNoControls()
    {
        var faults = new List<string>();
        await using var reader = await SignedInAsync();
        await EveryViewAsync(reader, async address =>
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

    private static async Task UnfoldAsync(IPage page) =>
        await page.EvaluateAsync("() => document.querySelectorAll('details').forEach(fold => fold.open = true)");

    // What is a student's own is seen as the student, the rest as the administrator, who may see it all.
    private async Task EveryViewAsync(Reader reader, Func<string, Task> look)
    {
        foreach (var part in shown.Views.GroupBy(view => view.Least == Role.Student).OrderBy(part => part.Key))
        {
            if (part.Key)
            {
                await reader.Page.Context.ClearCookiesAsync();
                await reader.SignInAsync(shown.KeyOf(Role.Student));
            }

            foreach (var (address, _) in part)
            {
                var response = await reader.OpenAsync(address);
                Assert.True(response.Status == (address == "/nowhere" ? 404 : 200), $"{address} answered {response.Status}");
                await look(address);
            }
        }
    }

    private async Task<Reader> SignedInAsync(BrowserNewContextOptions? options = null, Way way = Way.Mouse)
    {
        var reader = await Reader.SitDownAsync(browser, shown.Service.Address, way, options);
        await reader.SignInAsync(shown.KeyOf(Role.Administrator));
        return reader;
    }
}
