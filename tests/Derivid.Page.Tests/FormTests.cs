using System.Collections.Concurrent;
using System.IO.Compression;
using System.Net;
using System.Text;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Testing;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>What forms do when something is wrong with what was typed, with who sent it, or with the service.</summary>
public sealed class FormTests(BrowserFixture browser, ShownPage shown, PostgreSqlServer server) : IClassFixture<ShownPage>
{
    private static readonly string[] Entered = ["± 3 °C", "25 min of work", "candidates shown", "80 °C of scale", "crystals", "came within an hour", "mixed with authentic 2,4-dinitrophenylhydrazone of benzaldehyde", "the authentic sample alone 237–239 °C"];

    [Fact]
    public async Task FaultsStandAtTheirFieldsAllAtOnceAndNothingTypedIsLost()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/");
        await reader.FillAsync("Melting range", "hot");
        await reader.FillAsync("Boiling range", "300-200");
        await reader.FillAsync("at a pressure of", "much");
        await reader.PressAsync("What is it?");

        var faults = reader.Page.Locator(".faults li");
        Assert.Equal(3, await faults.CountAsync());
        foreach (var (label, called) in new[] { ("Melting range", "Derivative 1, Melting range"), ("Boiling range", "Boiling range"), ("at a pressure of", "at a pressure of") })
        {
            // Said at the top with the field's name, as a link to the field, which says the same itself.
            var fault = faults.Filter(new LocatorFilterOptions { HasText = called + ":" });
            var message = (await fault.InnerTextAsync())[(called.Length + 1)..].Trim();
            var field = reader.Page.GetByLabel(label, new PageGetByLabelOptions { Exact = true }).First;
            Assert.Equal("true", await field.GetAttributeAsync("aria-invalid"));
            Assert.Contains(message, await DescriptionAsync(field), StringComparison.Ordinal);
            Assert.EndsWith("#" + await field.GetAttributeAsync("id"), await fault.Locator("a").GetAttributeAsync("href"), StringComparison.Ordinal);
        }

        Assert.Equal("hot", await reader.Page.GetByLabel("Melting range", new PageGetByLabelOptions { Exact = true }).First.InputValueAsync());
        Assert.True(await reader.Page.Locator(".faults").First.EvaluateAsync<bool>("box => box === document.activeElement"));
    }

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    public async Task FaultsOfFurtherRowsNameTheirRowAndLeadToIt(Way way)
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, way);
        await reader.OpenAsync("/");
        await reader.FillAsync("Melting range", "236-238");
        await reader.UnfoldAsync("Another derivative");
        await reader.UnfoldAsync("And another");
        foreach (var row in new[] { 2, 3 })
        {
            await Range(row).FillAsync("warm");
        }

        await reader.UnfoldAsync("Thermometer");
        await reader.Page.GetByLabel("Standard 2", new PageGetByLabelOptions { Exact = true }).SelectOptionAsync(new SelectOptionValue { Index = 1 });
        await reader.Page.GetByLabel("Read, °C", new PageGetByLabelOptions { Exact = true }).Nth(1).FillAsync("much");
        await reader.PressAsync("What is it?");
        Assert.StartsWith("Standard 2, Read, °C: ", await reader.Page.Locator(".faults li").First.InnerTextAsync(), StringComparison.Ordinal);

        await reader.Page.GetByLabel("Read, °C", new PageGetByLabelOptions { Exact = true }).Nth(1).FillAsync("120");
        await reader.PressAsync("What is it?");
        var faults = reader.Page.Locator(".faults li");
        Assert.Equal(
            ["Derivative 2, Melting range", "Derivative 3, Melting range"],
            (await faults.AllInnerTextsAsync()).Select(text => text.Split(':')[0]).Where(text => text.StartsWith("Derivative", StringComparison.Ordinal)));
        foreach (var row in new[] { 2, 3 })
        {
            await faults.Filter(new LocatorFilterOptions { HasText = $"Derivative {row}," }).Locator("a").ClickAsync();
            Assert.True(await Range(row).EvaluateAsync<bool>("field => field === document.activeElement"));
        }

        ILocator Range(int row) => reader.Page.GetByRole(AriaRole.Group, new PageGetByRoleOptions { Name = $"Derivative {row}", Exact = true }).GetByLabel("Melting range");
    }

    [Fact]
    public async Task BackFromAnAnswerLeadsToWhatWasEntered()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/");
        await reader.FillAsync("Melting range", "236-238");
        await reader.PressAsync("What is it?");
        await reader.Page.GoBackAsync();
        await reader.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "What is it?" }).WaitForAsync();

        Assert.StartsWith("236", await reader.Page.GetByLabel("Melting range", new PageGetByLabelOptions { Exact = true }).First.InputValueAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task ChangingAnObservationKeepsAllThatTheServiceTakes()
    {
        var gone = TestContext.Current.CancellationToken;
        using var administrator = shown.Service.Administrator();
        var seen = new Contracts.IdentificationRequest
        {
            Derivatives =
            [
                new Contracts.DerivativeObserved { Kind = "2-4-dinitrophenylhydrazone", MeltingRange = "236-238", Colour = "orange-red", Preparation = Core.Observations.Preparation.Recrystallised, Time = Core.Observations.PrecipitateTime.Minutes },
                new Contracts.DerivativeObserved { Kind = "semicarbazone", Precipitate = Core.Observations.Precipitate.Oil },
                new Contracts.DerivativeObserved { Kind = "oxime", Precipitate = Core.Observations.Precipitate.Crystals },
            ],
            SpotTests = [new Contracts.SpotTestObserved { Test = "tollens", Outcome = Core.SpotTests.SpotTestOutcome.Positive }],
            State = Core.Observations.PhysicalState.Liquid,
            BoilingPoint = new Contracts.BoilingPointObserved { Range = "62-64", PressureKilopascals = 1.3 },
            MixedMeltings =
            [
                new Contracts.MixedMeltingObserved { Kind = "2-4-dinitrophenylhydrazone", Partner = "benzaldehyde", Range = "235-238", AuthenticRange = "237-239" },
                new Contracts.MixedMeltingObserved { Partner = "acetophenone", Range = "17-19" },
            ],
            MolarMass = new Contracts.MolarMassObserved { GramsPerMole = 106, UncertaintyGramsPerMole = 3 },
            Elements = new Contracts.ElementsObserved { Absent = [Core.Observations.DetectableElement.Nitrogen, Core.Observations.DetectableElement.Sulfur] },
            Thermometer = new Contracts.ThermometerDescribed
            {
                Standards = [.. await administrator.Table.ListStandardsAsync(null, gone).Where(standard => standard.ClearPointCelsius < 200).Take(5)
                    .Select(standard => new Contracts.StandardMelted { Standard = standard.Key, ReadCelsius = standard.ClearPointCelsius + 1 }).ToListAsync(gone)],
                Stem = new Contracts.StemExposed { ExposedCelsius = 80, StemCelsius = 40 },
            },
            WindowCelsius = 3,
            HazardMinutes = 25,
            MaximumCandidates = 7,
            TableVersion = 1,
            Prior = new Contracts.PriorDescribed { Weights = new Dictionary<string, double> { ["benzaldehyde"] = 3, ["2-butanone"] = 0.5 }, NoneOfThese = 0.2 },
        };
        Assert.Equal(5, seen.Thermometer.Standards.Count);
        foreach (var prior in new[] { seen.Prior, new Contracts.PriorDescribed { ShelfList = ["benzaldehyde", "2-butanone"] }, new Contracts.PriorDescribed { IsUniform = true } })
        {
            var first = await administrator.Identifications.IdentifyAsync(seen with { Prior = prior }, cancellationToken: gone);
            await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
            await reader.OpenAsync("/identifications/" + first.Id);
            var entered = await reader.Page.Locator("section[aria-labelledby=entered] dl").TextContentAsync();
            await reader.FollowAsync("Change or add to this");
            await reader.PressAsync("What is it?");

            var id = reader.Page.Url.Split('/')[^1];
            Assert.Equal(
                System.Text.Json.JsonSerializer.Serialize(await administrator.Identifications.GetObservationAsync(first.Id!, gone), Contracts.WireJson.Options),
                System.Text.Json.JsonSerializer.Serialize(await administrator.Identifications.GetObservationAsync(id, gone), Contracts.WireJson.Options));
            Assert.Equal(entered, await reader.Page.Locator("section[aria-labelledby=entered] dl").TextContentAsync());
            foreach (var entry in Entered.Append(prior.Weights is not null ? "benzaldehyde 3" : prior.ShelfList is not null ? "one of these" : "all are alike"))
            {
                Assert.Contains(entry, entered!, StringComparison.Ordinal);
            }
        }
    }

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    public async Task WhatWasTypedInOtherUnitsIsEchoedAndTypedAgainAsItWas(Way way)
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, way);
        await reader.OpenAsync("/");
        await reader.FillAsync("Melting range", "457-460.5 °F dec.");
        await reader.FillAsync("Boiling range", "62-64");
        await reader.FillAsync("at a pressure of", "10");
        await reader.ChooseAsync("Unit", "mmHg");
        await reader.PressAsync("What is it?");
        var first = reader.Page.Url;
        var entered = await EnteredAsync(reader);
        Assert.Contains("dec. (typed as 457-460.5 °F dec.)", entered, StringComparison.Ordinal);
        Assert.Contains("at 1.33 kPa (typed as 10 mmHg)", entered, StringComparison.Ordinal);
        Assert.Contains("62–64 °C, at", entered, StringComparison.Ordinal);

        await reader.FollowAsync("Change or add to this");
        Assert.Equal("457-460.5 °F dec.", await HeldAsync("Melting range"));
        Assert.Equal(("10", "mmHg"), (await HeldAsync("at a pressure of"), await HeldAsync("Unit")));
        await reader.PressAsync("What is it?");
        Assert.Equal(first, reader.Page.Url);

        // Somebody else reads the same in the service's units, and so does whoever signs in here next.
        await using var other = await Reader.SitDownAsync(browser, shown.Service.Address, way);
        await other.Page.GotoAsync(first);
        Assert.DoesNotContain("typed as", await EnteredAsync(other), StringComparison.Ordinal);
        await other.FollowAsync("Change or add to this");
        await other.PressAsync("What is it?");
        Assert.Contains("at 1.33 kPa (10 mmHg)", await EnteredAsync(other), StringComparison.Ordinal);
        await reader.SignInAsync(shown.KeyOf(Role.Student));
        await reader.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Sign out" }).First.ClickAsync();
        await reader.Page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Sign in" }).WaitForAsync();
        await reader.Page.GotoAsync(first);
        Assert.DoesNotContain("typed as", await EnteredAsync(reader), StringComparison.Ordinal);

        Task<string> HeldAsync(string label) => reader.Page.GetByLabel(label, new PageGetByLabelOptions { Exact = true }).First.InputValueAsync();

        static async Task<string> EnteredAsync(Reader who) => (await who.Page.Locator("section[aria-labelledby=entered] dl").TextContentAsync())!;
    }

    [Fact]
    public async Task FormSentOverSomebodyElsesChangeSaysSoAndCanBeSentAgain()
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.ClientWith(shown.KeyOf(Role.Instructor));
        var course = await instructor.Courses.CreateAsync(new Contracts.CourseRequest { Name = "Changed meanwhile", ShelfList = ["hexanal"] }, null, gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync($"/courses/{course.Id}/roster");
        await instructor.Courses.PutRosterAsync(await instructor.Courses.GetAsync(course.Id, gone), [new Contracts.RosterStudent { Student = "theirs" }], cancellationToken: gone);
        await reader.FillAsync("Students", "mine");
        await reader.PressAsync("Keep this roster");
        Assert.Contains("Somebody changed this meanwhile", await reader.TextAsync(), StringComparison.Ordinal);

        await reader.PressAsync("Keep this roster");
        Assert.Equal("mine", Assert.Single(await instructor.Courses.GetRosterAsync(course.Id, gone)).Student);
    }

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    public async Task RosterThatTakesReportsAwayOrHandsThemOverIsAskedAboutFirst(Way way)
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.Administrator();
        using var student = shown.Service.ClientWith(shown.KeyOf(Role.Student));
        var (course, code) = await HandedOutAsync($"Taken away, {way} (invented)", null);
        await student.Reports.CreateAsync(course.Id, new Contracts.ReportRequest { Assignment = code, ClaimedParent = "hexanal" }, null, gone);
        var started = await instructor.Grades.StartAsync(course.Id, null, null, gone);
        await instructor.Grades.FollowAsync(course.Id, started.Id, gone).LastAsync(gone);
        await instructor.Grades.PublishAsync(await instructor.Courses.GetAsync(course.Id, gone), started.Id, cancellationToken: gone);
        var mine = "key:" + shown.KeyOf(Role.Student).Split('_')[1];
        var other = "key:" + (await shown.Service.KeyAsync(Role.Student)).Details.Id;
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, way);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Administrator));

        // Who is added, or signs in for the first time, takes nothing from anybody.
        await SendAsync($"student\tactor\nme\t{mine}\nnobody\t{other}\nnew");
        Assert.EndsWith("/courses/" + course.Id, reader.Page.Url, StringComparison.Ordinal);

        var exchanged = $"student,actor\nme,{other}\n\"nobody\",{mine}\nnew";
        await SendAsync(exchanged);
        Assert.Equal(
            [$"{other} takes the place of {mine} as me. Unknowns are handed out to them, with 1 report handed in; grades are published.", $"{mine} takes the place of {other} as nobody. Unknowns are handed out to them, with no report handed in."],
            await reader.Page.Locator("form .warning li").AllInnerTextsAsync());
        Assert.Equal(exchanged, await reader.Page.GetByLabel("Students").InputValueAsync());
        Assert.Equal(mine, (await RosterAsync())["me"]);

        // Agreed to this, nobody has agreed to something else.
        await reader.TickAsync("Do it all the same");
        await reader.FillAsync("Students", $"student;actor\nnobody;{other}\nnew");
        await reader.PressAsync("Keep this roster");
        Assert.Equal(
            ["me falls out, and sees and hands in nothing here any more. Unknowns are handed out to them, with 1 report handed in; grades are published."],
            await reader.Page.Locator("form .warning li").AllInnerTextsAsync());
        Assert.False(await reader.Page.GetByLabel("Do it all the same").IsCheckedAsync());
        Assert.Equal(3, (await RosterAsync()).Count);
        await reader.TickAsync("Do it all the same");
        await reader.PressAsync("Keep this roster");
        Assert.EndsWith("/courses/" + course.Id, reader.Page.Url, StringComparison.Ordinal);
        Assert.Equal(["new", "nobody"], (await RosterAsync()).Keys.Order(StringComparer.Ordinal));

        // A file is asked about as well, and need not be chosen again.
        await reader.OpenAsync($"/courses/{course.Id}/roster");
        await reader.ChooseFileAsync("Or a file", "roster.csv", "text/csv", "student\nnew\n"u8.ToArray());
        await reader.PressAsync("Keep this roster");
        Assert.StartsWith("nobody falls out, ", Assert.Single(await reader.Page.Locator("form .warning li").AllInnerTextsAsync()), StringComparison.Ordinal);
        await reader.TickAsync("Do it all the same");
        await reader.PressAsync("Keep this roster");
        Assert.Equal("new", Assert.Single(await RosterAsync()).Key);

        async Task SendAsync(string roster)
        {
            await reader.OpenAsync($"/courses/{course.Id}/roster");
            await reader.FillAsync("Students", roster);
            await reader.PressAsync("Keep this roster");
        }

        async Task<Dictionary<string, string?>> RosterAsync() =>
            (await instructor.Courses.GetRosterAsync(course.Id, gone)).ToDictionary(each => each.Student, each => each.Actor);
    }

    [Fact]
    public async Task RosterOfALearningSystemIsTakenAndWhatWasPassedOverIsNamed()
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.Administrator();
        var course = await instructor.Courses.CreateAsync(new Contracts.CourseRequest { Name = "Out of a registry (invented)", ShelfList = ["hexanal"] }, null, gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Administrator));
        using var archive = new MemoryStream();
        await using (var zip = new ZipArchive(archive, ZipArchiveMode.Create, leaveOpen: true))
        {
            await WriteAsync(zip, "users.csv", "sourcedId,familyName\r\nu-1,Invented\r\nu-2,Invented\r\n");
            await WriteAsync(zip, "enrollments.csv", "classSourcedId,userSourcedId,role\r\na,u-1,student\r\na,u-2,student\r\nb,u-2,student\r\n");
        }

        await reader.OpenAsync($"/courses/{course.Id}/roster");
        await reader.ChooseFileAsync("Or a file", "export.zip", "application/zip", archive.ToArray());
        await reader.PressAsync("Keep this roster");
        Assert.Contains("say which one with ?class=: \"a\" with 2, \"b\" with 1", await reader.TextAsync(), StringComparison.Ordinal);
        await reader.FillAsync("Class (may be empty)", "a");
        await reader.ChooseFileAsync("Or a file", "export.zip", "application/zip", archive.ToArray());
        await reader.PressAsync("Keep this roster");
        Assert.Contains("The roster is kept, 2 students.", await reader.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("Of users.csv not read and not kept: the column \"familyname\".", await reader.TextAsync(), StringComparison.Ordinal);
        Assert.Equal(["u-1", "u-2"], (await instructor.Courses.GetRosterAsync(course.Id, gone)).Select(student => student.Student));
        await reader.FollowAsync("Go on");
        Assert.EndsWith("/hand-out", reader.Page.Url, StringComparison.Ordinal);

        static async Task WriteAsync(ZipArchive zip, string name, string text)
        {
            await using var file = await zip.CreateEntry(name).OpenAsync();
            await file.WriteAsync(Encoding.UTF8.GetBytes(text));
        }
    }

    [Fact]
    public async Task StudentIsGivenLongerAndToldSo()
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.Administrator();
        var (course, _) = await HandedOutAsync("Given longer (invented)", new DateTime(2036, 3, 1, 11, 0, 0, DateTimeKind.Utc));
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Administrator));
        await reader.OpenAsync($"/courses/{course.Id}");
        await reader.FollowAsync("Extensions");
        await reader.FillAsync("Who has longer", "stranger, 2036-03-08 11:00\nme, soon");
        await reader.PressAsync("Keep these extensions");
        Assert.Contains("“me, soon” is no identifier or group with date and time", await reader.TextAsync(), StringComparison.Ordinal);
        await reader.FillAsync("Who has longer", "stranger, 2036-03-08 11:00");
        await reader.PressAsync("Keep these extensions");
        Assert.Contains("\"stranger\" is not in the roster.", await reader.TextAsync(), StringComparison.Ordinal);
        await reader.FillAsync("Who has longer", "me, 2036-03-08 11:00");
        await reader.PressAsync("Keep these extensions");
        Assert.Contains("Longer have", await reader.TextAsync(), StringComparison.Ordinal);
        Assert.Equal(new DateTimeOffset(2036, 3, 8, 11, 0, 0, TimeSpan.Zero), Assert.Single(await instructor.Courses.GetExtensionsAsync(course.Id, gone)).DueAt);

        await using var student = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await student.ComeSignedInAsync(shown.KeyOf(Role.Student));
        await student.OpenAsync($"/courses/{course.Id}/mine");
        Assert.Contains("your own extension", await student.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task LinesOfARosterMayEndBeforeTheirEmptyCells()
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.Administrator();
        var course = await instructor.Courses.CreateAsync(new Contracts.CourseRequest { Name = "Short lines", ShelfList = ["hexanal"] }, null, gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Administrator));
        foreach (var roster in new[]
        {
            "student,bench,place,neighbours,actor\ns-1\ns-2,\"B, at the window\"\n\ns-3,B,2,\"s-1;s-2\"",
            "s-1\ns-2;\"B, at the window\"\ns-3;B;2;\"s-1;s-2\"".Replace(';', '\t').Replace("s-1\ts-2", "s-1;s-2", StringComparison.Ordinal),
            "s-1\ns-2;B at the window\ns-3;B;2;\"s-1;s-2\"",
        })
        {
            await reader.OpenAsync($"/courses/{course.Id}/roster");
            await reader.FillAsync("Students", roster);
            await reader.PressAsync("Keep this roster");
            Assert.True(reader.Page.Url.EndsWith("/hand-out", StringComparison.Ordinal), await reader.TextAsync());
            var kept = await instructor.Courses.GetRosterAsync(course.Id, gone);
            Assert.Equal(["s-1", "s-2", "s-3"], kept.Select(student => student.Student));
            Assert.Equal([null, roster.Contains("B,", StringComparison.Ordinal) ? "B, at the window" : "B at the window", "B"], kept.Select(student => student.Bench));
            Assert.Equal(["s-1", "s-2"], kept[2].Neighbours);
        }
    }

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    public async Task OwnerWhoLeavesIsAskedFirstAndARefusedStaffIsNotShownAgain(Way way)
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.ClientWith(shown.KeyOf(Role.Instructor));
        var course = await instructor.Courses.CreateAsync(new Contracts.CourseRequest { Name = $"Left, {way}", ShelfList = ["hexanal"] }, null, gone);
        var (me, other) = ("key:" + shown.KeyOf(Role.Instructor).Split('_')[1], "key:" + (await shown.Service.KeyAsync(Role.Instructor)).Details.Id);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, way);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync($"/courses/{course.Id}/staff");
        await reader.FillAsync("Others of the staff", "somebody");
        await reader.PressAsync("Keep this staff");
        Assert.Contains("names no caller", await reader.TextAsync(), StringComparison.Ordinal);
        await reader.OpenAsync($"/courses/{course.Id}/staff");
        Assert.Equal((me, ""), (await HeldAsync("Owners"), await HeldAsync("Others of the staff")));

        await reader.FillAsync("Owners", other);
        await reader.FillAsync("Others of the staff", me);
        await reader.PressAsync("Keep this staff");
        Assert.Equal("You would no longer own this course.", await reader.Page.Locator("form .warning li").InnerTextAsync());
        Assert.Equal((other, me), (await HeldAsync("Owners"), await HeldAsync("Others of the staff")));
        Assert.Equal(me, Assert.Single(await instructor.Courses.GetStaffAsync(course.Id, gone)).Actor);
        await reader.TickAsync("Do it all the same");
        await reader.PressAsync("Keep this staff");
        Assert.Equal(0, await reader.Page.Locator("main form").CountAsync());
        Assert.Equal(other, Assert.Single(await instructor.Courses.GetStaffAsync(course.Id, gone), member => member.IsOwner == true).Actor);

        Task<string> HeldAsync(string label) => reader.Page.GetByLabel(label, new PageGetByLabelOptions { Exact = true }).InputValueAsync();
    }

    [Fact]
    public async Task NameOfACourseIsNoLongerThanTheServiceTakes()
    {
        using var instructor = shown.Service.Administrator();
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync("/courses/new");
        var name = reader.Page.GetByLabel("Name", new PageGetByLabelOptions { Exact = true }).First;
        Assert.Equal("100", await name.GetAttributeAsync("maxlength"));
        await name.PressSequentiallyAsync(new string('n', 101));
        await reader.FillAsync("What can be in the vials", "hexanal");
        await reader.PressAsync("Make it");
        var made = await instructor.Courses.GetAsync(reader.Page.Url.Split('/')[4], TestContext.Current.CancellationToken);
        Assert.Equal(new string('n', 100), made.Value.Name);
    }

    [Fact]
    public async Task ReportWhoseFirstAnswerWasLostIsSavedAfterAll()
    {
        var (course, code) = await HandedOutAsync("Answer lost (invented)", null);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Student));
        await reader.OpenAsync($"/courses/{course.Id}/mine/{code}");
        await reader.FillAsync("Melting range", "236-238");
        await LoseAnswerAsync(reader, "Save the draft");
        await reader.FillAsync("Melting range", "237-239");
        await reader.PressAsync("Save the draft");
        Assert.Contains("It was taken before, as it was then", await reader.TextAsync(), StringComparison.Ordinal);

        await reader.PressAsync("Save the draft");
        Assert.Contains("The draft is saved.", await reader.TextAsync(), StringComparison.Ordinal);
        using var student = shown.Service.ClientWith(shown.KeyOf(Role.Student));
        var draft = Assert.Single(await student.Reports.ListAsync(course.Id, TestContext.Current.CancellationToken).ToListAsync(TestContext.Current.CancellationToken));
        Assert.Equal(237, draft.Observation.Derivatives![0].MeltingRange!.Figures!.OnsetCelsius);
    }

    [Fact]
    public async Task ProposalAndRemarkWhoseAnswersWereLostAreMadeOnce()
    {
        var gone = TestContext.Current.CancellationToken;
        using var administrator = shown.Service.Administrator();
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync("/proposals");
        await reader.FillAsync("What it is about", "Answer lost twice (invented)");
        await LoseAnswerAsync(reader, "Make it");
        await reader.PressAsync("Make it");
        Assert.Equal("Answer lost twice (invented)", await reader.HeadingAsync());
        var proposal = Assert.Single(
            await administrator.Proposals.ListAsync(null, gone).ToListAsync(gone), made => made.Title == "Answer lost twice (invented)");

        await reader.FillAsync("A remark", "Only once.");
        await LoseAnswerAsync(reader, "Add the remark");
        await reader.PressAsync("Add the remark");
        Assert.Equal("Only once.", Assert.Single(await administrator.Proposals.ListCommentsAsync(proposal.Id, gone).ToListAsync(gone)).Text);
    }

    [Fact]
    public async Task CorrectionWhoseFirstAnswerWasLostMakesOneProposal()
    {
        var gone = TestContext.Current.CancellationToken;
        using var administrator = shown.Service.Administrator();
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        foreach (var (address, title) in new[] { ("/records/spot-tests/tollens", "Corrected once (invented)"), ("/records/colours", "Added once (invented)") })
        {
            await reader.OpenAsync(address);
            if (address.EndsWith("colours", StringComparison.Ordinal))
            {
                await reader.FillAsync("Key", "plaid");
                await reader.FillAsync("Name", "plaid");
                await reader.Page.Locator("[name^='/record/rank']").FillAsync("99");
                await reader.Page.GetByLabel("Other names", new PageGetByLabelOptions { Exact = true }).FillAsync("tartan");
            }
            else
            {
                await reader.FillAsync("Other names", "a mirror (invented)");
            }

            await reader.FillAsync("What it is about", title);
            var button = address.EndsWith("colours", StringComparison.Ordinal) ? "Propose to add it" : "Propose the change";
            await LoseAnswerAsync(reader, button);
            await reader.PressAsync(button);
            Assert.True(title == await reader.HeadingAsync(), await reader.TextAsync());
            var proposal = Assert.Single(await administrator.Proposals.ListAsync(null, gone).ToListAsync(gone), made => made.Title == title);
            Assert.Single(await administrator.Proposals.ListChangesAsync(proposal.Id, null, gone).ToListAsync(gone));
        }
    }

    [Fact]
    public async Task KeyWhoseAnswerWasLostIsNamedAndAnotherIsMadeOnlyWhenAskedFor()
    {
        var gone = TestContext.Current.CancellationToken;
        using var administrator = shown.Service.Administrator();
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Administrator));
        await reader.OpenAsync("/keys");
        await reader.FillAsync("Whom or what it is for", "lost on the way");
        await LoseAnswerAsync(reader, "Make it");
        await reader.PressAsync("Make it");
        var made = Assert.Single(await NamedAsync("lost on the way"));
        Assert.Contains($"The key {made.Id} for \"lost on the way\" was made by this request before.", await reader.TextAsync(), StringComparison.Ordinal);
        await reader.PressAsync("Make it");
        Assert.Contains("It is shown this once", await reader.TextAsync(), StringComparison.Ordinal);
        Assert.Equal(2, (await NamedAsync("lost on the way")).Count);
        await reader.FillAsync("Whom or what it is for", "and another");
        await reader.PressAsync("Make it");
        Assert.Single(await NamedAsync("and another"));

        await reader.OpenAsync("/keys/class");
        await reader.FillAsync("Whom they are for", "lost-1\nlost-2");
        await LoseAnswerAsync(reader, "Make them");
        await reader.FillAsync("Whom they are for", "lost-1\nlost-2\nfound-3");
        await reader.PressAsync("Make them");
        Assert.Equal(1, await reader.Page.Locator(".labels li").CountAsync());
        Assert.Contains("found-3", await reader.Page.Locator(".labels").InnerTextAsync(), StringComparison.Ordinal);
        Assert.Equal("lost-1\nlost-2", await reader.Page.GetByLabel("Whom they are for").InputValueAsync());
        await reader.PressAsync("Make them");
        Assert.Equal(2, await reader.Page.Locator(".labels li").CountAsync());
        Assert.Equal((2, 1), ((await NamedAsync("lost-1")).Count, (await NamedAsync("found-3")).Count));

        async Task<List<Contracts.KeyItem>> NamedAsync(string name) =>
            await administrator.Keys.ListAsync(null, null, gone).Where(key => key.Name == name).ToListAsync(gone);
    }

    [Fact]
    public async Task WhatShouldBeLookedAtStandsBeforePublication()
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.Administrator();
        using var student = shown.Service.ClientWith(shown.KeyOf(Role.Student));
        var (course, code) = await HandedOutAsync("To be marked (invented)", new DateTime(2027, 3, 1, 11, 0, 0, DateTimeKind.Utc));
        await student.Reports.CreateAsync(course.Id, new Contracts.ReportRequest { Assignment = code, ClaimedParent = "hexanal" }, null, gone);
        var rubric = System.Text.Json.JsonDocument.Parse("""{ "name": "By hand", "writtenReasoning": { "points": 6 } }""").RootElement;
        var started = await instructor.Grades.StartAsync(course.Id, new Contracts.GradingRequest { Rubric = rubric }, null, gone);
        await instructor.Grades.FollowAsync(course.Id, started.Id, gone).LastAsync(gone);
        await student.Reports.CreateAsync(course.Id, new Contracts.ReportRequest { Assignment = code, ClaimedParent = "2-butanone" }, null, gone);

        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Administrator));
        await reader.OpenAsync($"/courses/{course.Id}/gradings/{started.Id}/publication");

        Assert.Contains("1 report to be marked by hand: me, " + code, await reader.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("1 report missing, of: nobody, ", await reader.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("1 report not in this grading: me, unknown 1.", await reader.TextAsync(), StringComparison.Ordinal);
        await reader.FollowAsync("me, unknown 1");
        Assert.Equal("Report of me", await reader.HeadingAsync());
        var late = reader.Page.Url.Split('/')[^1];
        Assert.Equal(404, (await reader.OpenAsync($"/courses/{course.Id}/gradings/{started.Id}/reports/{late}")).Status);
    }

    [Fact]
    public async Task CorrectionOverSomebodyElsesChangeCanBeSentAgain()
    {
        var gone = TestContext.Current.CancellationToken;
        using var administrator = shown.Service.Administrator();
        var proposal = await administrator.Proposals.CreateAsync(new Contracts.ProposalRequest { Title = "Two at once (invented)" }, null, null, gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync($"/records/spot-tests/tollens?proposal={proposal.Id}");
        var colour = System.Text.Json.JsonSerializer.SerializeToElement(new { key = "plaid", name = "plaid", rank = 99, synonyms = Array.Empty<string>() }, Contracts.WireJson.Options);
        await administrator.Proposals.PutRecordAsync(proposal, "colours", "plaid", colour, null, gone);
        await reader.FillAsync("Other names", "silver mirror test\na mirror (invented)");
        await reader.PressAsync("Propose the change");
        Assert.Contains("Somebody changed this meanwhile", await reader.TextAsync(), StringComparison.Ordinal);

        await reader.PressAsync("Propose the change");
        Assert.EndsWith("/proposals/" + proposal.Id, reader.Page.Url, StringComparison.Ordinal);
        Assert.Equal(2, await administrator.Proposals.ListChangesAsync(proposal.Id, null, gone).CountAsync(gone));
    }

    [Fact]
    public async Task WhatIsAddedGoesOverNothingKnown()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync("/compounds/new?smiles=O%3DC(CCCCCCC)CCCCCCCC&name=hexanal");
        await reader.FillAsync("CAS number", "50-00-0");
        await reader.PressAsync("Propose to add it");
        Assert.Contains("\"hexanal\" is hexanal in the table", await reader.TextAsync(), StringComparison.Ordinal);

        await reader.OpenAsync("/records/colours");
        await reader.FillAsync("Key", "red");
        await reader.FillAsync("Name", "red as well");
        await reader.Page.Locator("[name^='/record/rank']").FillAsync("99");
        await reader.PressAsync("Propose to add it");
        Assert.Contains("The list has a record \"red\" already", await reader.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task WhatWasTypedBeforeAnotherVersionWasSavedIsOffered()
    {
        var gone = TestContext.Current.CancellationToken;
        var (course, code) = await HandedOutAsync("On two devices (invented)", null);
        using var student = shown.Service.ClientWith(shown.KeyOf(Role.Student));
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Student));
        await reader.OpenAsync($"/courses/{course.Id}/mine/{code}");
        var notes = reader.Page.GetByLabel("Anything else", new PageGetByLabelOptions { Exact = true });
        await notes.PressSequentiallyAsync("typed on this device");
        await student.Reports.CreateAsync(course.Id, new Contracts.ReportRequest { Assignment = code, Notes = "saved on the other", IsDraft = true }, null, gone);
        await reader.Page.ReloadAsync();
        Assert.Equal("saved on the other", await notes.InputValueAsync());
        await reader.Page.ReloadAsync();
        await reader.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Put it back" }).ClickAsync();
        Assert.Equal("typed on this device", await notes.InputValueAsync());
        await reader.PressAsync("Save the draft");
        Assert.Contains("The draft is saved.", await reader.TextAsync(), StringComparison.Ordinal);
        Assert.DoesNotContain("You had typed something else", await reader.TextAsync(), StringComparison.Ordinal);
        Assert.Equal("typed on this device", Assert.Single(await student.Reports.ListAsync(course.Id, gone).ToListAsync(gone)).Notes);
    }

    [Fact]
    public async Task AnswerIsSaidWhileItIsTyped()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/");
        var said = reader.Page.Locator("[data-while-typing]");
        await reader.Page.GetByLabel("Melting range", new PageGetByLabelOptions { Exact = true }).First.PressSequentiallyAsync("236-238");
        await Assertions.Expect(said).ToContainTextAsync("So far: It is");
        var first = await said.InnerTextAsync();

        // What can't be read is said when the form is sent, not while it is typed.
        await reader.FillAsync("Melting range", "236-");
        await Assertions.Expect(said).ToHaveTextAsync("");
        Assert.Equal(0, await reader.Page.Locator(".faults").CountAsync());
        await reader.FillAsync("Melting range", "162-163");
        await Assertions.Expect(said).ToContainTextAsync("So far: ");
        Assert.NotEqual(first, await said.InnerTextAsync());
        Assert.Equal("/", new Uri(reader.Page.Url).AbsolutePath);

        var last = await said.InnerTextAsync();
        await reader.PressAsync("What is it?");
        Assert.Equal(last["So far: ".Length..], await reader.HeadingAsync());
    }

    // The first answer is held back until the second is there, and then let go.
    [Fact]
    public async Task AnswerThatComesLateReplacesNoneThatWasAskedForLater()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/");
        var held = new TaskCompletionSource();
        var (asked, answered) = (0, new TaskCompletionSource());
        await reader.Page.RouteAsync("**/*", async route =>
        {
            if (route.Request.Method != "POST" || Interlocked.Increment(ref asked) != 1)
            {
                await route.ContinueAsync();
                return;
            }

            var late = await route.FetchAsync();
            await held.Task;
            await route.FulfillAsync(new RouteFulfillOptions { Response = late });
            answered.SetResult();
        });
        var said = reader.Page.Locator("[data-while-typing]");
        await reader.FillAsync("Melting range", "236-238");
        while (Volatile.Read(ref asked) == 0)
        {
            await Task.Delay(20, TestContext.Current.CancellationToken);
        }

        await reader.FillAsync("Melting range", "162-163");
        await Assertions.Expect(said).ToContainTextAsync("So far: ");
        var second = await said.InnerTextAsync();
        held.SetResult();
        await answered.Task;
        await reader.Page.WaitForTimeoutAsync(300);
        Assert.Equal(second, await said.InnerTextAsync());
        Assert.Equal(2, asked);
        await reader.Page.UnrouteAllAsync();
    }

    [Theory]
    [InlineData("-5", "mmHg", "-5 mmHg is out of bounds; from 0.75 to 825 mmHg can be corrected")]
    [InlineData("1000", "mmHg", "1000 mmHg is out of bounds; from 0.75 to 825 mmHg can be corrected")]
    [InlineData("0.05", "kPa", "0.05 kPa is out of bounds; from 0.1 to 110 kPa can be corrected")]
    public async Task PressureOutOfBoundsIsToldInItsOwnUnit(string typed, string unit, string said)
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/");
        await reader.FillAsync("Boiling range", "178-180");
        await reader.FillAsync("at a pressure of", typed);
        await reader.ChooseAsync("Unit", unit);
        await reader.PressAsync("What is it?");

        Assert.Contains(said, await reader.TextAsync(), StringComparison.Ordinal);
        Assert.DoesNotContain("a number from", await reader.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task SummerDeadlineTypedInWinterIsTheClocksOfTheSummer()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, Way.Mouse, new BrowserNewContextOptions { TimezoneId = "Europe/Berlin" });
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync("/courses/new");
        var due = reader.Page.GetByLabel("Due (may be empty)", new PageGetByLabelOptions { Exact = true });
        var clocks = reader.Page.GetByLabel("Due, by clocks at", new PageGetByLabelOptions { Exact = true });
        await due.FillAsync("2027-07-01T12:00");
        await due.DispatchEventAsync("change");
        Assert.Equal("+02:00", await clocks.InputValueAsync());
        await due.FillAsync("2027-12-01T12:00");
        await due.DispatchEventAsync("change");
        Assert.Equal("+01:00", await clocks.InputValueAsync());
        await clocks.SelectOptionAsync("+03:00");
        await due.FillAsync("2027-07-01T12:00");
        await due.DispatchEventAsync("change");
        await reader.Page.ReloadAsync();
        Assert.Equal("+03:00", await clocks.InputValueAsync());
    }

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    public async Task TwoDeadlinesInTwoHalvesOfTheYearHaveAnOffsetEach(Way way)
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, way, new BrowserNewContextOptions { TimezoneId = "Europe/Berlin" });
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync("/courses/new");
        await reader.FillAsync("Name", $"Over the summer, {way} (invented)");
        await reader.FillAsync("What can be in the vials", "hexanal");
        foreach (var (label, moment, clocks, offset) in new[]
        {
            ("Due (may be empty)", "2017-07-01T12:00", "Due, by clocks at", "+02:00"), ("None taken after (may be empty)", "2027-12-01T12:00", "None after, by clocks at", "+01:00"),
        })
        {
            var field = reader.Page.GetByLabel(label, new PageGetByLabelOptions { Exact = true });
            await field.FillAsync(moment);
            await field.DispatchEventAsync("change");
            var choice = reader.Page.GetByLabel(clocks, new PageGetByLabelOptions { Exact = true });
            if (way == Way.NoScript)
            {
                await choice.SelectOptionAsync(offset);
            }

            Assert.Equal(offset, await choice.InputValueAsync());
        }

        // Ten years too early is asked about, and ten years later isn't any more.
        await reader.PressAsync("Make it");
        Assert.Contains("Reports were due 1 July 2017, 10:00 UTC, which is past", await reader.TextAsync(), StringComparison.Ordinal);
        await reader.Page.GetByLabel("Due (may be empty)", new PageGetByLabelOptions { Exact = true }).FillAsync("2027-07-01T12:00");
        await reader.PressAsync("Make it");
        using var instructor = shown.Service.Administrator();
        var made = (await instructor.Courses.GetAsync(reader.Page.Url.Split('/')[4], TestContext.Current.CancellationToken)).Value;
        Assert.Equal((new DateTime(2027, 7, 1, 10, 0, 0), new DateTime(2027, 12, 1, 11, 0, 0)), (made.DueAt!.Value, made.ClosesAt!.Value));
    }

    [Fact]
    public async Task LookingUpLeavesWhatIsBeingTypedAlone()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync("/compounds/new?smiles=O%3DCCCCCCCCCCCCC&name=tridecanal");
        var number = reader.Page.GetByLabel("CAS number", new PageGetByLabelOptions { Exact = true });
        await reader.Page.GetByLabel("Name", new PageGetByLabelOptions { Exact = true }).First.FillAsync("tridecanal (invented)");
        await number.PressSequentiallyAsync("10486-19-8", new LocatorPressSequentiallyOptions { Delay = 120 });
        await Assertions.Expect(reader.Page.GetByLabel("Key", new PageGetByLabelOptions { Exact = true })).ToHaveValueAsync("tridecanal-invented");
        Assert.Equal("10486-19-8", await number.InputValueAsync());
        Assert.True(await number.EvaluateAsync<bool>("field => field === document.activeElement"));
    }

    [Fact]
    public async Task EveryReagentAdvisedHasItsCaution()
    {
        using var client = shown.Service.Administrator();
        var kinds = await client.Table.ListDerivativeKindsAsync(null, TestContext.Current.CancellationToken).ToDictionaryAsync(kind => kind.Key, kind => kind.Cautions, cancellationToken: TestContext.Current.CancellationToken);
        var address = shown.Views.First(view => view.Address.StartsWith("/identifications/", StringComparison.Ordinal)).Address;
        var answer = await client.Identifications.GetAsync(address.Split('/')[^1], TestContext.Current.CancellationToken);
        var advised = answer.Groups.Select(group => group.SeparatedBy?.Key).Concat(answer.NextSteps.Take(5).Select(step => step.Key)).OfType<string>().Where(kinds.ContainsKey).ToList();
        Assert.NotEmpty(advised);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync(address);
        var text = await reader.Page.Locator(".cautions").TextContentAsync();
        Assert.All(advised, kind => Assert.Contains(kinds[kind], text!, StringComparison.Ordinal));
    }

    [Fact]
    public async Task CourseThatTakesNoReportOffersNone()
    {
        var gone = TestContext.Current.CancellationToken;
        var (course, code) = await HandedOutAsync("Over (invented)", null);
        using var instructor = shown.Service.Administrator();
        using var student = shown.Service.ClientWith(shown.KeyOf(Role.Student));
        await student.Reports.CreateAsync(course.Id, new Contracts.ReportRequest { Assignment = code, ClaimedParent = "hexanal" }, null, gone);
        await student.Reports.CreateAsync(course.Id, new Contracts.ReportRequest { Assignment = code, IsDraft = true }, null, gone);
        var started = await instructor.Grades.StartAsync(course.Id, null, null, gone);
        await instructor.Grades.FollowAsync(course.Id, started.Id, gone).LastAsync(gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Student));
        await reader.OpenAsync($"/courses/{course.Id}/mine?handedIn={code}");
        Assert.Contains("Go on with your draft", await reader.TextAsync(), StringComparison.Ordinal);
        await instructor.Grades.PublishAsync(await instructor.Courses.GetAsync(course.Id, gone), started.Id, cancellationToken: gone);

        foreach (var address in new[] { "mine", $"mine/{code}", $"mine/{code}/hand-in" })
        {
            await reader.OpenAsync($"/courses/{course.Id}/{address}");
            Assert.Contains("Grades are published, so no report is taken any more.", await reader.TextAsync(), StringComparison.Ordinal);
            Assert.Equal(0, await reader.Page.Locator("main form button").CountAsync());
        }
    }

    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    public async Task InstructorGivesTheClassKeysAndReplacesALostOne(Way way)
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.ClientWith(shown.KeyOf(Role.Instructor));
        var course = await instructor.Courses.CreateAsync(new Contracts.CourseRequest { Name = $"Keys, {way} (invented)", ShelfList = ["hexanal"] }, null, gone);
        await instructor.Courses.PutRosterAsync(
            await instructor.Courses.GetAsync(course.Id, gone), [new Contracts.RosterStudent { Student = "s-801" }, new Contracts.RosterStudent { Student = "s-802" }], cancellationToken: gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, way);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync($"/courses/{course.Id}");
        await reader.FollowAsync("Keys");
        await reader.PressAsync("Make the keys");
        Assert.Equal("2 keys made", await reader.HeadingAsync());
        Assert.Contains($"Keys, {way} (invented)", await reader.Page.Locator(".keys li").First.InnerTextAsync(), StringComparison.Ordinal);
        var (lost, kept) = (await KeyOfAsync("s-801"), await KeyOfAsync("s-802"));

        await reader.OpenAsync($"/courses/{course.Id}/keys");
        Assert.Contains("Everybody of the roster can sign in.", await reader.TextAsync(), StringComparison.Ordinal);
        await reader.FillAsync("Whom they are for", "s-801\ns-901");
        await reader.PressAsync("Make the keys");
        Assert.Contains("\"s-901\" is not in the roster.", await reader.TextAsync(), StringComparison.Ordinal);
        await reader.FillAsync("Whom they are for", "s-801");
        await reader.PressAsync("Make the keys");
        Assert.Equal("1 key made", await reader.HeadingAsync());
        var found = await KeyOfAsync("s-801");

        foreach (var (key, isGood) in new[] { (lost, false), (kept, true), (found, true) })
        {
            await using var student = await Reader.SitDownAsync(browser, shown.Service.Address, way);
            await student.SignInAsync(key);
            Assert.Equal(isGood ? 1 : 0, await student.Page.Locator(".who form").CountAsync());
            if (isGood)
            {
                await student.OpenAsync("/courses");
                Assert.Contains($"Keys, {way} (invented)", await student.TextAsync(), StringComparison.Ordinal);
            }
        }

        Task<string> KeyOfAsync(string student) =>
            reader.Page.Locator(".keys li", new PageLocatorOptions { HasText = student }).Locator("code").InnerTextAsync();
    }

    [Fact]
    public async Task WhoGoesBackAfterHandingInIsToldThatItIs()
    {
        var (course, code) = await HandedOutAsync("Gone back to (invented)", null);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Student));
        await reader.OpenAsync($"/courses/{course.Id}/mine/{code}");
        await reader.FillAsync("Melting range", "125-127");
        await reader.PressAsync("Hand it in");
        await reader.PressAsync("Hand it in for good");
        var mine = reader.Page.Url;
        await reader.Page.GoBackAsync();
        Assert.Equal(mine, reader.Page.Url);
        Assert.Contains($"Your report on {code} is handed in.", await reader.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task OddAddressesAreNoFailureOfOurs()
    {
        var (course, _) = await HandedOutAsync("Odd addresses (invented)", null);
        using var instructor = shown.Service.Administrator();
        var proposal = await instructor.Proposals.CreateAsync(new Contracts.ProposalRequest { Title = "Odd addresses (invented)" }, null, null, TestContext.Current.CancellationToken);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Administrator));
        foreach (var (address, status) in new[]
        {
            ("/audit?skip=abc", 200), ("/audit?skip=99999999999", 200), ($"/proposals/{proposal.Id}?skip=-1", 200), ("/table/benzaldehyde?version=abc", 404),
            ("/table/benzaldehyde?version=99", 404), ($"/courses/{course.Id}/gradings/0/comparison", 404), ("/?from=nothing", 404), ("/compounds/new?smiles=%5B%5B", 200),
            ("/table?kind=5", 404), ("/table?kind=banana", 404), ("/table?kind=ketone", 200), ("/table?derivative=zzz", 400), ("/table?sort=5&q=%00", 400),
        })
        {
            var answered = (await reader.OpenAsync(address)).Status;
            Assert.True(answered == status, $"{address} answered {answered}");
        }
    }

    [Fact]
    public async Task DeadlineIsSaidByTheReadersClockToo()
    {
        var (course, _) = await HandedOutAsync("On the other side (invented)", new DateTime(2027, 3, 1, 11, 0, 0, DateTimeKind.Utc));
        await using var reader = await Reader.SitDownAsync(
            browser, shown.Service.Address, Way.Mouse, new BrowserNewContextOptions { TimezoneId = "Pacific/Auckland" });
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Student));
        await reader.OpenAsync($"/courses/{course.Id}/mine");
        // Daylight time there, 13 hours before UTC: the day after.
        Assert.Contains("Monday 1 March 2027, 11:00 UTC", await reader.TextAsync(), StringComparison.Ordinal);
        Assert.Matches("Tuesday,? 2 March 2027 at 00:00 by your clock", await reader.TextAsync());
    }

    [Fact]
    public async Task EmptyFieldsThatMustBeFilledInAreNamed()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Administrator));
        await reader.OpenAsync("/courses/new");
        await reader.PressAsync("Make it");
        Assert.Equal(["Name: Must be filled in.", "What can be in the vials: Must be filled in."], await reader.Page.Locator(".faults li").AllInnerTextsAsync());

        await reader.OpenAsync("/keys");
        await reader.PressAsync("Make it");
        Assert.Equal(["Whom or what it is for: Must be filled in."], await reader.Page.Locator(".faults li").AllInnerTextsAsync());
    }

    [Fact]
    public async Task EmptyFormIsAskedForSomethingSeen()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/");
        await reader.PressAsync("What is it?");
        Assert.Contains("Enter something you saw", await reader.TextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task PressureWithoutARangeIsNotDropped()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/");
        await reader.FillAsync("Melting range", "236-238");
        await reader.FillAsync("at a pressure of", "10");
        await reader.PressAsync("What is it?");
        Assert.Equal(1, await reader.Page.Locator(".faults li").CountAsync());
    }

    [Fact]
    public async Task TwentyClicksSendOneRequest()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/");
        await reader.FillAsync("Melting range", "236-238");
        var posts = 0;
        reader.Page.Request += (_, request) => posts += request.Method == "POST" ? 1 : 0;
        await reader.Page.EvaluateAsync(
            "() => { const button = document.querySelector('main button[type=submit]'); for (let i = 0; i < 20; i++) button.click(); }");
        await reader.Page.Locator("#headline").WaitForAsync();
        Assert.Equal(1, posts);
    }

    // As another site would send it: the browser adds the session's cookies at most, and, should one have got there, a token of ours.
    [Theory]
    [InlineData(false, "Origin", "https://elsewhere.example")]
    [InlineData(true, "Origin", "https://elsewhere.example")]
    [InlineData(true, "Sec-Fetch-Site", "cross-site")]
    [InlineData(true, "Sec-Fetch-Site", "same-site")]
    public async Task FormOfAnotherSiteIsRefused(bool hasToken, string header, string value)
    {
        var gone = TestContext.Current.CancellationToken;
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Administrator));
        await reader.OpenAsync("/keys");
        var form = await reader.Page.Locator("main form[method=post]").First.EvaluateAsync<Dictionary<string, string>>("form => Object.fromEntries(new FormData(form))");
        var name = $"not of this site {Guid.NewGuid():N}";
        var cookies = await reader.Page.Context.CookiesAsync();
        using var elsewhere = new HttpClient(new HttpClientHandler { UseCookies = false, AllowAutoRedirect = false });

        using var refused = await SendAsync(hasToken, header, value);
        Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
        var told = await refused.Content.ReadAsStringAsync(gone);
        Assert.Contains("It came from another site", told, StringComparison.Ordinal);
        Assert.DoesNotContain(name, told, StringComparison.Ordinal);
        Assert.False(await IsMadeAsync());

        // The same form of this site is taken, so it is not refused for anything else.
        using var taken = await SendAsync(true, "Origin", shown.Service.Address);
        Assert.True(taken.StatusCode < HttpStatusCode.BadRequest, await taken.Content.ReadAsStringAsync(gone));
        Assert.True(await IsMadeAsync());

        async Task<HttpResponseMessage> SendAsync(bool withToken, string saying, string whence)
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, shown.Service.Address + "/keys");
            request.Headers.Add("Cookie", string.Join("; ", cookies.Select(cookie => $"{cookie.Name}={cookie.Value}")));
            request.Headers.Add(saying, whence);
            request.Content = new FormUrlEncodedContent(form.Where(field => withToken || field.Key != "__RequestVerificationToken")
                .Where(field => field.Key is not ("/name" or "/role")).Append(new("/name", name)).Append(new("/role", "student")));
            return await elsewhere.SendAsync(request, gone);
        }

        async Task<bool> IsMadeAsync()
        {
            using var administrator = shown.Service.Administrator();
            return await administrator.Keys.ListAsync(cancellationToken: gone).AnyAsync(key => key.Name == name, gone);
        }
    }

    [Fact]
    public async Task CookieIsReadByNoScriptAndSentToNoOtherSite()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.SignInAsync(shown.KeyOf(Role.Student));
        var cookie = Assert.Single(await reader.Page.Context.CookiesAsync(), cookie => cookie.Name == "derivid-session");
        Assert.True(cookie.HttpOnly);
        Assert.Equal(SameSiteAttribute.Lax, cookie.SameSite);
        Assert.DoesNotContain(shown.KeyOf(Role.Student)[21..], cookie.Value, StringComparison.Ordinal);
        await reader.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Sign out" }).First.ClickAsync();
        await reader.Page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Sign in" }).WaitForAsync();
        Assert.DoesNotContain(await reader.Page.Context.CookiesAsync(), left => left.Name == "derivid-session");
    }

    [Fact]
    public async Task SignedOutElsewhereTheSessionEnds()
    {
        var key = await shown.Service.KeyAsync(Role.Instructor);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.SignInAsync(key.Key);
        using (var administrator = shown.Service.Administrator())
        {
            await administrator.Keys.RevokeAsync(key.Details.Id, null, TestContext.Current.CancellationToken);
        }

        await reader.OpenAsync("/proposals");
        Assert.Equal("Sign in", await reader.HeadingAsync());
    }

    [Fact]
    public async Task PageAsksForAKeyWhereReadingNeedsOne()
    {
        await using var database = await server.NewDatabaseAsync();
        await using var closed = await PageUnderTest.StartAsync(database.ConnectionString, 0, ("Access:RequireKeyToRead", "true"));
        var key = await closed.KeyAsync(Role.Student);
        await using var reader = await Reader.SitDownAsync(browser, closed.Address);
        await reader.OpenAsync("/");
        Assert.Equal("Sign in", await reader.HeadingAsync());
        await reader.FillAsync("Key", key.Key);
        await reader.PressAsync("Sign in");
        await reader.FillAsync("Melting range", "236-238");
        await reader.PressAsync("What is it?");
        Assert.StartsWith("It is", await reader.HeadingAsync());
    }

    [Fact]
    public async Task SessionOfThePageOpensNoEndpoint()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Administrator));

        Assert.Equal(200, (await reader.AskAsync("/keys")).Status);
        Assert.Equal(401, (await reader.AskAsync("/api/v1/keys")).Status);
    }

    [Fact]
    public async Task WhoseAnswersAreKeptNoMoreIsStillAnswered()
    {
        var patience = TestContext.Current.CancellationToken;
        await using var database = await server.NewDatabaseAsync();
        await using var service = await PageUnderTest.StartAsync(database.ConnectionString, 0, ("RateLimits:StoredPerHour", "1000"));
        var key = (await service.KeyAsync(Role.Student)).Key;
        var answers = service.ClientWith(key).Identifications;
        IdentificationRequest Melted(int number) => new() { Derivatives = [new() { Kind = "semicarbazone", MeltingRange = $"{100 + (number / 10.0):0.0}" }] };
        await answers.IdentifyAsync([.. Enumerable.Range(0, BatchRequest.MostItems).Select(number => new BatchItem { Observation = Melted(number) })], cancellationToken: patience);
        await using var reader = await Reader.SitDownAsync(browser, service.Address);
        await reader.ComeSignedInAsync(key);

        // Room for another comes back every 3.6 s, so on a slow machine one of these may still be kept; it is spent again then.
        var (text, number) = ("", BatchRequest.MostItems);
        for (var time = 0; time < 20 && !text.Contains("this answer is not kept", StringComparison.Ordinal); time++)
        {
            await reader.OpenAsync("/");
            await reader.FillAsync("Melting range", "236-238");
            while (await IsKeptAsync(Melted(number++)))
            {
            }

            await reader.PressAsync("What is it?");
            Assert.StartsWith("It is", await reader.HeadingAsync());
            text = await reader.TextAsync();
        }

        Assert.Contains("this answer is not kept", text, StringComparison.Ordinal);

        async Task<bool> IsKeptAsync(IdentificationRequest observation)
        {
            try
            {
                await answers.IdentifyAsync(observation, store: true, patience);
                return true;
            }
            catch (DerividException refused) when (refused.Problem.Status == 429)
            {
                return false;
            }
        }
    }

    [Fact]
    public async Task ServiceGoneWhatWasTypedIsKeptAndBackItGoesOn()
    {
        await using var database = await server.NewDatabaseAsync();
        var service = await PageUnderTest.StartAsync(database.ConnectionString);
        var port = new Uri(service.Address).Port;
        await using var reader = await Reader.SitDownAsync(browser, service.Address);
        await reader.OpenAsync("/");
        await reader.FillAsync("Melting range", "236-238");
        await service.DisposeAsync();

        await reader.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "What is it?" }).ClickAsync();
        await reader.Page.GetByText("The service does not answer just now.").WaitForAsync();
        Assert.Equal("236-238", await reader.Page.GetByLabel("Melting range", new PageGetByLabelOptions { Exact = true }).First.InputValueAsync());

        await using var again = await PageUnderTest.StartAsync(database.ConnectionString, port);
        await reader.PressAsync("What is it?");
        Assert.StartsWith("It is", await reader.HeadingAsync());
    }

    // Every view, by whoever may see it, with the time a key is waited for that a service has by itself.
    [Fact]
    public async Task DatabaseGoneIdentificationGoesOnAndTheRestSaysWhy()
    {
        var gone = TestContext.Current.CancellationToken;
        await using var cluster = await PostgreSqlCluster.StartNewAsync(durable: true);
        await using var all = new ShownPage(cluster.ConnectionString, ("Access:KeyPatienceMilliseconds", "250"));
        await all.InitializeAsync();
        var readers = new Dictionary<Role, Reader>();
        foreach (var role in new[] { Role.Student, Role.Administrator })
        {
            readers[role] = await Reader.SitDownAsync(browser, all.Service.Address);
            await readers[role].ComeSignedInAsync(all.KeyOf(role));
        }

        await using var nobody = await Reader.SitDownAsync(browser, all.Service.Address);
        await using var student = readers[Role.Student];
        await using var instructor = readers[Role.Administrator];
        await nobody.OpenAsync("/");
        await student.OpenAsync(all.ReportBegun);
        await student.FillAsync("Melting range", "236-238");
        await student.FillAsync("Anything else", "typed as the database went (invented)");
        await instructor.OpenAsync("/courses/new");
        await instructor.FillAsync("Name", "Named as the database went (invented)");
        await instructor.FillAsync("What can be in the vials", "hexanal");
        await cluster.StopAsync();

        // Whoever asks is answered; what can't be kept says so.
        await nobody.FillAsync("Melting range", "236-238");
        await nobody.PressAsync("What is it?");
        Assert.StartsWith("It is", await nobody.HeadingAsync());
        Assert.Contains("this answer is not kept", await nobody.TextAsync(), StringComparison.Ordinal);

        // What was being typed is kept, and why it wasn't taken is said.
        await student.PressAsync("Save the draft");
        await SaysWhyAsync(student, "the report");
        Assert.Contains("typed as the database went (invented)", await student.Page.ContentAsync(), StringComparison.Ordinal);
        await instructor.PressAsync("Make it");
        await SaysWhyAsync(instructor, "the course");
        Assert.Contains("Named as the database went (invented)", await instructor.Page.ContentAsync(), StringComparison.Ordinal);

        // Who has more windows open finds the same in each.
        var told = new ConcurrentDictionary<string, int>();
        await Parallel.ForEachAsync(all.Views.Chunk(8), new ParallelOptions { MaxDegreeOfParallelism = 8, CancellationToken = gone }, async (views, _) =>
        {
            foreach (var of in views.GroupBy(view => view.Least == Role.Student ? Role.Student : Role.Administrator))
            {
                await using var window = await Reader.SitDownAsync(browser, all.Service.Address);
                await window.Page.Context.AddCookiesAsync((await readers[of.Key].Page.Context.CookiesAsync())
                    .Select(cookie => new Microsoft.Playwright.Cookie { Name = cookie.Name, Value = cookie.Value, Url = all.Service.Address }));
                foreach (var (address, _) in of)
                {
                    told[address] = (await window.OpenAsync(address)).Status;
                    if (told[address] == 503)
                    {
                        await SaysWhyAsync(window, address);
                    }
                }
            }
        });

        // The table is held in memory; the others ask the database for nothing until they are sent.
        Assert.Equal(
            ["/", "/courses/new", "/decide", "/keys/class", "/prepare", "/read", "/sign-in", "/table"],
            told.Where(each => each.Value == 200).Select(each => each.Key.Split('?')[0]).Distinct().Order(StringComparer.Ordinal));
        Assert.All(told.Values, status => Assert.True(status is 503 or 200 or 404, string.Join('\n', told)));

        // Back again, it goes on where it was left.
        await cluster.StartAsync();
        Assert.Equal(200, (await instructor.OpenAsync("/proposals")).Status);
        await student.PressAsync("Send it again");
        using var client = all.Service.ClientWith(all.KeyOf(Role.Student));
        Assert.Contains(
            await client.Reports.ListAsync(all.ReportBegun.Split('/')[2], gone).ToListAsync(gone), report => report.Notes == "typed as the database went (invented)");

        async Task SaysWhyAsync(Reader reader, string where)
        {
            var text = await reader.TextAsync();
            Assert.True(text.Contains("database", StringComparison.OrdinalIgnoreCase) && text.Contains("try again", StringComparison.OrdinalIgnoreCase), $"{where}: {text}");
        }
    }

    // The service does what it is asked to, and its answer gets lost on the way.
    private static async Task LoseAnswerAsync(Reader reader, string button)
    {
        await reader.Page.RouteAsync("**/*", async route =>
        {
            if (route.Request.Method == "POST")
            {
                await route.FetchAsync();
                await route.AbortAsync();
            }
            else
            {
                await route.ContinueAsync();
            }
        });
        await reader.Page.Locator("main").GetByRole(AriaRole.Button, new LocatorGetByRoleOptions { Name = button, Exact = true }).First.ClickAsync();
        await reader.Page.GetByText("The service does not answer just now.").First.WaitForAsync();
        await reader.Page.UnrouteAllAsync();
    }

    [Theory]
    [InlineData("/records/spot-tests/tollens", "Other names", "Propose the change")]
    [InlineData("/records/sources", "Citation", "Propose to add it")]
    [InlineData("/compounds/new?smiles=O%3DCCCCCCCCCCCCCCCCC&name=octadecanal%20(invented)", "Other names (may be empty)", "Propose to add it")]
    public async Task CuratorsFormKeepsWhatWasTypedWhileTheServiceIsGone(string address, string label, string button)
    {
        const string Words = "typed while the service was gone (invented)";
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await reader.OpenAsync(address);
        var field = reader.Page.GetByLabel(label, new PageGetByLabelOptions { Exact = true }).First;
        await field.FillAsync(Words);
        await reader.Page.RouteAsync("**/*", route => route.AbortAsync());
        await reader.Page.Locator("main").GetByRole(AriaRole.Button, new LocatorGetByRoleOptions { Name = button, Exact = true }).ClickAsync();
        await reader.Page.GetByText("The service does not answer just now.").WaitForAsync();
        Assert.Equal(Words, await field.InputValueAsync());
        await reader.Page.UnrouteAllAsync();

        // Also when the view is opened again meanwhile, but not by somebody else.
        await reader.OpenAsync(address);
        Assert.Equal(Words, await field.InputValueAsync());
        await reader.SignInAsync(shown.KeyOf(Role.Administrator));
        await reader.OpenAsync(address);
        Assert.NotEqual(Words, await field.InputValueAsync());
    }

    // A course of the student's, by themselves.
    private async Task<(Contracts.CourseItem Course, string Code)> HandedOutAsync(string name, DateTime? due)
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.Administrator();
        using var student = shown.Service.ClientWith(shown.KeyOf(Role.Student));
        var course = await instructor.Courses.CreateAsync(
            new Contracts.CourseRequest { Name = name, ShelfList = ["hexanal", "2-butanone"], DerivativeKinds = ["2-4-dinitrophenylhydrazone"], MostAttempts = 2, DueAt = due, IsInvented = true },
            null, gone);
        await instructor.Courses.PutRosterAsync(
            await instructor.Courses.GetAsync(course.Id, gone),
            [new Contracts.RosterStudent { Student = "me", Actor = "key:" + shown.KeyOf(Role.Student).Split('_')[1] }, new Contracts.RosterStudent { Student = "nobody" }], cancellationToken: gone);
        await instructor.Courses.HandOutAsync(course.Id, new Contracts.HandOutRequest(), null, gone);
        return (course, (await student.Courses.ListAssignmentsAsync(course.Id, false, gone).SingleAsync(gone)).Code);
    }

    // What a reader of the screen hears of a field beside its name.
    private static Task<string> DescriptionAsync(ILocator field) => field.EvaluateAsync<string>(
        "field => (field.getAttribute('aria-describedby') ?? '').split(' ').map(id => document.getElementById(id)?.textContent ?? '').join(' ')");
}
