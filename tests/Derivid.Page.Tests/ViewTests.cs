using System.Text.RegularExpressions;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Teaching;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>Every view, held against what every view must keep.</summary>
[Collection(nameof(ShownPage))]
public sealed partial class ViewTests(BrowserFixture browser, ShownPage shown)
{
    [Fact]
    public async Task NoViewScrollsSidewaysAndNothingIsCutOff()
    {
        var faults = new List<string>();
        await using var reader = await shown.SignedInAsync(browser);
        await shown.EveryViewAsync(reader, async address =>
        {
            await reader.UnfoldAllAsync();
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
        await using var reader = await shown.SignedInAsync(browser);
        foreach (var (address, _) in shown.Views)
        {
            var headers = (await reader.AskAsync(address)).Headers;
            Assert.Equal("no-store", headers["cache-control"]);
            Assert.DoesNotContain("unsafe", headers["content-security-policy"], StringComparison.Ordinal);
            Assert.Contains("default-src 'none'", headers["content-security-policy"], StringComparison.Ordinal);
            Assert.Contains("frame-ancestors 'none'", headers["content-security-policy"], StringComparison.Ordinal);
            Assert.Equal("same-origin", headers["referrer-policy"]);
            Assert.Equal("nosniff", headers["x-content-type-options"]);
        }
    }

    // Everybody at every view, by its address: theirs opens, another's does not. An instructor is the curator too. What is asked
    // is what the service answers whom, so nothing is shown; that a browser shows it, those who look at every view try.
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
            await reader.ComeSignedInAsync(shown.KeyOf(some));
        }

        foreach (var (address, least) in shown.Views)
        {
            var response = await reader.AskAsync(address);
            var heading = Heading().Match(await response.TextAsync()).Groups["heading"].Value;
            var expected = address == "/nowhere" ? 404
                : least is null ? 200
                : role is null ? SignInAsked
                : least > role ? 403
                // Who grades may hand in for a student, but a draft is the student's own.
                : address.EndsWith("/hand-in", StringComparison.Ordinal) && role > Role.Student ? 404
                // What somebody typed from a book is theirs; here it is the administrator's.
                : address.StartsWith("/verification/readings/", StringComparison.Ordinal) && role == Role.Instructor ? 404
                : 200;
            var found = response.Status == 200 && heading == "Sign in" && address != "/sign-in" ? SignInAsked : response.Status;
            _ = expected == 200 ? opened++ : refused++;
            if (found != expected || heading.Length == 0)
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
        await reader.ComeSignedInAsync((await shown.Service.KeyAsync(Role.Student)).Key);
        foreach (var (address, _) in shown.Views.Where(view => view.Address.StartsWith("/courses/", StringComparison.Ordinal)))
        {
            var answered = (await reader.AskAsync(address)).Status;
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

    [Fact]
    public async Task WhatTheTableCoversIsReachedFromTheTableAndSaidInFull()
    {
        using var administrator = shown.Service.Administrator();
        var coverage = await administrator.Table.GetCoverageAsync(null, TestContext.Current.CancellationToken);
        await using var reader = await shown.SignedInAsync(browser);
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
        await using var reader = await shown.SignedInAsync(browser);
        var grading = shown.Views.Single(view => view.Address.Contains("/gradings/", StringComparison.Ordinal) && view.Address.Split('/').Length == 5).Address;
        await reader.OpenAsync(grading);
        Assert.StartsWith("Grading 1, ", await reader.HeadingAsync(), StringComparison.Ordinal);
        Assert.StartsWith("Grading 2, ", await reader.Page.Locator("#other option").First.InnerTextAsync(), StringComparison.Ordinal);
        await reader.OpenAsync(string.Join('/', grading.Split('/')[..3]));
        Assert.Equal(["Grading 2", "Grading 1"], (await reader.Page.Locator("th a[href*='/gradings/']").AllInnerTextsAsync()).Select(name => name.Split(',')[0]));
    }

    // By itself: what others do meanwhile would stand in the log too.
    [Fact(DisableParallelization = true)]
    public async Task TheAuditLogIsSearchedByWhoWhatAndWhereto()
    {
        var gone = TestContext.Current.CancellationToken;
        using var administrator = shown.Service.Administrator();
        var all = await administrator.Audit.ListAsync(new AuditQuery(), gone).ToListAsync(gone);
        var release = all.First(entry => entry.Action == "proposal.release");
        await using var reader = await shown.SignedInAsync(browser);
        foreach (var (label, value, isSo) in new (string, string, Func<AuditItem, bool>)[]
        {
            ("What", release.Action, entry => entry.Action == release.Action),
            ("To", release.Resource, entry => entry.Resource == release.Resource),
            ("By", release.Actor, entry => entry.Actor == release.Actor),
        })
        {
            await reader.OpenAsync("/audit");
            await reader.FillAsync(label, value);
            await reader.PressAsync("Search");
            var expected = all.Where(isSo).ToList();
            Assert.True(expected.Count < all.Count);
            Assert.Equal(
                expected.Take(100).Select(entry => entry.Sequence.ToString(System.Globalization.CultureInfo.InvariantCulture)),
                await reader.Page.Locator("main td[data-label='No.']").AllInnerTextsAsync());
        }

        await reader.FillAsync("What", "nothing.of-the-kind");
        await reader.PressAsync("Search");
        Assert.Contains("No entry fits.", await reader.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task GradingsAreComparedAndDownloadedAsTheServiceHasThem()
    {
        var gone = TestContext.Current.CancellationToken;
        var address = shown.Views.Single(view => view.Address.Contains("/comparison?other=", StringComparison.Ordinal)).Address;
        var parts = address.Split('/', '?');
        var (course, grading, other) = (parts[2], parts[4], address.Split("other=")[1]);
        using var instructor = shown.Service.ClientWith(shown.KeyOf(Role.Instructor));
        var comparison = await instructor.Grades.CompareAsync(course, other, grading, gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync($"/courses/{course}/gradings/{grading}");
        await reader.PressAsync("Compare");
        Assert.StartsWith($"{Figure.Count(comparison.Compared, "report")} stand in both;", (await reader.Page.Locator("main > p").Nth(1).InnerTextAsync()).Trim(), StringComparison.Ordinal);
        Assert.Equal(comparison.Items.Count, await reader.Page.Locator("main tbody tr").CountAsync());

        await reader.OpenAsync($"/courses/{course}/gradings/{grading}");
        await SameAsync("Every criterion as CSV", instructor.Grades.ExportAsync(course, grading, gone));
        await SameAsync("Gradebook as CSV", instructor.Grades.ExportGradebookAsync(course, grading, gone));

        async Task SameAsync(string link, Task<Stream> export)
        {
            var download = await reader.Page.RunAndWaitForDownloadAsync(() => reader.Page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = link }).ClickAsync());
            await using var expected = await export;
            using var whole = new MemoryStream();
            await expected.CopyToAsync(whole, gone);
            Assert.Equal(whole.ToArray(), await File.ReadAllBytesAsync(await download.PathAsync(), gone));
            Assert.NotEqual(0, whole.Length);
        }
    }

    [GeneratedRegex("<main\\b.*?<h1\\b[^>]*>(?<heading>.*?)</h1>", RegexOptions.Singleline)]
    private static partial Regex Heading();
}
