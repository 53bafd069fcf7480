using Derivid.Contracts;
using Derivid.Core.Teaching;

namespace Derivid.Page.Tests;

/// <summary>What people come to do, each by mouse, without scripts and by keyboard alone, its interactions counted. What releases a table: see <see cref="ReleaseTests"/>.</summary>
public sealed class JourneyTests(BrowserFixture browser, FreshPage fresh) : IClassFixture<FreshPage>
{
    private const string Dnp = "2-4-dinitrophenylhydrazone";

    private PageUnderTest Service => fresh.Service;

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    [InlineData(Way.Keyboard)]
    public async Task SomebodyGetsAFirstAnswer(Way way)
    {
        await using var reader = await SitDownAsync(way);
        await reader.OpenAsync("/");
        await reader.FillAsync("Melting range", "236-238");
        await reader.TickAsync("orange-red");
        await reader.PressAsync("What is it?");

        Assert.StartsWith("It is", await reader.HeadingAsync());
        Assert.Contains("benzaldehyde", await reader.TextAsync(), StringComparison.Ordinal);
        // All that was done: a range entered, a colour ticked, a button pressed.
        Assert.InRange(reader.Interactions, 1, 6);

        // The answer has an address of its own, and says the same when it is opened again.
        var heading = await reader.HeadingAsync();
        await reader.Page.ReloadAsync();
        Assert.Equal(heading, await reader.HeadingAsync());
    }

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    [InlineData(Way.Keyboard)]
    public async Task StudentHandsInAndReadsTheGrade(Way way)
    {
        var gone = TestContext.Current.CancellationToken;
        var key = await Service.KeyAsync(Role.Student);
        using var instructor = Service.Administrator();
        var course = await instructor.Courses.CreateAsync(
            new CourseRequest { Name = "Invented bench", ShelfList = ["benzaldehyde", "cyclohexanone"], DerivativeKinds = [Dnp], SpotTests = ["tollens"] }, null, gone);
        await instructor.Courses.PutRosterAsync(
            await instructor.Courses.GetAsync(course.Id, gone), [new RosterStudent { Student = "s-1", Actor = "key:" + key.Details.Id }], cancellationToken: gone);
        await instructor.Courses.HandOutAsync(course.Id, new HandOutRequest(), null, gone);

        await using var student = await SitDownAsync(way);
        await student.SignInAsync(key.Key);
        await student.FollowAsync("Courses");
        await student.FollowAsync("Invented bench");
        await student.FollowAsync("Write your report");
        await student.FillAsync("Melting range", "236-238");
        await student.ChooseAsync("Crystals", "recrystallised");
        await student.PressAsync("Save the draft");
        Assert.DoesNotContain("You had typed something else", await student.TextAsync(), StringComparison.Ordinal);
        await student.ChooseAsync("It is", "benzaldehyde");
        await student.FillAsync("How it follows from what you saw", "The crystals melt where its derivative does.");
        await student.PressAsync("Hand it in");
        Assert.Contains("can’t be changed", await student.TextAsync(), StringComparison.Ordinal);
        await student.PressAsync("Hand it in for good");

        Assert.Contains("is handed in", await student.TextAsync(), StringComparison.Ordinal);
        // Signing in is counted, saving a draft between too.
        Assert.InRange(student.Interactions, 1, 15);

        // It can be read by who wrote it, though this course shows no ranking.
        await student.FollowAsync("Read it", exact: false);
        Assert.Contains("The crystals melt where its derivative does.", await student.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("236–238 °C", await student.TextAsync(), StringComparison.Ordinal);
        await student.OpenAsync($"/courses/{course.Id}/mine");

        var started = await instructor.Grades.StartAsync(course.Id, null, null, gone);
        await instructor.Grades.FollowAsync(course.Id, started.Id, gone).LastAsync(gone);
        await using var grader = await SitDownAsync(way);
        var assistant = await Service.KeyAsync(Role.Grader);
        await instructor.Courses.AddStaffAsync(course.Id, "key:" + assistant.Details.Id, gone);
        await grader.SignInAsync(assistant.Key);
        await grader.OpenAsync($"/courses/{course.Id}/gradings/{started.Id}");
        await grader.FollowAsync("Change by hand", exact: false);
        await grader.ChooseAsync("What for", "Range width, up to 4");
        await grader.FillAsync("Points", "9");
        await grader.PressAsync("Change it");
        Assert.Contains("from 0 to 4 are", await grader.TextAsync(), StringComparison.Ordinal);
        await grader.FillAsync("Points", "1.5");
        await grader.FillAsync("Why, or the comment", "I saw the thermometer stick.");
        await grader.PressAsync("Change it");
        await UntilAsync(grader, "What was changed");
        Assert.Contains("I saw the thermometer stick.", await grader.TextAsync(), StringComparison.Ordinal);

        Assert.Contains("not published", await student.TextAsync(), StringComparison.Ordinal);
        await instructor.Grades.PublishAsync(await instructor.Courses.GetAsync(course.Id, gone), started.Id, cancellationToken: gone);
        await student.OpenAsync($"/courses/{course.Id}/mine");
        Assert.Contains("of 34 points", await student.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("Given by hand", await student.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("I saw the thermometer stick.", await student.TextAsync(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    [InlineData(Way.Keyboard)]
    public async Task InstructorRunsACourseFromNothingToPublishedGrades(Way way)
    {
        var gone = TestContext.Current.CancellationToken;
        var first = await Service.KeyAsync(Role.Student);
        await using var instructor = await SitDownAsync(way);
        await instructor.SignInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await instructor.FollowAsync("Courses");
        await instructor.FollowAsync("Make a course");
        await instructor.FillAsync("Name", "Forty students (invented)");
        await instructor.FillAsync("What can be in the vials", "benzaldehyde\ncyclohexanone\nacetophenone\nhexanal\n2-butanone\n4-methoxybenzaldehyde");
        await instructor.TickAsync("semicarbazone");
        await instructor.TickAsync("The boiling point is taken");
        await instructor.PressAsync("Make it");
        await instructor.FillAsync("Students", string.Join('\n', Enumerable.Range(1, 40).Select(n => $"s-{n:00}\t{(char)('A' + ((n - 1) / 10))}\t{n}\t\t{(n == 1 ? "key:" + first.Details.Id : "")}")));
        await instructor.PressAsync("Keep this roster");
        await instructor.PressAsync("Hand out to 40 students");
        await instructor.FollowAsync("Labels to print");

        Assert.Equal(40, await instructor.Page.Locator(".labels li").CountAsync());
        // Signing in is counted; the roster is pasted as one text.
        Assert.InRange(instructor.Interactions, 1, 20);

        var course = instructor.Page.Url.Split('/')[4];
        // Reports come by the interface, so that they count for nothing here: the first student's own, and the others' but two.
        using var student = Service.ClientWith(first.Key);
        using var grader = Service.Administrator();
        var own = (await student.Courses.ListAssignmentsAsync(course, false, gone).SingleAsync(gone)).Code;
        var handedOut = await grader.Courses.ListAssignmentsAsync(course, true, gone).ToListAsync(gone);
        foreach (var (number, unknown) in handedOut.Take(38).Index())
        {
            // Every third claims what it is not.
            var claim = number % 3 == 0 ? handedOut.Select(other => other.Parent!).First(other => other != unknown.Parent) : unknown.Parent;
            await (unknown.Code == own ? student : grader).Reports.CreateAsync(course, new ReportRequest { Assignment = unknown.Code, ClaimedParent = claim }, null, gone);
        }

        var before = instructor.Interactions;
        await instructor.FollowAsync("Courses");
        await instructor.FollowAsync("Forty students (invented)");
        await instructor.PressAsync("Grade every report that counts");
        await UntilAsync(instructor, "38 reports graded");
        Assert.Equal(38, await instructor.Page.Locator("tbody tr").CountAsync());
        Assert.True(
            (await instructor.Page.Locator("tbody td[data-label=Points]").AllInnerTextsAsync()).Distinct().Count() > 1, "Right and wrong claims got the same points.");
        await instructor.FollowAsync("Let students see these grades");
        Assert.Contains("2 reports missing", await instructor.TextAsync(), StringComparison.Ordinal);
        await instructor.PressAsync("Publish them");

        Assert.Contains("Students see these grades.", await instructor.TextAsync(), StringComparison.Ordinal);
        Assert.NotNull((await student.Grades.ListAsync(course, null, "s-01", gone).SingleAsync(gone)).Total);
        Assert.InRange(instructor.Interactions - before, 1, 10);
    }

    [Fact]
    public async Task NewRecordBeginsWithWhatItsAddressSaysAndWhatIsUsual()
    {
        await using var curator = await SitDownAsync(Way.NoScript);
        await curator.SignInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await curator.OpenAsync("/records/derivatives?parentKey=cyclohexanone");

        Assert.Equal("cyclohexanone", await HeldAsync("Compound"));
        Assert.Equal("", await HeldAsync("Melts from, °C"));
        Assert.Equal("1", await HeldAsync("Carbonyl groups that reacted"));
        Assert.Equal("false", await HeldAsync("Does it decompose as it melts?"));
        Assert.Equal("read", await HeldAsync("How far it was followed back"));
        Assert.Equal("cyclohexanone", (await curator.Page.Locator("#list-parent_key option[value=cyclohexanone]").TextContentAsync())!.ToLowerInvariant());
        Assert.NotEqual(0, await curator.Page.Locator("#list-colour_key option").CountAsync());

        Task<string> HeldAsync(string label) => curator.Page.GetByLabel(label, new() { Exact = true }).InputValueAsync();
    }

    [Fact]
    public async Task ChangeThatBreaksARuleStaysADraftAndSaysWhich()
    {
        using var administrator = Service.Administrator();
        var row = await administrator.Table.ListDerivativesAsync(new DerivativeQuery { Parent = "cyclohexanone", Kind = Dnp }, TestContext.Current.CancellationToken)
            .FirstAsync(TestContext.Current.CancellationToken);
        await using var curator = await SitDownAsync(Way.NoScript);
        await curator.SignInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await curator.OpenAsync("/records/derivatives/" + row.Key);
        await curator.FillAsync("Source", "nowhere");
        await curator.PressAsync("Propose it and hand it in");

        Assert.Contains("It is kept as a draft, and not handed in", await curator.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("In the way:", await curator.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task ProposalIsGivenAnotherTitleAndTheVersionsAreDownloaded()
    {
        var gone = TestContext.Current.CancellationToken;
        using var administrator = Service.Administrator();
        var proposal = await administrator.Proposals.CreateAsync(new ProposalRequest { Title = "Called so at first (invented)", Reason = "p. 1" }, null, null, gone);
        await using var curator = await SitDownAsync(Way.NoScript);
        await curator.SignInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await curator.OpenAsync("/proposals/" + proposal.Id);
        await curator.UnfoldAsync("Say otherwise what it is about");
        await curator.FillAsync("What it is about", "Called otherwise (invented)");
        await curator.PressAsync("Change it");
        Assert.Equal("Called otherwise (invented)", await curator.HeadingAsync());
        Assert.Equal(("Called otherwise (invented)", "p. 1"), ((await administrator.Proposals.GetAsync(proposal.Id, gone)).Title, (await administrator.Proposals.GetAsync(proposal.Id, gone)).Reason));

        await curator.FollowAsync("Curation");
        foreach (var (name, file, format) in new[] { ("CSV files of version 1", "table-version-1.zip", Client.ExportFormat.Csv), ("JSON of version 1", "table-version-1.json", Client.ExportFormat.Json) })
        {
            var download = await curator.Page.RunAndWaitForDownloadAsync(() => curator.Page.GetByRole(Microsoft.Playwright.AriaRole.Link, new() { Name = name, Exact = true }).ClickAsync());
            Assert.Equal(file, download.SuggestedFilename);
            await using var whole = await administrator.Table.ExportAsync(1, null, format, gone);
            using var expected = new MemoryStream();
            await whole.CopyToAsync(expected, gone);
            Assert.Equal(expected.ToArray(), await File.ReadAllBytesAsync(await download.PathAsync(), gone));
        }
    }

    // A reviewer hands it back with a word, its author takes one change back and hands it in anew, and later the table goes back.
    [Fact]
    public async Task WhoWroteAProposalCanNotApproveIt()
    {
        var gone = TestContext.Current.CancellationToken;
        var key = await Service.KeyAsync(Role.Instructor);
        using var author = Service.ClientWith(key.Key);
        var source = System.Text.Json.JsonSerializer.SerializeToElement(
            new Core.Compounds.Source("invented", "An invented source.", null, Core.Compounds.SourceGrade.Estimated, "invented", Core.Compounds.SourceReading.None), WireJson.Options);
        var proposal = await author.Proposals.PutRecordAsync(
            await author.Proposals.CreateAsync(new ProposalRequest { Title = "A source (invented)" }, null, null, gone), "sources", "invented", source, null, gone);
        await author.Proposals.SubmitAsync(proposal, null, gone);
        await using var reader = await SitDownAsync(Way.Mouse);
        await reader.SignInAsync(key.Key);
        await reader.OpenAsync("/proposals/" + proposal.Id);
        Assert.False(await reader.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Approve it" }).IsVisibleAsync());
        Assert.Contains(key.Details.Name, await reader.TextAsync(), StringComparison.Ordinal);
        await reader.UnfoldAsync("Where one person curates alone");
        await reader.PressAsync("Approve it");
        Assert.Contains("You had a hand in this proposal", await reader.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task CuratorGivesAProposalUpOnlyWhenAskedTwice()
    {
        var gone = TestContext.Current.CancellationToken;
        using var administrator = Service.Administrator();
        var proposal = await administrator.Proposals.CreateAsync(new ProposalRequest { Title = "Not worth it (invented)" }, null, null, gone);
        await using var curator = await SitDownAsync(Way.NoScript);
        await curator.SignInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await curator.OpenAsync("/proposals/" + proposal.Id);
        await curator.FollowAsync("Give it up");
        Assert.Equal(Core.Curation.ProposalState.Draft, (await administrator.Proposals.GetAsync(proposal.Id, gone)).State);
        await curator.PressAsync("Give it up for good");
        Assert.Equal(Core.Curation.ProposalState.Withdrawn, (await administrator.Proposals.GetAsync(proposal.Id, gone)).State);
    }

    [Fact]
    public async Task ImportMeantForWhatWasSeenGoesOverNobodysChange()
    {
        var gone = TestContext.Current.CancellationToken;
        using var administrator = Service.Administrator();
        var proposal = await administrator.Proposals.CreateAsync(new ProposalRequest { Title = "A file too late (invented)" }, null, null, gone);
        await using var curator = await SitDownAsync(Way.Mouse);
        await curator.SignInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await curator.OpenAsync($"/proposals/{proposal.Id}/import");
        var colour = System.Text.Json.JsonSerializer.SerializeToElement(new { key = "plaid", name = "plaid", rank = 7, synonyms = Array.Empty<string>() }, WireJson.Options);
        await administrator.Proposals.PutRecordAsync(proposal, "colours", "plaid", colour, null, gone);
        await curator.ChooseAsync("Its rows belong to", "colours");
        await curator.ChooseFileAsync("The file", "colours.csv", "text/csv", "key,name,rank,synonyms\nplaid,tartan,7,\n"u8.ToArray());
        await curator.PressAsync("Send it");
        Assert.Contains("Somebody changed this meanwhile", await curator.TextAsync(), StringComparison.Ordinal);

        await curator.ChooseFileAsync("The file", "colours.csv", "text/csv", "key,name,rank,synonyms\nplaid,tartan,7,\n"u8.ToArray());
        await curator.PressAsync("Send it");
        await UntilAsync(curator, "It was read to its end");
    }

    [Fact]
    public async Task CuratorAddsACompoundAsItIsTyped()
    {
        await using var curator = await SitDownAsync(Way.Mouse);
        await curator.SignInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await curator.OpenAsync("/compounds/new");
        await curator.FillAsync("Name", "4-(invented)benzaldehyde");
        await curator.FillAsync("Structure as SMILES", "O=Cc1ccc(CCCCCC");
        await curator.Page.Locator("#checked .fault").WaitForAsync();
        await curator.FillAsync("Structure as SMILES", "O=Cc1ccc(CCCCCCCCC)cc1");
        await curator.Page.GetByText("C16H24O").WaitForAsync();
        await curator.FillAsync("CAS number", "50-00-0");
        await curator.PressAsync("Propose to add it");

        Assert.Contains("C16H24O", await curator.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("is added", await curator.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task CuratorImportsAFileAndReadsEveryFault()
    {
        await using var curator = await SitDownAsync(Way.Mouse);
        await curator.SignInAsync((await Service.KeyAsync(Role.Instructor)).Key);
        await curator.OpenAsync("/proposals");
        await curator.FillAsync("What it is about", "A file (invented)");
        await curator.PressAsync("Make it");
        await curator.FollowAsync("import a file");
        await curator.ChooseAsync("Its rows belong to", "colours");
        await curator.ChooseFileAsync("The file", "colours.csv", "text/csv", "key,name,rank,synonyms\nplaid,plaid,,\nstriped,,x,\n"u8.ToArray());
        await curator.PressAsync("Send it");
        await UntilAsync(curator, "What is wrong with it");

        Assert.Contains("rank", await curator.TextAsync(), StringComparison.Ordinal);
        await curator.FollowAsync("Send it again, mended");
        await curator.ChooseAsync("Its rows belong to", "colours");
        await curator.ChooseAsync("What to do", "take its rows into the proposal");
        await curator.ChooseFileAsync("The file", "colours.csv", "text/csv", "key,name,rank,synonyms\nplaid,plaid,,\n"u8.ToArray());
        await curator.PressAsync("Send it");
        await UntilAsync(curator, "It was read to its end");
        await curator.FollowAsync("The proposal");
        Assert.Contains("plaid is added", await curator.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task AdministratorMakesAndRevokesAKey()
    {
        await using var administrator = await SitDownAsync(Way.Mouse);
        await administrator.SignInAsync((await Service.KeyAsync(Role.Administrator)).Key);
        await administrator.FollowAsync("Keys");
        await administrator.FillAsync("Whom or what it is for", "a bench (invented)");
        await administrator.ChooseAsync("What its holder may do", "Grader");
        await administrator.PressAsync("Make it");
        var key = await administrator.Page.Locator(".warning code").InnerTextAsync();
        using var made = Service.ClientWith(key);
        Assert.Equal(Role.Grader, (await made.Keys.GetCurrentAsync(TestContext.Current.CancellationToken)).Role);

        await administrator.FollowAsync("Revoke the key for a bench (invented)");
        Assert.Equal(Role.Grader, (await made.Keys.GetCurrentAsync(TestContext.Current.CancellationToken)).Role);
        await administrator.PressAsync("Revoke it for good");
        await Assert.ThrowsAsync<Client.DerividException>(() => made.Keys.GetCurrentAsync(TestContext.Current.CancellationToken));
        await administrator.FollowAsync("Audit");
        Assert.Contains("key.revoke", await administrator.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task AdministratorMakesTheKeysOfAClass()
    {
        var gone = TestContext.Current.CancellationToken;
        await using var administrator = await SitDownAsync(Way.NoScript);
        await administrator.SignInAsync((await Service.KeyAsync(Role.Administrator)).Key);
        await administrator.FollowAsync("Keys");
        await administrator.FollowAsync("keys for a class");
        await administrator.FillAsync("Whom they are for", "s-1\ns-2\ns-1");
        await administrator.PressAsync("Make them");
        Assert.Contains("“s-1” stands there 2 times", await administrator.TextAsync(), StringComparison.Ordinal);

        var tooLong = new string('x', 300);
        await administrator.FillAsync("Whom they are for", $"s-1\n{tooLong}\ns-2");
        await administrator.PressAsync("Make them");
        Assert.Equal("1 key made", await administrator.HeadingAsync());
        Assert.Equal($"{tooLong}\ns-2", await administrator.Page.GetByLabel("Whom they are for").InputValueAsync());

        await administrator.FillAsync("Whom they are for", string.Join('\n', Enumerable.Range(2, 30).Select(n => $"s-{n}")));
        await administrator.PressAsync("Make them");
        Assert.Equal("30 keys made", await administrator.HeadingAsync());
        var keys = await administrator.Page.Locator(".keys code").AllInnerTextsAsync();
        Assert.Equal(30, keys.Distinct().Count());
        using var student = Service.ClientWith(keys[0]);
        Assert.Equal(Role.Student, (await student.Keys.GetCurrentAsync(gone)).Role);

        // The lines for the roster are taken by a roster as they are.
        using var instructor = Service.Administrator();
        var course = await instructor.Courses.CreateAsync(new CourseRequest { Name = "With keys (invented)", ShelfList = ["hexanal"] }, null, gone);
        var lines = await administrator.Page.GetByLabel("Student, bench, place, neighbours, actor").InputValueAsync();
        await instructor.Courses.PutRosterAsync(await instructor.Courses.GetAsync(course.Id, gone), lines, cancellationToken: gone);
        Assert.Equal("With keys (invented)", (await student.Courses.GetAsync(course.Id, gone)).Value.Name);
    }

    private Task<Reader> SitDownAsync(Way way) => Reader.SitDownAsync(browser, Service.Address, way);

    private static async Task UntilAsync(Reader reader, string text)
    {
        try
        {
            await reader.Page.Locator("main").GetByText(text).First.WaitForAsync();
        }
        catch (TimeoutException)
        {
            Assert.Fail($"Nowhere \"{text}\" in: {await reader.TextAsync()}");
        }
    }
}
