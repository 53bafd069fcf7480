using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Cli.Tests;

/// <summary>derivid course: an instructor's week. Class and readings are made up.</summary>
public sealed partial class CourseTests(ServiceUnderTest service) : IAsyncLifetime
{
    private const int Students = 40;

    private static readonly string[] Described =
    [
        "course", "create", "--name", "Made up for a test", "--shelf", "acetone", "2-butanone", "pentan-3-one", "cyclohexanone", "benzaldehyde",
        "acetophenone", "--kind", "2,4-DNPH", "semicarbazone", "--spot-test", "Tollens", "iodoform", "--invented",
    ];

    private readonly string _folder = Directory.CreateTempSubdirectory("derivid-cli-").FullName;
    private Shell _shell = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        using var administrator = DerividClient.Connect(service.Address, ServiceUnderTest.AdministratorKey);
        var made = await administrator.Keys.CreateAsync(new KeyRequest { Name = "made up", Role = Role.Instructor }, cancellationToken: Token);
        _shell = Shell.With(service, made.Key);
    }

    public ValueTask DisposeAsync()
    {
        Directory.Delete(_folder, recursive: true);
        return ValueTask.CompletedTask;
    }

    [Fact]
    public async Task WeekOfFortyStudentsTakesTwelveCommandsFromNothingToTheGradebook()
    {
        var commands = 0;
        var roster = await FileAsync("roster.csv", "student,bench,place\n" + string.Concat(
            Enumerable.Range(1, Students).Select(n => string.Create(CultureInfo.InvariantCulture, $"s{n:00},{(char)('A' + (n / 8))},{n % 8}\n"))));
        var (sheet, labels, vials, grades, book) = (At("keys.html"), At("labels.html"), At("vials.csv"), At("grades.csv"), At("book.csv"));

        var id = (await TypeAsync([.. Described, "--due-at", "2099-01-01T17:00+02:00", "--attempts", "2"])).Output.Trim();
        await TypeAsync("course", "roster", "load", id, roster);
        await TypeAsync("course", "keys", id, "--sheet", sheet);
        await TypeAsync("course", "hand-out", id);
        await TypeAsync("course", "labels", id, "-o", labels);
        var filling = await TypeAsync("course", "filling", id, "--millilitres", "2", "--milligrams", "500", "-o", vials);
        await TypeAsync("course", "extend", id, "s01", "s40", "--until", "2099-01-08T17:00+02:00");
        await HandInAsync(id, await File.ReadAllTextAsync(sheet, Token));
        var status = await TypeAsync("course", "status", id);
        await TypeAsync("course", "grade", id, "-o", grades);
        var report = (await File.ReadAllLinesAsync(grades, Token))[1].Split(',')[0];
        await TypeAsync("course", "moderate", id, report, "--reason", "Well argued");
        await TypeAsync("course", "publish", id, "--before-due");
        await TypeAsync("course", "gradebook", id, "-o", book);

        Assert.Equal(12, commands);
        Assert.Equal(Students, Key().Count(await File.ReadAllTextAsync(sheet, Token)));
        Assert.Equal(Students, (await File.ReadAllTextAsync(sheet, Token)).Split($"<span>Sign in at {service.Address.AbsoluteUri.TrimEnd('/')}/sign-in</span>").Length - 1);
        if (!OperatingSystem.IsWindows())
        {
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(sheet));
        }

        // Eight students a bench, the last bench of one; two millilitres a vial.
        var rows = (await File.ReadAllLinesAsync(vials, Token)).Skip(1).ToList();
        Assert.Equal(Students, rows.Count);
        Assert.Contains("propanone", filling.Output, StringComparison.Ordinal);
        Assert.All(rows, row => Assert.DoesNotContain(row.Split(',')[4], filling.Error, StringComparison.Ordinal));
        var codes = rows.Select(row => row.Split(',')[4]).ToList();
        var printed = await File.ReadAllTextAsync(labels, Token);
        Assert.All(codes, code => Assert.Contains(code, printed, StringComparison.Ordinal));
        Assert.Single(Regex.Matches(printed, "<small>(.*?)</small>").Select(caution => caution.Groups[1].Value).Distinct());
        Assert.Contains("handed in: 40 reports on 40 of 40 unknowns", status.Output, StringComparison.Ordinal);
        Assert.Contains("longer has: s40, 2099-01-08 15:00Z", status.Output, StringComparison.Ordinal);
        Assert.Contains($"next: derivid course grade {id}", status.Output, StringComparison.Ordinal);

        var percentages = (await File.ReadAllLinesAsync(book, Token)).Skip(1).Select(row => row.Split(',')).ToList();
        Assert.Equal(Students, percentages.Count);
        Assert.All(percentages, row => Assert.Equal("fully graded", row[1]));
        Assert.All(percentages, row => Assert.InRange(double.Parse(row[2], CultureInfo.InvariantCulture), 1, 100));
        Assert.Contains("Well argued", await File.ReadAllTextAsync(book, Token), StringComparison.Ordinal);

        async Task<Ran> TypeAsync(params string[] words)
        {
            commands++;
            return (await _shell.RunAsync(words)).Exits(ExitCode.Done);
        }
    }

    [Fact]
    public async Task RosterThatDropsSomebodyWithAKeyIsTakenWithYesOnly()
    {
        var id = await CreateAsync();
        var both = await FileAsync("both.csv", "student,e-mail\ns1,one@example.edu\ns2,two@example.edu\n");
        var one = await FileAsync("one.csv", "student\ns1\n");
        var taken = (await _shell.RunAsync("course", "roster", "load", id, both)).Exits(ExitCode.Done);
        var keys = (await _shell.RunAsync("course", "keys", id)).Exits(ExitCode.Done);

        var refused = (await _shell.RunAsync("course", "roster", "load", id, one)).Exits(ExitCode.Refused);
        var still = (await _shell.RunAsync("course", "roster", "show", id, "--json")).Exits(ExitCode.Done).Json;
        var yes = (await _shell.RunAsync("course", "roster", "load", id, one, "--yes")).Exits(ExitCode.Done);

        Assert.Contains("e-mail", taken.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("example.edu", taken.Output + taken.Error, StringComparison.Ordinal);
        Assert.Equal(2, Key().Count(keys.Output));
        Assert.Contains("--yes", refused.Error, StringComparison.Ordinal);
        Assert.Contains("s2 falls out", refused.Error, StringComparison.Ordinal);
        Assert.Equal(2, still.GetArrayLength());
        Assert.Contains("1 student", yes.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task StaffIsAddedToAndTakenFromByItsOwners()
    {
        using var administrator = DerividClient.Connect(service.Address, ServiceUnderTest.AdministratorKey);
        var script = await administrator.Keys.CreateAsync(new KeyRequest { Name = "made up", Role = Role.Grader }, cancellationToken: Token);
        var (id, actor, grader) = (await CreateAsync(), "key:" + script.Details.Id, Shell.With(service, script.Key));
        (await grader.RunAsync("course", "status", id)).Exits(ExitCode.Refused);
        var added = (await _shell.RunAsync("course", "staff", id, "--add", actor)).Exits(ExitCode.Done);
        var shown = (await grader.RunAsync("course", "staff", id, "--json")).Exits(ExitCode.Done).Json.EnumerateArray().ToList();
        var owner = shown.Select(member => member.GetProperty("actor").GetString()!).Single(member => member != actor);
        (await grader.RunAsync("course", "staff", id, "--remove", owner)).Exits(ExitCode.Refused);
        (await _shell.RunAsync("course", "staff", id, "--owner", actor)).Exits(ExitCode.Refused);
        (await _shell.RunAsync("course", "staff", id, "--remove", "key:0000000000000000")).Exits(ExitCode.Usage);
        (await _shell.RunAsync("course", "staff", id, "--add", actor, "--remove", actor)).Exits(ExitCode.Usage);
        var left = (await _shell.RunAsync("course", "staff", id, "--remove", actor)).Exits(ExitCode.Done);
        (await grader.RunAsync("course", "status", id)).Exits(ExitCode.Refused);

        Assert.Contains(actor, added.Output, StringComparison.Ordinal);
        Assert.Equal(2, shown.Count);
        Assert.DoesNotContain(actor, left.Output, StringComparison.Ordinal);
        Assert.Contains("owner", left.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task SheetIsNeverWrittenOverAndLeftWhereNoKeysAreMade()
    {
        var id = await CreateAsync();
        var sheet = await FileAsync("keys.html", "here already");
        await LoadAsync(id, 1);

        (await _shell.RunAsync("course", "keys", id, "--sheet", sheet)).Exits(ExitCode.Usage);
        (await _shell.RunAsync("course", "keys", id, "--student", "nobody", "--sheet", At("other.html"))).Exits(ExitCode.Refused);

        Assert.Equal("here already", await File.ReadAllTextAsync(sheet, Token));
        Assert.False(File.Exists(At("other.html")));
    }

    [Fact]
    public async Task HoursAreChangedAndWhatIsNotNamedStays()
    {
        var id = await CreateAsync("--grace-minutes", "15", "--best", "--attempts", "3", "--due-at", "2026-03-14T12:00Z");
        var before = (await _shell.RunAsync("course", "status", id, "--json")).Exits(ExitCode.Done).Json.GetProperty("course");
        var closed = (await _shell.RunAsync("course", "close", id, "--json")).Exits(ExitCode.Done).Json;
        var open = (await _shell.RunAsync("course", "open", id, "--json")).Exits(ExitCode.Done).Json;
        var changed = (await _shell.RunAsync("course", "change", id, "--best", "false", "--examination", "--json")).Exits(ExitCode.Done).Json;
        (await _shell.RunAsync("course", "close", id, "--at", "2026-03-14T12:00Z")).Exits(ExitCode.AnswerIsNo);

        Assert.True(closed.GetProperty("closesAt").GetDateTime() <= DateTime.UtcNow);
        Assert.False(open.TryGetProperty("closesAt", out _));
        Assert.Equal("last", changed.GetProperty("countedAttempt").GetString());
        Assert.True(changed.GetProperty("isExamination").GetBoolean());
        Assert.Equal((15, 3), (changed.GetProperty("graceMinutes").GetInt32(), changed.GetProperty("mostAttempts").GetInt32()));
        foreach (var kept in new[] { "shelfList", "derivativeKinds", "spotTests", "rubric", "dueAt", "tableVersion", "isInvented", "name" })
        {
            Assert.True(JsonElement.DeepEquals(before.GetProperty(kept), changed.GetProperty(kept)), kept);
        }
    }

    [Fact]
    public async Task NothingIsPublishedByChanceAndAnEarlierGradingIsSaidToBeOne()
    {
        var id = await CreateAsync("--attempts", "2");
        await LoadAsync(id, 2);
        (await _shell.RunAsync("course", "hand-out", id)).Exits(ExitCode.Done);
        var unknowns = await UnknownsAsync(id);
        (await _shell.RunAsync("course", "publish", id)).Exits(ExitCode.AnswerIsNo);

        await HandInAsync(_shell, id, unknowns[0]);
        var first = (await _shell.RunAsync("course", "grade", id, "--idempotency-key", "friday")).Exits(ExitCode.Done);
        await HandInAsync(_shell, id, unknowns[1]);
        var partial = (await _shell.RunAsync("course", "publish", id)).Exits(ExitCode.AnswerIsNo);
        var again = (await _shell.RunAsync("course", "grade", id, "--idempotency-key", "friday")).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "grade", id)).Exits(ExitCode.Done);
        await HandInAsync(_shell, id, unknowns[1]);
        var stale = (await _shell.RunAsync("course", "publish", id)).Exits(ExitCode.AnswerIsNo);
        (await _shell.RunAsync("course", "grade", id)).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "publish", id)).Exits(ExitCode.Done);

        Assert.DoesNotContain("with the same word", first.Error, StringComparison.Ordinal);
        Assert.Contains("asked for with the same word", again.Error, StringComparison.Ordinal);
        Assert.All((Ran[])[partial, stale], ran => Assert.Contains("lacks reports that count, of s2. Nothing is published", ran.Error, StringComparison.Ordinal));
    }

    // Two reports of one student are as many as there are unknowns; the other's is missing all the same.
    [Fact]
    public async Task GradingOfOneStudentWithTwoReportsIsNotTakenForOneOfAll()
    {
        var id = await CreateAsync("--attempts", "2", "--best");
        await LoadAsync(id, 2);
        (await _shell.RunAsync("course", "hand-out", id)).Exits(ExitCode.Done);
        var unknowns = await UnknownsAsync(id);
        var (first, second) = (unknowns.Single(unknown => unknown.Student == "s1"), unknowns.Single(unknown => unknown.Student == "s2"));
        await HandInAsync(_shell, id, first);
        await HandInAsync(_shell, id, first);
        await HandInAsync(_shell, id, second);
        (await _shell.RunAsync("course", "grade", id, "--student", "s1")).Exits(ExitCode.Done);
        var partial = (await _shell.RunAsync("course", "publish", id)).Exits(ExitCode.AnswerIsNo);
        var status = (await _shell.RunAsync("course", "status", id, "--json")).Exits(ExitCode.Done).Json.GetProperty("course");
        (await _shell.RunAsync("course", "grade", id)).Exits(ExitCode.Done);
        var published = (await _shell.RunAsync("course", "publish", id)).Exits(ExitCode.Done);

        Assert.Contains("lacks reports that count, of s2. Nothing is published", partial.Error, StringComparison.Ordinal);
        Assert.False(status.TryGetProperty("publishedGrading", out _));
        Assert.DoesNotContain("Not in this grading", published.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task GradingThatCouldNotGradeAReportIsPublishedWhereItIsNamed()
    {
        var id = await CreateAsync();
        await LoadAsync(id, 1);
        (await _shell.RunAsync("course", "hand-out", id)).Exits(ExitCode.Done);
        await HandInAsync(_shell, id, (await UnknownsAsync(id))[0]);
        (await _shell.RunAsync("course", "grade", id)).Exits(ExitCode.Done);
        string grading;
        await using (var context = await service.Services.GetRequiredService<IDbContextFactory<DerividContext>>().CreateDbContextAsync(Token))
        {
            grading = (await context.Gradings.SingleAsync(row => row.CourseId == id, Token)).Id;
            await context.GradingEntries.Where(row => row.GradingId == grading)
                .ExecuteUpdateAsync(row => row.SetProperty(entry => entry.Problem, "Made up for a test."), Token);
        }

        var refused = (await _shell.RunAsync("course", "publish", id)).Exits(ExitCode.AnswerIsNo);
        (await _shell.RunAsync("course", "publish", id, "--grading", grading)).Exits(ExitCode.Done);

        Assert.Contains($"could not grade reports of s1. Nothing is published. derivid course grade {id}", refused.Error, StringComparison.Ordinal);
        Assert.Contains($"--grading {grading}", refused.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task PracticeCountsForNothingAndSaysSo()
    {
        var id = await CreateAsync("--practice", "--due-at", "2099-01-01T17:00Z");
        await LoadAsync(id, 1);
        (await _shell.RunAsync("course", "hand-out", id)).Exits(ExitCode.Done);
        await HandInAsync(_shell, id, (await UnknownsAsync(id))[0]);
        (await _shell.RunAsync("course", "grade", id)).Exits(ExitCode.Done);
        var published = (await _shell.RunAsync("course", "publish", id)).Exits(ExitCode.Done);
        var status = (await _shell.RunAsync("course", "status", id)).Exits(ExitCode.Done);
        var book = (await _shell.RunAsync("course", "gradebook", id)).Exits(ExitCode.Done);
        var results = (await _shell.RunAsync(
            "course", "results", id, "--class", "c", "--category", "g", "--session", "t", "--school", "s", "-o", At("results.zip"))).Exits(ExitCode.Refused);

        Assert.All((Ran[])[published, status, book], ran => Assert.Contains("nothing counts", ran.Output, StringComparison.Ordinal));
        Assert.Contains("practice", results.Error, StringComparison.Ordinal);
        Assert.False(File.Exists(At("results.zip")));
        (await _shell.RunAsync("course", "change", id, "--practice", "false")).Exits(ExitCode.Refused);
    }

    [Fact]
    public async Task MarkersReadCodesUntilGradesArePublishedAndNamesBesideThemAfterwards()
    {
        var id = await CreateAsync("--anonymous", "--attempts", "2");
        var roster = await FileAsync("roster.csv", "student,bench,place\nanneliese.k,north-window,1\nbenedikt.w,north-window,2\n");
        (await _shell.RunAsync("course", "roster", "load", id, roster)).Exits(ExitCode.Done);
        var keys = (await _shell.RunAsync("course", "keys", id, "--student", "anneliese.k")).Exits(ExitCode.Done);
        var anneliese = Shell.With(service, Key().Match(keys.Output).Value);
        (await _shell.RunAsync("course", "hand-out", id)).Exits(ExitCode.Done);
        var unknowns = await UnknownsAsync(id);
        await HandInAsync(anneliese, id, unknowns[0]);
        var grades = At("grades.csv");
        var graded = (await _shell.RunAsync("course", "grade", id, "-o", grades)).Exits(ExitCode.Done);
        var (header, row) = ((await File.ReadAllLinesAsync(grades, Token))[0].Split(','), (await File.ReadAllLinesAsync(grades, Token))[1].Split(','));
        var (report, code) = (row[0], row[Array.IndexOf(header, "marking_code")]);
        (await _shell.RunAsync("course", "moderate", id, report, "--reason", "Well argued")).Exits(ExitCode.Done);
        await HandInAsync(anneliese, id, unknowns[0]);
        var lacking = (await _shell.RunAsync("course", "publish", id)).Exits(ExitCode.AnswerIsNo);
        var advised = (await _shell.RunAsync("course", "status", id)).Exits(ExitCode.Done);
        var partial = (await _shell.RunAsync("course", "status", id, "--json")).Exits(ExitCode.Done).Json;
        (await _shell.RunAsync("course", "publish", id, "--grading", partial.GetProperty("newestGrading").GetProperty("id").GetString()!)).Exits(ExitCode.Refused);
        var some = (await _shell.RunAsync("course", "grade", id, "--student", code, "--explain")).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "grade", id, "--student", "anneliese.k")).Exits(ExitCode.Refused);
        var book = (await _shell.RunAsync("course", "gradebook", id)).Exits(ExitCode.Refused);
        var before = (await _shell.RunAsync("course", "status", id)).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "publish", id)).Exits(ExitCode.Done);
        var after = (await _shell.RunAsync("course", "grade", id, "--explain")).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "gradebook", id)).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "change", id, "--anonymous", "false")).Exits(ExitCode.Refused);

        Assert.Contains($"lacks reports that count, of {code}", lacking.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("--grading", lacking.Error, StringComparison.Ordinal);
        Assert.Contains("not in it: 1 report that counts", advised.Output, StringComparison.Ordinal);
        Assert.Contains($"next: grade again, derivid course grade {id}", advised.Output, StringComparison.Ordinal);
        Assert.Equal(1, partial.GetProperty("lacking").GetInt32());
        Assert.Contains($"next: derivid course publish {id}", before.Output, StringComparison.Ordinal);
        Assert.Contains("marked anonymously", book.Error, StringComparison.Ordinal);
        Assert.Contains("marked anonymously", before.Output, StringComparison.Ordinal);
        Assert.Contains("handed in: 2 reports on 1 of 2 unknowns", before.Output, StringComparison.Ordinal);
        Assert.Contains($"{code}, unknown 1: ", some.Output, StringComparison.Ordinal);
        Assert.Contains($"anneliese.k ({code}), {unknowns[0].Code}: ", after.Output, StringComparison.Ordinal);
        foreach (var text in (string[])[graded.Output, await File.ReadAllTextAsync(grades, Token), lacking.Error, advised.Output, some.Output, before.Output])
        {
            Assert.All((string[])["anneliese.k", "benedikt.w", "north-window", .. unknowns.Select(unknown => unknown.Code)], secret =>
                Assert.DoesNotContain(secret, text, StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task CourseIsPutAwayAndDeletedWithYesOnly()
    {
        var id = await CreateAsync();
        (await _shell.RunAsync("course", "archive", id)).Exits(ExitCode.Done);
        var listed = (await _shell.RunAsync("course", "list")).Exits(ExitCode.Done);
        var archived = (await _shell.RunAsync("course", "list", "--archived")).Exits(ExitCode.Done);
        var status = (await _shell.RunAsync("course", "status", id)).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "change", id, "--attempts", "3")).Exits(ExitCode.Refused);
        (await _shell.RunAsync("course", "archive", id, "--take-back")).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "delete", id, "--yes")).Exits(ExitCode.Refused);
        (await _shell.RunAsync("course", "archive", id)).Exits(ExitCode.Done);
        var asked = (await _shell.RunAsync("course", "delete", id)).Exits(ExitCode.AnswerIsNo);
        var deleted = (await _shell.RunAsync("course", "delete", id, "--yes")).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "status", id)).Exits(ExitCode.Refused);

        Assert.DoesNotContain(id, listed.Output, StringComparison.Ordinal);
        Assert.Contains(id, archived.Output, StringComparison.Ordinal);
        Assert.Contains("archived", status.Output, StringComparison.Ordinal);
        Assert.Contains("0 reports handed in would be gone for good", asked.Error, StringComparison.Ordinal);
        Assert.All(CourseDeleted.Remains, kept => Assert.Contains(kept, deleted.Output, StringComparison.Ordinal));
    }

    // Nothing was handed in, so there is nothing to be graded or published either.
    [Fact]
    public async Task CourseWithoutAReportIsClosedBeforeItsDueDateAndPutAway()
    {
        var id = await CreateAsync("--due-at", "2099-01-01T17:00Z", "--grace-minutes", "20");
        await LoadAsync(id, 2);
        (await _shell.RunAsync("course", "hand-out", id)).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "extend", id, "s2", "--until", "2099-01-08T17:00Z")).Exits(ExitCode.Done);
        var asked = (await _shell.RunAsync("course", "close", id)).Exits(ExitCode.AnswerIsNo);
        (await _shell.RunAsync("course", "archive", id)).Exits(ExitCode.Refused);
        var closed = (await _shell.RunAsync("course", "close", id, "--before-due", "--json")).Exits(ExitCode.Done);
        var open = (await _shell.RunAsync("course", "archive", id)).Exits(ExitCode.Refused);
        var waiting = (await _shell.RunAsync("course", "status", id)).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "extend", id, "s2", "--take-back")).Exits(ExitCode.Done);
        var over = (await _shell.RunAsync("course", "status", id)).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "archive", id)).Exits(ExitCode.Done);

        Assert.Contains("not due before 2099-01-01 17:00Z, nor late for 20 minutes more. Nothing is changed.", asked.Error, StringComparison.Ordinal);
        Assert.Equal(TimeSpan.FromMinutes(20), closed.Json.GetProperty("closesAt").GetDateTime() - closed.Json.GetProperty("dueAt").GetDateTime());
        Assert.Contains("s2 has longer, and hands in until 2099-01-08 17:20Z", closed.Error, StringComparison.Ordinal);
        Assert.Contains("takes reports until 2099-01-08T17:20:00Z: longer has s2.", open.Error, StringComparison.Ordinal);
        Assert.Contains("next: reports are waited for", waiting.Output, StringComparison.Ordinal);
        Assert.Contains("next: nothing was handed in", over.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("course", "create", "--name", "No shelf")]
    [InlineData("course", "create", "--shelf", "acetone")]
    [InlineData("course", "extend", "0123456789abcdef", "s1")]
    [InlineData("course", "extend", "0123456789abcdef", "--until", "2099-01-01T17:00Z")]
    [InlineData("course", "extend", "0123456789abcdef", "s1", "--until", "2099-01-01T17:00Z", "--take-back")]
    [InlineData("course", "results", "0123456789abcdef")]
    public async Task HalfACommandIsAUsageError(params string[] words) => (await _shell.RunAsync(words)).Exits(ExitCode.Usage);

    [Fact]
    public async Task ExtensionIsTakenBackAndOthersStay()
    {
        var id = await CreateAsync("--due-at", "2099-01-01T17:00Z");
        await LoadAsync(id, 3);
        (await _shell.RunAsync("course", "extend", id, "s1", "s2", "--until", "2099-01-08T17:00Z")).Exits(ExitCode.Done);
        (await _shell.RunAsync("course", "extend", id, "s3", "--until", "2099-01-09T17:00Z")).Exits(ExitCode.Done);
        var left = (await _shell.RunAsync("course", "extend", id, "s1", "--take-back", "--json")).Exits(ExitCode.Done).Json;

        Assert.Equal(["s2", "s3"], left.EnumerateArray().Select(extension => extension.GetProperty("student").GetString()!));
    }

    // Two groups of two and somebody alone. s2 hands in for s1 as well; both have the points, but that s1 is given none for the compound.
    [Fact]
    public async Task GroupsGoFromTheRosterToTheGradebook()
    {
        var id = await CreateAsync("--due-at", "2099-01-01T17:00Z");
        var roster = await FileAsync("groups.csv", "student,group\ns1,Red\ns2,Red\ns3,Blue\ns4,Blue\ns5,\n");
        var loaded = (await _shell.RunAsync("course", "roster", "load", id, roster)).Exits(ExitCode.Done);
        var keys = (await _shell.RunAsync("course", "keys", id)).Exits(ExitCode.Done).Output;
        (await _shell.RunAsync("course", "hand-out", id)).Exits(ExitCode.Done);
        var labels = (await _shell.RunAsync("course", "labels", id)).Exits(ExitCode.Done).Output;
        var vials = (await _shell.RunAsync("course", "filling", id, "--json")).Exits(ExitCode.Done).Json;
        var extended = (await _shell.RunAsync("course", "extend", id, "--group", "Blue", "--until", "2099-01-08T17:00Z", "--json")).Exits(ExitCode.Done).Json;
        (await _shell.RunAsync("course", "extend", id, "--group", "Green", "--until", "2099-01-08T17:00Z")).Exits(ExitCode.Usage);
        var second = Shell.With(service, Regex.Match(keys, @"s2\t(\S+)").Groups[1].Value);
        var unknown = (await UnknownsAsync(id)).Single(each => each.Student == "s1");
        await HandInAsync(second, id, unknown);
        var status = (await _shell.RunAsync("course", "status", id)).Exits(ExitCode.Done);
        var graded = (await _shell.RunAsync("course", "grade", id, "--json")).Exits(ExitCode.Done).Json.GetProperty("grades");
        var report = graded[0].GetProperty("report").GetString()!;
        var moderated = (await _shell.RunAsync("course", "moderate", id, report, "--student", "s1", "--criterion", "rightCompound", "--points", "0", "--reason", "Wasn't there")).Exits(ExitCode.Done);
        var early = (await _shell.RunAsync("course", "publish", id)).Exits(ExitCode.Refused);
        (await _shell.RunAsync("course", "publish", id, "--before-due")).Exits(ExitCode.Done);
        var book = (await _shell.RunAsync("course", "gradebook", id, "--json")).Exits(ExitCode.Done).Json.GetProperty("students")
            .EnumerateArray().ToDictionary(row => row.GetProperty("student").GetString()!, row => row.GetProperty("percentage").GetDouble());

        Assert.Contains("Red", loaded.Output, StringComparison.Ordinal);
        Assert.Contains("until 2099-01-08T17:00:00Z, and 2 of 3 unknowns have none yet", early.Error, StringComparison.Ordinal);
        Assert.Contains("run it again with --before-due", early.Error, StringComparison.Ordinal);
        Assert.Contains("2 groups of 4 students", loaded.Error, StringComparison.Ordinal);
        Assert.Contains("<span>Red: s1, s2</span>", labels, StringComparison.Ordinal);
        Assert.Equal(3, vials.GetProperty("items").EnumerateArray().Sum(item => item.GetProperty("vials").GetInt32()));
        Assert.Equal(["s3", "s4"], extended.EnumerateArray().Select(extension => extension.GetProperty("student").GetString()!));
        Assert.Contains("handed in: 1 report on 1 of 3 unknowns", status.Output, StringComparison.Ordinal);
        Assert.Equal(["s1", "s2"], graded.EnumerateArray().Select(grade => grade.GetProperty("student").GetString()!));
        Assert.StartsWith("s1: rightCompound: 0 points in place of", moderated.Output, StringComparison.Ordinal);
        Assert.Equal(["s1", "s2", "s3", "s4", "s5"], book.Keys);
        Assert.InRange(book["s1"], 0, book["s2"] - 1);
        Assert.Equal([0, 0, 0], book.Where(row => row.Key is not ("s1" or "s2")).Select(row => row.Value));
    }

    private string At(string name) => Path.Combine(_folder, name);

    private async Task<string> FileAsync(string name, string text)
    {
        await File.WriteAllTextAsync(At(name), text, Token);
        return At(name);
    }

    private async Task<string> CreateAsync(params string[] further) =>
        (await _shell.RunAsync([.. Described, .. further])).Exits(ExitCode.Done).Output.Trim();

    private async Task LoadAsync(string id, int students) =>
        (await (_shell with { Input = "student\n" + string.Concat(Enumerable.Range(1, students).Select(n => $"s{n}\n")) })
            .RunAsync("course", "roster", "load", id, "-")).Exits(ExitCode.Done);

    private async Task<List<AssignmentItem>> UnknownsAsync(string id)
    {
        using var client = DerividClient.Connect(service.Address, _shell.Variables["DERIVID_KEY"]);
        return await client.Courses.ListAssignmentsAsync(id, withIdentities: true, Token).ToListAsync(Token);
    }

    private static async Task HandInAsync(Shell shell, string id, AssignmentItem unknown)
    {
        using var client = DerividClient.Connect(shell.Service.Address, shell.Variables["DERIVID_KEY"]);
        await client.Reports.CreateAsync(id, Report(unknown.Code, unknown.Parent), cancellationToken: Token);
    }

    // Each with the key of its slip of paper, and of no other.
    private async Task HandInAsync(string id, string sheet)
    {
        var slips = Slip().Matches(sheet).ToDictionary(slip => slip.Groups[1].Value, slip => slip.Groups[2].Value);
        foreach (var unknown in await UnknownsAsync(id))
        {
            using var client = DerividClient.Connect(service.Address, slips[unknown.Student]);
            var own = await client.Courses.ListAssignmentsAsync(id, cancellationToken: Token).SingleAsync(Token);
            Assert.Equal(unknown.Code, own.Code);
            await client.Reports.CreateAsync(id, Report(own.Code, unknown.Parent), cancellationToken: Token);
        }
    }

    private static ReportRequest Report(string code, string? claim) => new()
    {
        Assignment = code,
        Observation = new IdentificationRequest { Derivatives = [new DerivativeObserved { Kind = "2,4-DNPH", MeltingRange = "125-127 °C" }] },
        ClaimedParent = claim,
        Reasoning = "made up",
    };

    [GeneratedRegex("dvd_[0-9a-f]+_[0-9a-f]+")]
    private static partial Regex Key();

    [GeneratedRegex("<strong>(.*?)</strong><code>(.*?)</code>")]
    private static partial Regex Slip();
}
