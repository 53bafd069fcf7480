using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Curation.Readings;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Page.Tests;

/// <summary>A curator with a book before them. Book and page are made up for the test; what it prints is the table's own or plainly not.</summary>
public sealed class VerificationTests(BrowserFixture browser, PostgreSqlServer server) : IAsyncLifetime
{
    private const string Book = "made-up-book";
    private const string Citation = "A book made up for this test (invented)";
    private const string Kind = "2-4-dinitrophenylhydrazone";
    private const string KindName = "2,4-dinitrophenylhydrazone";
    private const int Page = 40;

    private readonly FreshPage _fresh = new(server);

    private static CancellationToken Gone => TestContext.Current.CancellationToken;

    private PageUnderTest Service => _fresh.Service;

    public async ValueTask InitializeAsync()
    {
        await _fresh.InitializeAsync();
        using var author = Service.ClientWith((await Service.KeyAsync(Role.Instructor)).Key);
        using var reviewer = Service.ClientWith((await Service.KeyAsync(Role.Instructor)).Key);
        var book = JsonSerializer.SerializeToElement(
            new Source(Book, Citation, null, SourceGrade.Compiled, Book, SourceReading.PageRead), WireJson.Options);
        var proposal = await author.Proposals.CreateAsync(new ProposalRequest { Title = "A made-up book (invented)" }, null, null, Gone);
        proposal = await author.Proposals.SubmitAsync(await author.Proposals.PutRecordAsync(proposal, "sources", Book, book, null, Gone), null, Gone);
        await reviewer.Proposals.ReleaseAsync(await reviewer.Proposals.ApproveAsync(proposal, null, Gone), null, Gone);
    }

    public ValueTask DisposeAsync() => _fresh.DisposeAsync();

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    [InlineData(Way.Keyboard)]
    public async Task PageOfFortyValuesIsVerifiedInFortyFiveInteractions(Way way)
    {
        await using var curator = await Reader.SitDownAsync(browser, Service.Address, way);
        await curator.ComeSignedInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        using var client = Service.Administrator();
        var page = await PrintedAsync(client);
        await curator.OpenAsync("/verification");
        var before = curator.Interactions;

        await curator.ChooseAsync("The book", Citation);
        await curator.TickAsync(KindName);
        await curator.PressAsync("Lay out the sheet");
        await curator.FillAsync("Page, table or entry", "p. 212");
        foreach (var (label, printed) in page)
        {
            await curator.FillAsync(label, printed);
        }

        await curator.PressAsync("Send the sheet");

        Assert.Equal("What became of the sheet", await curator.HeadingAsync());
        Assert.InRange(curator.Interactions - before, Page, 45);
        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{way}: {curator.Interactions - before} interactions"));
        var text = await curator.TextAsync();
        Assert.Contains("40 lines typed from made-up-book, p. 212", text, StringComparison.Ordinal);
        Assert.Contains("37 agrees, 2 differs, 1 not printed there", text, StringComparison.Ordinal);
        await curator.FollowAsync("a proposal");
        Assert.Contains("Read in " + Citation, await curator.HeadingAsync(), StringComparison.Ordinal);

        // The next sheet goes on where this one ended, into the same draft.
        await curator.Page.GoBackAsync();
        await curator.FollowAsync("The next sheet");
        Assert.Equal(Page, await LabelsOf(curator).CountAsync());
        Assert.DoesNotContain(page[0].Label, await LabelsOf(curator).AllInnerTextsAsync());
        var progress = Assert.Single((await client.Verification.GetProgressAsync(Gone)).Sources);
        Assert.Equal((Book, Page, 37, 2, 1), (progress.SourceKey, progress.Read, progress.Agrees, progress.Differs, progress.NotPrinted));
    }

    [Fact]
    public async Task SheetShowsNothingOfOursAndLosesNothingTyped()
    {
        await using var curator = await Reader.SitDownAsync(browser, Service.Address);
        await curator.ComeSignedInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        using var client = Service.Administrator();
        var page = await PrintedAsync(client);
        await curator.OpenAsync($"/verification/sheet?sourceKey={Book}&kinds={Kind}");
        var html = await curator.Page.ContentAsync();
        var shown = Regex.Matches(await curator.Page.Locator(".lines-typed").InnerTextAsync(), @"(?<![\w,(-])\d{2,3}(?![\w,)-])").Select(figure => figure.Value);

        Assert.DoesNotContain(shown, figure => page.Exists(line => line.Printed.Contains(figure, StringComparison.Ordinal)));
        Assert.All(await curator.Page.Locator(".lines-typed input").EvaluateAllAsync<string[]>("fields => fields.map(field => field.value)"), Assert.Empty);
        foreach (var word in new[] { "recalled", "cross-checked", "handbooks", "orange-red" })
        {
            Assert.DoesNotContain(word, html, StringComparison.OrdinalIgnoreCase);
        }

        await curator.FillAsync(page[0].Label, "about a hundred");
        await curator.FillAsync(page[1].Label, page[1].Printed);
        await curator.FillAsync(page[2].Label, "120-110");
        await curator.PressAsync("Send the sheet");
        Assert.Contains("2 things to put right", await curator.TextAsync(), StringComparison.Ordinal);
        Assert.Equal(page[1].Printed, await curator.Page.GetByLabel(page[1].Label, new() { Exact = true }).InputValueAsync());
        await curator.FillAsync(page[0].Label, "-");
        await curator.FillAsync(page[2].Label, page[2].Printed);
        await curator.PressAsync("Send the sheet");
        Assert.Equal("What became of the sheet", await curator.HeadingAsync());
    }

    [Fact]
    public async Task WhatIsMostWorthCheckingIsListedAndTypedFromABook()
    {
        await using var curator = await Reader.SitDownAsync(browser, Service.Address);
        await curator.ComeSignedInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        using var client = Service.Administrator();
        var first = (await client.Verification.GetWorthCheckingAsync(new WorthQuery { Limit = 3 }, Gone)).Lines;
        await curator.OpenAsync("/verification");
        await curator.FollowAsync("What is most worth checking");
        var rows = await curator.Page.Locator("tbody tr").AllInnerTextsAsync();
        Assert.Equal(WorthQuery.DefaultLines, rows.Count);
        Assert.Contains(first[0].Name, rows[0], StringComparison.Ordinal);
        await curator.FollowAsync("for the shelves of your courses with unknowns handed out");
        Assert.Contains("Nothing can be said", await curator.TextAsync(), StringComparison.Ordinal);

        await curator.FollowAsync("Verification desk");
        await curator.Page.GetByLabel("The book").SelectOptionAsync(Book);
        await curator.FillAsync("Only the first so many most worth checking (may be empty)", "3");
        await curator.PressAsync("Lay out the sheet");
        Assert.Equal(3, await curator.Page.Locator(".lines-typed input").CountAsync());
    }

    [Fact]
    public async Task EnterGoesToTheNextLineAndFromTheLastToTheButton()
    {
        await using var curator = await Reader.SitDownAsync(browser, Service.Address);
        await curator.ComeSignedInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await curator.OpenAsync($"/verification/sheet?sourceKey={Book}&kinds={Kind}");
        var fields = curator.Page.Locator("form.typed input[type=text]");
        await fields.First.FocusAsync();
        for (var line = 1; line < await fields.CountAsync(); line++)
        {
            await curator.Page.Keyboard.PressAsync("Enter");
            Assert.True(await fields.Nth(line).EvaluateAsync<bool>("field => field === document.activeElement"));
        }

        await curator.Page.Keyboard.PressAsync("Enter");
        Assert.Equal("Send the sheet", await curator.Page.EvaluateAsync<string>("() => document.activeElement.textContent"));
    }

    [Fact]
    public async Task SheetIsFilledInElsewhereAndSentBack()
    {
        await using var curator = await Reader.SitDownAsync(browser, Service.Address, Way.NoScript);
        await curator.ComeSignedInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await curator.OpenAsync($"/verification/sheet?sourceKey={Book}&kinds={Kind}");
        var download = await curator.Page.RunAndWaitForDownloadAsync(() =>
            curator.Page.GetByRole(Microsoft.Playwright.AriaRole.Link, new() { Name = "Take these lines away as a CSV file" }).ClickAsync());
        var rows = (await File.ReadAllLinesAsync((await download.PathAsync())!, Gone)).ToList();
        Assert.Equal(Page + 1, rows.Count);
        var wrong = string.Join('\n', [rows[0], rows[1] + "x", rows[2][..^2] + ",soon,"]);
        await SendAsync(wrong);
        Assert.Contains("Line 3, as_printed", await curator.TextAsync(), StringComparison.Ordinal);
        await SendAsync(string.Join('\n', [rows[0], rows[1], rows[2][..^2] + ",-,"]));

        Assert.Contains("1 line typed from made-up-book, page of the file", await curator.TextAsync(), StringComparison.Ordinal);

        async Task SendAsync(string text)
        {
            await curator.FillAsync("Where its values are printed", "page of the file");
            await curator.ChooseFileAsync("The file", "sheet.csv", "text/csv", System.Text.Encoding.UTF8.GetBytes(text));
            await curator.PressAsync("Send the file");
        }
    }

    private static Microsoft.Playwright.ILocator LabelsOf(Reader curator) => curator.Page.Locator(".lines-typed label");

    // What the made-up page prints: the values that the table has, but for two that differ and one that is missing.
    private static async Task<List<(string Label, string Printed)>> PrintedAsync(DerividClient client)
    {
        var lines = await client.Verification.GetSheetAsync(new SheetQuery { SourceKey = Book, Kinds = Kind, Order = SheetOrder.Name }, Gone);
        var records = await client.Table.ListDerivativesAsync(new DerivativeQuery { Kind = Kind }, Gone).ToDictionaryAsync(row => row.Key, row => row.AsPrinted!, cancellationToken: Gone);
        return [.. lines.Items.Select((line, i) => (
            $"{line.Name}, {line.Formula}{(line.CarbonylsCondensed > 1 ? ", of both carbonyl groups" : "")}{(line.Form is null ? "" : $", form {line.Form}")}",
            i switch { 7 => "301-302", 19 => "299 dec.", 30 => "-", _ => records[line.Key] }))];
    }
}
