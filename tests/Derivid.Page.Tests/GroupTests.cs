using Derivid.Contracts;
using Derivid.Core.Teaching;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>Students who share an unknown, as they and whoever marks them see it. Class and readings are made up.</summary>
public sealed class GroupTests(BrowserFixture browser, ShownPage shown) : IClassFixture<ShownPage>
{
    [Fact]
    public async Task GroupIsNamedFromTheRosterToTheGradeOfEach()
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.ClientWith(shown.KeyOf(Role.Instructor));
        using var student = shown.Service.ClientWith(shown.KeyOf(Role.Student));
        var course = (await instructor.Courses.CreateAsync(
            new CourseRequest
            {
                Name = "In groups (invented)",
                ShelfList = ["acetone", "2-butanone", "cyclohexanone", "benzaldehyde"],
                DerivativeKinds = ["2,4-DNPH", "semicarbazone"],
                SpotTests = ["tollens"],
                MostAttempts = 2,
                DueAt = new DateTimeOffset(2036, 3, 1, 12, 0, 0, TimeSpan.Zero),
            },
            cancellationToken: gone)).Id;
        await using var theirs = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await theirs.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await theirs.OpenAsync($"/courses/{course}/roster");
        await theirs.FillAsync("Students", $"student,actor,group\nme,{(await student.Keys.GetCurrentAsync(gone)).Actor},Night\nmate,,Night\nother,,");
        await theirs.PressAsync("Keep this roster");
        Assert.Contains("1 group of 2 students", await theirs.TextAsync(), StringComparison.Ordinal);
        await instructor.Courses.HandOutAsync(course, new HandOutRequest { UnknownsPerStudent = 2 }, cancellationToken: gone);
        await theirs.OpenAsync($"/courses/{course}");
        Assert.Contains("3 students, in 1 group", await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.OpenAsync($"/courses/{course}/labels");
        Assert.Contains("4 labels", await theirs.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("Night: mate, me", await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.OpenAsync($"/courses/{course}/extensions");
        Assert.Contains("The group is Night.", await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.FillAsync("Who has longer", "Night, 2036-03-08 10:00\nmate, 2036-03-08 11:00");
        await theirs.PressAsync("Keep these extensions");
        Assert.Equal(
            [("mate", 11), ("me", 10)], (await instructor.Courses.GetExtensionsAsync(course, gone)).Select(extension => (extension.Student, extension.DueAt.Hour)));

        await using var mine = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await mine.ComeSignedInAsync(shown.KeyOf(Role.Student));
        await mine.OpenAsync($"/courses/{course}");
        Assert.EndsWith($"/courses/{course}/mine", mine.Page.Url, StringComparison.Ordinal);
        var text = await mine.TextAsync();
        Assert.Contains("Reports are due", text, StringComparison.Ordinal);
        Assert.Contains("Report two ranges of the same derivative, crude and recrystallised.", text, StringComparison.Ordinal);
        Assert.Contains("−2 each", text, StringComparison.Ordinal);
        Assert.Contains("−3 a day", text, StringComparison.Ordinal);
        Assert.Contains("Shared by the group Night", text, StringComparison.Ordinal);
        Assert.Contains("your group’s extension", text, StringComparison.Ordinal);
        Assert.DoesNotContain("mate", text, StringComparison.Ordinal);
        var unknown = await student.Courses.ListAssignmentsAsync(course, cancellationToken: gone).FirstAsync(gone);
        var answer = (await instructor.Courses.ListAssignmentsAsync(course, true, gone).ToListAsync(gone)).Single(each => each.Student == "me" && each.Code == unknown.Code).Parent;

        // What is handed in empty leaves no draft, what the other saved is shown before it is replaced, and who hands in does so for all.
        await mine.OpenAsync($"/courses/{course}/mine/{unknown.Code}");
        Assert.True(await mine.Page.GetByLabel("Tollens", new PageGetByLabelOptions { Exact = false }).First.IsVisibleAsync());
        await mine.PressAsync("Hand it in");
        Assert.Contains("Nothing is filled in yet", await mine.TextAsync(), StringComparison.Ordinal);
        Assert.Empty(await student.Reports.ListAsync(course, gone).ToListAsync(gone));
        await mine.FillAsync("Anything else", "typed here");
        await mine.PressAsync("Save the draft");
        Assert.Contains("The draft is saved.", await mine.TextAsync(), StringComparison.Ordinal);
        var report = (await student.Reports.ListAsync(course, gone).SingleAsync(gone)).Id;
        await student.Reports.ChangeAsync(
            course, await student.Reports.GetAsync(course, report, gone), new ReportRequest { Assignment = unknown.Code, Notes = "from the other bench", IsDraft = true }, gone);
        await mine.PressAsync("Save the draft");
        text = await mine.TextAsync();
        Assert.Contains("Somebody changed this meanwhile", text, StringComparison.Ordinal);
        Assert.Contains("from the other bench", text, StringComparison.Ordinal);
        Assert.DoesNotContain("The draft is saved.", text, StringComparison.Ordinal);
        await mine.PressAsync("Hand it in");
        Assert.Contains("This hands in for the group Night, all of you", await mine.TextAsync(), StringComparison.Ordinal);
        await student.Reports.ChangeAsync(
            course, await student.Reports.GetAsync(course, report, gone), new ReportRequest { Assignment = unknown.Code, ClaimedParent = answer }, gone);

        var grading = await instructor.Grades.StartAsync(course, cancellationToken: gone);
        await instructor.Grades.FollowAsync(course, grading.Id, gone).LastAsync(gone);
        await theirs.OpenAsync($"/courses/{course}/reports");
        Assert.Contains("1 report handed in on 4 unknowns", await theirs.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("me, Night", await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.OpenAsync($"/courses/{course}/gradings/{grading.Id}");
        Assert.Contains("1 report graded", await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.FollowAsync("Change by hand", exact: false);
        Assert.Equal($"Grade of mate, {unknown.Code}", await theirs.HeadingAsync());
        Assert.Contains("Of the group Night", await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.ChooseAsync("For whom", "mate alone");
        await theirs.FillAsync("Why, or the comment", "You cleaned up");
        await theirs.PressAsync("Change it");
        Assert.Contains("for mate alone", await theirs.TextAsync(), StringComparison.Ordinal);
        var grades = await instructor.Grades.ListAsync(course, grading.Id, cancellationToken: gone).ToDictionaryAsync(grade => grade.Student!, grade => grade.Comment, cancellationToken: gone);
        Assert.Equal(new Dictionary<string, string?> { ["mate"] = "You cleaned up", ["me"] = null }, grades);

        await theirs.OpenAsync($"/courses/{course}/gradings/{grading.Id}/publication");
        Assert.Contains("reports missing, of", await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.TickAsync("Do it all the same");
        await theirs.PressAsync("Publish them");
        await mine.OpenAsync($"/courses/{course}/mine");
        text = await mine.TextAsync();
        Assert.Contains("points", text, StringComparison.Ordinal);
        Assert.DoesNotContain("You cleaned up", text, StringComparison.Ordinal);
        Assert.Contains(", which is what you were given. 10 of 10 points.", text, StringComparison.Ordinal);
        Assert.Contains("nothing was handed in, so there are no points for it.", text, StringComparison.Ordinal);
        Assert.Contains("Reports were due", text, StringComparison.Ordinal);
    }
}
