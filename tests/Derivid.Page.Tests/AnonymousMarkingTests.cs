using Derivid.Contracts;
using Derivid.Core.Teaching;

namespace Derivid.Page.Tests;

/// <summary>A course marked anonymously, as whoever marks it sees it before and after publication. Class and readings are made up.</summary>
public sealed class AnonymousMarkingTests(BrowserFixture browser, ShownPage shown) : IClassFixture<ShownPage>
{
    private const string Name = "anneliese.k";

    [Fact]
    public async Task NoViewNamesAStudentBesideAReportUntilGradesArePublished()
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.ClientWith(shown.KeyOf(Role.Instructor));
        using var student = shown.Service.ClientWith(shown.KeyOf(Role.Student));
        var course = (await instructor.Courses.CreateAsync(
            new CourseRequest
            {
                Name = "Marked blind (invented)",
                ShelfList = ["acetone", "2-butanone", "cyclohexanone", "benzaldehyde"],
                DerivativeKinds = ["2,4-DNPH", "semicarbazone"],
                IsMarkedAnonymously = true,
                DueAt = new DateTimeOffset(2036, 3, 1, 12, 0, 0, TimeSpan.Zero),
            },
            cancellationToken: gone)).Id;
        await instructor.Courses.PutRosterAsync(
            await instructor.Courses.GetAsync(course, gone),
            [new RosterStudent { Student = Name, Bench = "north-window", Place = 1, Actor = (await student.Keys.GetCurrentAsync(gone)).Actor }, new RosterStudent { Student = "caspar.v" }],
            cancellationToken: gone);
        await instructor.Courses.HandOutAsync(course, new HandOutRequest(), cancellationToken: gone);
        var code = (await student.Courses.ListAssignmentsAsync(course, cancellationToken: gone).SingleAsync(gone)).Code;
        await using var mine = await Reader.SitDownAsync(browser, shown.Service.Address);
        await mine.ComeSignedInAsync(shown.KeyOf(Role.Student));
        await mine.OpenAsync($"/courses/{course}/mine");
        Assert.Contains("write nothing in a report that tells who you are", await mine.TextAsync(), StringComparison.Ordinal);
        await mine.FollowAsync("Write your report");
        Assert.Equal(2, await mine.Page.GetByText("write nothing here that tells who you are").CountAsync());
        await student.Reports.CreateAsync(course, new ReportRequest { Assignment = code, ClaimedParent = "acetone" }, cancellationToken: gone);
        var marking = (await instructor.Reports.ListAsync(course, gone).SingleAsync(gone)).MarkingCode!;

        await using var theirs = await Reader.SitDownAsync(browser, shown.Service.Address);
        await theirs.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await theirs.OpenAsync($"/courses/{course}");
        Assert.Contains("Marked anonymously", await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.FollowAsync("Reports");
        await AssertBlindAsync();
        await theirs.FollowAsync("Read it", exact: false);
        Assert.Equal($"Report of {marking}", await theirs.HeadingAsync());
        await AssertBlindAsync();
        await theirs.FollowAsync("What the engine makes of it");
        await AssertBlindAsync();
        var grading = await instructor.Grades.StartAsync(course, cancellationToken: gone);
        await instructor.Grades.FollowAsync(course, grading.Id, gone).LastAsync(gone);
        await theirs.OpenAsync($"/courses/{course}/gradings/{grading.Id}");
        Assert.Contains("the gradebook is here once grades are published", await theirs.TextAsync(), StringComparison.Ordinal);
        await AssertBlindAsync();
        await theirs.FollowAsync("Change by hand", exact: false);
        await AssertBlindAsync();
        await theirs.OpenAsync($"/courses/{course}/class?grading={grading.Id}");
        Assert.DoesNotContain(Name, await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.OpenAsync($"/courses/{course}/gradings/{grading.Id}/publication");
        Assert.Contains("1 unknown without a report.", await theirs.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("until 1 March 2036, 12:00 UTC, and 1 of 2 unknowns has none yet.", await theirs.TextAsync(), StringComparison.Ordinal);
        Assert.DoesNotContain("caspar.v", await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.PressAsync("Publish them");
        Assert.Contains("Nothing is changed yet", await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.TickAsync("Do it all the same");
        await theirs.PressAsync("Publish them");
        Assert.Contains($"{Name} ({marking})", await theirs.TextAsync(), StringComparison.Ordinal);
        Assert.Contains(code, await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.OpenAsync($"/courses/{course}/reports");
        Assert.Contains(Name, await theirs.TextAsync(), StringComparison.Ordinal);

        await mine.OpenAsync($"/courses/{course}/mine");
        Assert.Contains("was without your name until grades were published", await mine.TextAsync(), StringComparison.Ordinal);
        Assert.DoesNotContain(marking, await mine.TextAsync(), StringComparison.Ordinal);

        async Task AssertBlindAsync()
        {
            var text = await theirs.TextAsync();
            Assert.All((string[])[Name, "north-window", code], secret => Assert.DoesNotContain(secret, text, StringComparison.Ordinal));
        }
    }
}
