using Derivid.Client;
using Derivid.Contracts;
using Derivid.Testing;

namespace Derivid.Cli.Tests;

/// <summary>What the page of the client's package shows of grading is what runs here.</summary>
public sealed class PackagePageTests(ServiceUnderTest service)
{
    private const string From = "        // Shown on the page from here\n";
    private const string To = "        // to here.\n";

    [Fact]
    public async Task CodeOnThePageGradesAClass()
    {
        var (server, key) = (service.Address, ServiceUnderTest.AdministratorKey);

#pragma warning disable xUnit1051 // The page gives up nothing, and this ends with its service.
        // Shown on the page from here
        using var instructor = DerividClient.Connect(server, key);
        var made = await instructor.Courses.CreateAsync(new CourseRequest
        {
            Name = "Organic practical",
            ShelfList = ["propanone", "butanone", "pentan-3-one", "cyclohexanone", "benzaldehyde", "acetophenone"],
            DerivativeKinds = ["2,4-DNPH", "semicarbazone"],
            SpotTests = ["Tollens", "iodoform"],
        });
        var course = await instructor.Courses.GetAsync(made.Id);
        await instructor.Courses.PutRosterAsync(course, "student,bench,place\ns1,A,1\ns2,A,2\n");
        course = await instructor.Courses.GetAsync(made.Id);
        var keys = await instructor.Courses.GiveKeysAsync(course);
        await instructor.Courses.HandOutAsync(made.Id, new HandOutRequest());

        using var student = DerividClient.Connect(server, keys[0].Key);
        var unknown = await student.Courses.ListAssignmentsAsync(made.Id).FirstAsync();
        await student.Reports.CreateAsync(made.Id, new ReportRequest
        {
            Assignment = unknown.Code,
            Observation = new IdentificationRequest { Derivatives = [new DerivativeObserved { Kind = "2,4-DNPH", MeltingRange = "125-127 °C" }] },
            ClaimedParent = "propanone",
            Reasoning = "It melts there.",
        });

        var started = await instructor.Grades.StartAsync(made.Id, idempotencyKey: "week 12");
        var grading = await instructor.Grades.FollowAsync(made.Id, started.Id).LastAsync();
        await foreach (var grade in instructor.Grades.ListAsync(made.Id, grading.Id))
        {
            Console.WriteLine($"{grade.Student}: {grade.Total} of {grade.Maximum}");
            foreach (var line in grade.Lines ?? [])
            {
                Console.WriteLine($"  {line.Points} of {line.Maximum}: {line.Sentence}");
            }
        }

        await instructor.Grades.PublishAsync(await instructor.Courses.GetAsync(made.Id), grading.Id);
        var gradebook = await instructor.Grades.GetGradebookAsync(made.Id);

        // to here.
#pragma warning restore xUnit1051
        Assert.True(gradebook.IsPublished);
        Assert.Equal(["s1", "s2"], gradebook.Students.Select(row => row.Student));
        Assert.Equal(GradebookStatus.NotSubmitted, gradebook.Students[1].Status);

        var here = await File.ReadAllTextAsync(
            RepositoryFiles.At("tests", "Derivid.Cli.Tests", "PackagePageTests.cs"), TestContext.Current.CancellationToken);
        var page = await File.ReadAllTextAsync(RepositoryFiles.At("src", "Derivid.Client", "README.md"), TestContext.Current.CancellationToken);
        var shown = page[page.IndexOf("## Teach", StringComparison.Ordinal)..page.IndexOf("## When", StringComparison.Ordinal)];
        Assert.Equal(
            Lines(here[(here.IndexOf(From, StringComparison.Ordinal) + From.Length)..here.LastIndexOf(To, StringComparison.Ordinal)]),
            Lines(shown).Where(line => line.StartsWith("    ", StringComparison.Ordinal)).Select(line => "    " + line));
    }

    private static IEnumerable<string> Lines(string text) => text.Split('\n').Where(line => !string.IsNullOrWhiteSpace(line));
}
