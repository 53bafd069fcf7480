using Derivid.Contracts;
using Derivid.Core.Teaching;

namespace Derivid.Page.Tests;

/// <summary>A course for practice, from its student's report to its end. Class and readings are made up.</summary>
public sealed class PracticeTests(BrowserFixture browser, ShownPage shown) : IClassFixture<ShownPage>
{
    [Fact]
    public async Task AnswerIsToldNothingCountsAndTheCourseIsPutAwayAndDeleted()
    {
        var gone = TestContext.Current.CancellationToken;
        using var instructor = shown.Service.ClientWith(shown.KeyOf(Role.Instructor));
        using var student = shown.Service.ClientWith(shown.KeyOf(Role.Student));
        var course = (await instructor.Courses.CreateAsync(
            new CourseRequest
            {
                Name = "Warming up (invented)",
                ShelfList = ["acetone", "2-butanone", "cyclohexanone", "benzaldehyde"],
                DerivativeKinds = ["2,4-DNPH", "semicarbazone"],
                IsPractice = true,
            },
            cancellationToken: gone)).Id;
        await instructor.Courses.PutRosterAsync(
            await instructor.Courses.GetAsync(course, gone),
            [new RosterStudent { Student = "p1", Bench = "A", Place = 1, Actor = (await student.Keys.GetCurrentAsync(gone)).Actor }],
            cancellationToken: gone);
        await instructor.Courses.HandOutAsync(course, new HandOutRequest(), cancellationToken: gone);
        var unknown = await instructor.Courses.ListAssignmentsAsync(course, true, gone).SingleAsync(gone);
        var name = (await instructor.Table.GetParentAsync(unknown.Parent!, cancellationToken: gone)).Parent.Name;

        await using var mine = await Reader.SitDownAsync(browser, shown.Service.Address);
        await mine.ComeSignedInAsync(shown.KeyOf(Role.Student));
        await mine.OpenAsync($"/courses/{course}/mine");
        Assert.Contains("nothing here counts", await mine.TextAsync(), StringComparison.Ordinal);
        Assert.DoesNotContain("It was", await mine.TextAsync(), StringComparison.Ordinal);
        await student.Reports.CreateAsync(course, new ReportRequest { Assignment = unknown.Code, ClaimedParent = "acetone" }, cancellationToken: gone);
        await mine.OpenAsync($"/courses/{course}/mine");
        Assert.Contains($"It was {name}.", await mine.TextAsync(), StringComparison.Ordinal);

        await using var theirs = await Reader.SitDownAsync(browser, shown.Service.Address);
        await theirs.ComeSignedInAsync(shown.KeyOf(Role.Instructor));
        await theirs.OpenAsync($"/courses/{course}/labels");
        Assert.Contains("Take as flammable and harmful.", await theirs.TextAsync(), StringComparison.Ordinal);
        await theirs.OpenAsync($"/courses/{course}/filling");
        await theirs.FillAsync("In a vial of a liquid, mL", "2,5");
        await theirs.PressAsync("Work the amounts out");
        Assert.Contains($"{name}: 1 vial, 2.5 mL", await theirs.TextAsync(), StringComparison.Ordinal);

        // It takes reports, so it stays.
        await theirs.OpenAsync($"/courses/{course}/archive");
        await theirs.PressAsync("Archive it");
        Assert.Contains("The course takes reports.", await theirs.TextAsync(), StringComparison.Ordinal);
        var seen = await instructor.Courses.GetAsync(course, gone);
        await instructor.Courses.ChangeAsync(
            seen,
            new CourseRequest { Name = seen.Value.Name, ShelfList = seen.Value.ShelfList, IsPractice = true, ClosesAt = DateTimeOffset.UtcNow.AddDays(-1) },
            gone);
        await theirs.OpenAsync($"/courses/{course}/archive");
        await theirs.PressAsync("Archive it");
        Assert.Contains("Archived on", await theirs.TextAsync(), StringComparison.Ordinal);
        Assert.Contains("For practice", await theirs.TextAsync(), StringComparison.Ordinal);

        await theirs.FollowAsync("Take out, or delete");
        await theirs.PressAsync("Delete it for good");
        Assert.Equal("Archived courses", await theirs.HeadingAsync());
        Assert.DoesNotContain("Warming up", await theirs.TextAsync(), StringComparison.Ordinal);
    }
}
