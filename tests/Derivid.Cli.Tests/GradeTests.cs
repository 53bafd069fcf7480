using System.Text.Json;
using Derivid.Client;
using Derivid.Contracts;

namespace Derivid.Cli.Tests;

/// <summary>derivid course grade, and the client's way through a course. Class and readings are made up.</summary>
public sealed class GradeTests(ServiceUnderTest service) : IAsyncLifetime
{
    private readonly DerividClient _client = DerividClient.Connect(service.Address, ServiceUnderTest.AdministratorKey);
    private readonly Shell _shell = Shell.OfAdministrator(service);
    private readonly string _folder = Directory.CreateTempSubdirectory("derivid-cli-").FullName;
    private Versioned<CourseItem> _course = null!;
    private List<AssignmentItem> _assignments = [];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private string Id => _course.Value.Id;

    public async ValueTask InitializeAsync()
    {
        var made = await _client.Courses.CreateAsync(
            new CourseRequest
            {
                Name = "Made up for a test",
                ShelfList = ["acetone", "2-butanone", "pentan-3-one", "cyclohexanone", "benzaldehyde", "acetophenone"],
                DerivativeKinds = ["2,4-DNPH", "semicarbazone"],
                SpotTests = ["Tollens", "iodoform"],
                DueAt = new DateTimeOffset(2099, 1, 1, 17, 0, 0, TimeSpan.FromHours(2)),
                IsInvented = true,
            },
            cancellationToken: Token);
        _course = await _client.Courses.GetAsync(made.Id, Token);
        await _client.Courses.PutRosterAsync(
            _course, [.. Enumerable.Range(1, 4).Select(n => new RosterStudent { Student = $"s{n}", Bench = "A", Place = n })], cancellationToken: Token);
        await _client.Courses.HandOutAsync(Id, new HandOutRequest { Seed = "a seed of this test, long enough" }, cancellationToken: Token);
        _course = await _client.Courses.GetAsync(Id, Token);
        _assignments = await _client.Courses.ListAssignmentsAsync(Id, withIdentities: true, Token).ToListAsync(Token);
    }

    public ValueTask DisposeAsync()
    {
        _client.Dispose();
        Directory.Delete(_folder, recursive: true);
        return ValueTask.CompletedTask;
    }

    [Fact]
    public async Task ClassIsGradedOnceHoweverOftenItIsAskedFor()
    {
        await ReportAsync();
        var csv = Path.Combine(_folder, "grades.csv");
        var first = (await _shell.RunAsync("course", "grade", Id, "--idempotency-key", "friday", "--json")).Exits(ExitCode.Done).Json;
        var again = (await _shell.RunAsync("course", "grade", Id, "--idempotency-key", "friday", "-o", csv)).Exits(ExitCode.Done);
        var one = (await _shell.RunAsync("course", "grade", Id, "--student", "s2", "--explain")).Exits(ExitCode.Done);
        var grades = first.GetProperty("grades").EnumerateArray().ToList();

        Assert.Equal(4, grades.Count);
        Assert.All(grades, grade => Assert.True(grade.GetProperty("total").GetDouble() > 0));
        Assert.Contains(first.GetProperty("grading").GetProperty("id").GetString()!, again.Output, StringComparison.Ordinal);
        Assert.Contains("4 graded, 0 could not be", again.Output, StringComparison.Ordinal);
        Assert.Contains("s3", await File.ReadAllTextAsync(csv, Token), StringComparison.Ordinal);
        Assert.Contains("rightCompound: ", one.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("s3,", one.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task OtherRubricIsReadFromAFileAndCompared()
    {
        await ReportAsync();
        var file = Path.Combine(_folder, "rubric.json");
        await File.WriteAllTextAsync(file, """{ "name": "claim only", "rightCompound": { "points": 3 } }""", Token);
        var before = (await _shell.RunAsync("course", "grade", Id, "--json")).Exits(ExitCode.Done).Json;
        var after = (await _shell.RunAsync("course", "grade", Id, "--rubric", file, "--json")).Exits(ExitCode.Done).Json;
        var comparison = await _client.Grades.CompareAsync(Id, GradingOf(before), GradingOf(after), Token);
        var gradings = await _client.Grades.ListGradingsAsync(Id, Token).ToListAsync(Token);
        var published = await _client.Grades.PublishAsync(await _client.Courses.GetAsync(Id, Token), GradingOf(after), beforeDue: true, Token);
        var grades = await _client.Grades.ListAsync(Id, student: "s1", cancellationToken: Token).ToListAsync(Token);
        await File.WriteAllTextAsync(file, "{", Token);

        (await _shell.RunAsync("course", "grade", Id, "--rubric", file)).Exits(ExitCode.Usage);
        Assert.Equal(4, comparison.Compared);
        Assert.Equal(
            [.. ((string[])[GradingOf(before), GradingOf(after)]).Order(StringComparer.Ordinal)], gradings.Select(g => g.Id));
        Assert.Equal(GradingOf(after), published.Value.PublishedGrading);
        Assert.Equal(3, Assert.Single(grades).Maximum);
    }

    [Fact]
    public async Task RefusalsAreTold()
    {
        (await _shell.RunAsync("course", "grade", "no-such-course")).Exits(ExitCode.Refused);
        (await _shell.RunAsync("course", "grade", Id)).Exits(ExitCode.Refused);
        (await new Shell(service).RunAsync("course", "grade", Id)).Exits(ExitCode.Refused);
    }

    [Fact]
    public async Task ProgressIsShownToWhoeverLooks()
    {
        await ReportAsync();
        var ran = (await (_shell with { IsTerminal = true }).RunAsync("course", "grade", Id)).Exits(ExitCode.Done);

        Assert.Contains("4 of 4 reports", ran.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task ClientReadsAndChangesTheRest()
    {
        var draft = await _client.Reports.CreateAsync(Id, Report(_assignments[0]) with { IsDraft = true }, cancellationToken: Token);
        var seen = await _client.Reports.GetAsync(Id, draft.Id, Token);
        var handedIn = await _client.Reports.ChangeAsync(Id, seen, Report(_assignments[0]), Token);
        var listed = await _client.Reports.ListAsync(Id, Token).ToListAsync(Token);
        var ranking = await _client.Reports.RankAsync(Id, draft.Id, Token);
        var roster = await _client.Courses.GetRosterAsync(Id, Token);
        var shelf = await _client.Courses.CheckShelfAsync(Id, 0.7, Token);
        var handOut = await _client.Courses.GetHandOutAsync(Id, 1, Token);
        var overview = await _client.Courses.GetOverviewAsync(Id, cancellationToken: Token);
        var links = await _client.Courses.ListAsync(Token).ToListAsync(Token);
        var stale = await Assert.ThrowsAsync<DerividException>(
            () => _client.Courses.PutRosterAsync(new Versioned<CourseItem>(_course.Value, "\"99\""), roster, cancellationToken: Token));

        Assert.NotNull(handedIn.Value.HandedInAt);
        Assert.Equal(draft.Id, Assert.Single(listed).Id);
        Assert.NotEmpty(ranking.Candidates);
        Assert.Equal(4, roster.Count);
        Assert.Equal(6, shelf.Items.Count);
        Assert.Equal("a seed of this test, long enough", handOut.Seed);
        Assert.Equal(1, overview.Reports);
        Assert.Contains(links, link => link.Id == Id && link.IsInvented);
        Assert.Equal("urn:derivid:problem:stale-revision", stale.Type);
    }

    private async Task ReportAsync()
    {
        foreach (var assignment in _assignments)
        {
            await _client.Reports.CreateAsync(Id, Report(assignment), cancellationToken: Token);
        }
    }

    private static ReportRequest Report(AssignmentItem assignment) => new()
    {
        Assignment = assignment.Code,
        Observation = new IdentificationRequest
        {
            Derivatives = [new DerivativeObserved { Kind = "2,4-DNPH", MeltingRange = "125-127 °C" }],
        },
        ClaimedParent = assignment.Parent,
        Reasoning = "made up",
    };

    private static string GradingOf(JsonElement ran) => ran.GetProperty("grading").GetProperty("id").GetString()!;
}
