using System.Diagnostics;
using System.Globalization;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Testing;

namespace Derivid.Cli.Tests;

/// <summary>deploy/grade.sh, run by a shell with curl. Class and readings are made up.</summary>
public sealed class GradingScriptTests(ServiceUnderTest service)
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task EachRunGradesAnewAndWithAMarkItSaysThatNothingIs()
    {
        using var client = DerividClient.Connect(service.Address, ServiceUnderTest.AdministratorKey);
        var course = await client.Courses.CreateAsync(
            new CourseRequest
            {
                Name = "Made up for a test",
                ShelfList = ["acetone", "2-butanone", "cyclohexanone", "benzaldehyde"],
                DerivativeKinds = ["2,4-DNPH", "semicarbazone"],
                IsInvented = true,
            },
            cancellationToken: Token);
        await client.Courses.PutRosterAsync(
            await client.Courses.GetAsync(course.Id, Token),
            [.. Enumerable.Range(1, 2).Select(n => new RosterStudent { Student = string.Create(CultureInfo.InvariantCulture, $"s{n}") })],
            cancellationToken: Token);
        await client.Courses.HandOutAsync(course.Id, new HandOutRequest(), cancellationToken: Token);
        var unknowns = await client.Courses.ListAssignmentsAsync(course.Id, cancellationToken: Token).ToListAsync(Token);

        await HandInAsync(client, course.Id, unknowns[0]);
        var first = await RunAsync(course.Id);
        var marked = await RunAsync(course.Id, "friday, after the lab");
        await HandInAsync(client, course.Id, unknowns[1]);
        var again = await RunAsync(course.Id, "friday, after the lab");
        var anew = await RunAsync(course.Id);

        Assert.Equal([1, 1, 1, 2], ((Ran[])[first, marked, again, anew]).Select(ran => ran.Output.TrimEnd().Split('\n').Length - 1));
        Assert.Contains("nothing is graded anew", again.Error, StringComparison.Ordinal);
        Assert.All((Ran[])[first, marked, anew], ran => Assert.DoesNotContain("nothing is graded anew", ran.Error, StringComparison.Ordinal));
    }

    [Fact]
    public async Task RefusalIsShownAndNothingElse()
    {
        var ran = await RunAsync("0123456789abcdef0123456789abcdef");

        Assert.NotEqual(0, ran.Code);
        Assert.Empty(ran.Output);
        Assert.Contains("urn:derivid:problem:not-found", ran.Error, StringComparison.Ordinal);
    }

    private static Task<ReportItem> HandInAsync(DerividClient client, string course, AssignmentItem unknown) => client.Reports.CreateAsync(
        course, new ReportRequest { Assignment = unknown.Code, ClaimedParent = "acetone" }, cancellationToken: Token);

    private async Task<Ran> RunAsync(params string[] words)
    {
        var start = new ProcessStartInfo("sh", [RepositoryFiles.At("deploy", "grade.sh"), .. words])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            Environment =
            {
                ["DERIVID_SERVER"] = service.Address.ToString().TrimEnd('/'),
                ["DERIVID_KEY"] = ServiceUnderTest.AdministratorKey,
            },
        };
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync(Token);
        var output = await process.StandardOutput.ReadToEndAsync(Token);
        await process.WaitForExitAsync(Token);
        return new Ran(process.ExitCode, output, await error);
    }
}
