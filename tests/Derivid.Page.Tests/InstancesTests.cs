using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Page.Tests;

/// <summary>Two instances behind a proxy that gives no thought to who was where before.</summary>
public sealed class InstancesTests(BrowserFixture browser, PostgreSqlServer server)
{
    [Theory]
    [InlineData(Way.Mouse)]
    [InlineData(Way.NoScript)]
    public async Task ReportIsWrittenOverBoth(Way way)
    {
        var gone = TestContext.Current.CancellationToken;
        await using var database = await server.NewDatabaseAsync();
        await using var one = await PageUnderTest.StartAsync(database.ConnectionString);
        await using var other = await PageUnderTest.StartAsync(database.ConnectionString);
        await using var proxy = await RoundRobin.StartAsync(one.Address, other.Address);
        var key = await one.KeyAsync(Role.Student);
        using var instructor = one.Administrator();
        var course = await instructor.Courses.CreateAsync(
            new CourseRequest { Name = "Two instances (invented)", ShelfList = ["benzaldehyde", "cyclohexanone"], DerivativeKinds = ["2-4-dinitrophenylhydrazone"], SpotTests = [] }, null, gone);
        await instructor.Courses.PutRosterAsync(
            await instructor.Courses.GetAsync(course.Id, gone), [new RosterStudent { Student = "s-1", Actor = "key:" + key.Details.Id }], cancellationToken: gone);
        await instructor.Courses.HandOutAsync(course.Id, new HandOutRequest(), null, gone);

        await using var student = await Reader.SitDownAsync(browser, proxy.Address, way);
        await student.SignInAsync(key.Key);
        await student.FollowAsync("Courses");
        await student.FollowAsync("Two instances (invented)");
        await student.FollowAsync("Write your report");
        await student.FillAsync("Melting range", "236-238");
        await student.PressAsync("Save the draft");
        await student.ChooseAsync("It is", "benzaldehyde");
        await student.PressAsync("Hand it in");
        await student.PressAsync("Hand it in for good");

        Assert.Contains("is handed in", await student.TextAsync(), StringComparison.Ordinal);
        Assert.Single(await instructor.Reports.ListAsync(course.Id, gone).ToListAsync(gone), report => report.ClaimedParent == "benzaldehyde");
        Assert.All(proxy.Sent, sent => Assert.True(sent >= 5, $"An instance got {sent} requests."));
    }

    [Fact]
    public async Task SignInAtTheInstitutionBeginsAtOneAndEndsAtTheOther()
    {
        await using var institution = await Institution.StartAsync("staff");
        await using var database = await server.NewDatabaseAsync();
        await using var one = await PageUnderTest.StartAsync(database.ConnectionString, 0, institution.Settings());
        await using var other = await PageUnderTest.StartAsync(database.ConnectionString, 0, institution.Settings());
        await using var proxy = await RoundRobin.StartAsync(one.Address, other.Address);
        await using var reader = await Reader.SitDownAsync(browser, proxy.Address, Way.NoScript, alsoFrom: institution.Authority);
        await reader.OpenAsync("/proposals");
        await reader.FollowAsync("Sign in at your institution");
        Assert.Equal("Curation", await reader.HeadingAsync());
        Assert.All(proxy.Sent, sent => Assert.NotEqual(0, sent));
    }
}
