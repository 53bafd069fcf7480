using System.CommandLine;
using System.Globalization;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Observations;
using Spectre.Console;

namespace Derivid.Cli.Teaching;

/// <summary><c>derivid course demo</c>.</summary>
internal static class DemoCommand
{
    public static Command Make(CommonOptions common)
    {
        var command = new ExampledCommand(
            "demo", "Make an invented class with unknowns, reports and grades, to see a full cycle; marked as invented.")
        {
            Examples = [("with an instructor's key in DERIVID_KEY", "derivid course demo")],
        };
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var course = await new DemoClass(session.Client).MakeAsync(token);
            var grading = await GradingProgressBar.FollowAsync(
                session, course.Id, await session.Client.Grades.StartAsync(course.Id, new GradingRequest(), null, token), token);
            var grades = await session.Client.Grades.ListAsync(course.Id, grading.Id, cancellationToken: token).ToListAsync(token);
            var overview = await session.Client.Courses.GetOverviewAsync(course.Id, cancellationToken: token);
            session.Show(
                new { Course = course, Grading = new GradingResult(grading, grades), Overview = overview },
                (console, shown) => Write(console, shown.Course, shown.Grading, shown.Overview));
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, CourseItem course, GradingResult grading, OverviewItem overview)
    {
        console.WriteLine($"Course {course.Id}: {course.Name}. Nobody in it exists, and every reading is made up.");
        GradeView.Write(console, grading, explain: false);
        foreach (var suggestion in overview.Suggestions)
        {
            console.WriteLine(suggestion.Sentence);
        }

        console.WriteLine($"Every sentence: derivid course grade {course.Id} --explain");
    }
}

/// <summary>A class that never was: students, benches and readings are made up from the table's own values.</summary>
/// <remarks>
/// Every reading is the highest value listed of its derivative, less a little that differs from student to student. The
/// thermometers of bench C read 3 °C high, and the last student hands in the runner-up, so that a newcomer sees what the
/// class view and the marks make of it.
/// </remarks>
/// <param name="client">The service.</param>
internal sealed class DemoClass(DerividClient client)
{
    private const int StudentsPerBench = 4;
    private const string BenchOff = "C";
    private const double BenchOffCelsius = 3;

    private static readonly string[] Benches = ["A", "B", BenchOff];

    private static readonly string[] Shelf =
    [
        "propanone", "butanone", "pentan-3-one", "cyclohexanone", "cyclopentanone", "benzaldehyde", "acetophenone",
        "cinnamaldehyde",
    ];

    private static readonly string[] Kinds = ["2-4-dinitrophenylhydrazone", "semicarbazone"];

    /// <summary>Makes the course, hands out its unknowns and hands in a report for each.</summary>
    /// <param name="cancellationToken">Gives up, leaving what was made.</param>
    /// <returns>The course.</returns>
    public async Task<CourseItem> MakeAsync(CancellationToken cancellationToken)
    {
        var made = await client.Courses.CreateAsync(
            new CourseRequest
            {
                Name = "Invented class, for trying things out",
                ShelfList = Shelf,
                DerivativeKinds = Kinds,
                SpotTests = ["tollens", "iodoform"],
                IsInvented = true,
            },
            cancellationToken: cancellationToken);
        var roster = Roster();
        await client.Courses.PutRosterAsync(
            await client.Courses.GetAsync(made.Id, cancellationToken), roster, cancellationToken: cancellationToken);
        await client.Courses.HandOutAsync(
            made.Id, new HandOutRequest { Seed = "an invented class has no secrets" }, cancellationToken: cancellationToken);
        await foreach (var unknown in client.Courses.ListAssignmentsAsync(made.Id, withIdentities: true, cancellationToken))
        {
            var place = roster.FindIndex(student => student.Student == unknown.Student);
            await client.Reports.CreateAsync(
                made.Id, await ReportAsync(unknown, place, cancellationToken), cancellationToken: cancellationToken);
        }

        return made;
    }

    private static List<RosterStudent> Roster() =>
    [
        .. Benches.SelectMany((bench, b) => Enumerable.Range(1, StudentsPerBench).Select(place => new RosterStudent
        {
            Student = string.Create(CultureInfo.InvariantCulture, $"invented-{(b * StudentsPerBench) + place:00}"),
            Bench = bench,
            Place = place,
        })),
    ];

    private async Task<ReportRequest> ReportAsync(AssignmentItem unknown, int place, CancellationToken cancellationToken)
    {
        var observation = new IdentificationRequest
        {
            Derivatives = await ReadAsync(unknown.Parent!, place, cancellationToken),
        };

        // A student knows the shelf list; a report is weighed against it without saying so.
        var ranked = await client.Identifications.IdentifyAsync(
            observation with { Prior = new PriorDescribed { ShelfList = Shelf } }, cancellationToken: cancellationToken);
        var isLast = place == (Benches.Length * StudentsPerBench) - 1;
        return new ReportRequest
        {
            Assignment = unknown.Code,
            Observation = observation,
            ClaimedParent = ranked.Candidates[isLast ? 1 : 0].Parent.Key,
            Reasoning = "Invented.",
        };
    }

    private async Task<List<DerivativeObserved>> ReadAsync(string parent, int place, CancellationToken cancellationToken)
    {
        var seen = new List<DerivativeObserved>();
        foreach (var kind in Kinds)
        {
            var listed = await client.Table
                .ListDerivativesAsync(new DerivativeQuery { Parent = parent, Kind = kind }, cancellationToken)
                .Select(record => (double?)record.HighCelsius)
                .MaxAsync(cancellationToken: cancellationToken);
            if (listed is not { } highest)
            {
                continue;
            }

            var clear = highest - (place * 7 % 5 * 0.1) + (Benches[place / StudentsPerBench] == BenchOff ? BenchOffCelsius : 0);
            seen.Add(new DerivativeObserved
            {
                Kind = kind,
                MeltingRange = string.Create(CultureInfo.InvariantCulture, $"{clear - 1.5:0.0}-{clear:0.0} °C"),
                Preparation = Preparation.Recrystallised,
            });
        }

        return seen;
    }
}
