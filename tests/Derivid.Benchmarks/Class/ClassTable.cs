using System.Diagnostics;
using System.Globalization;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Benchmarks.Class;

/// <summary>How long the largest class takes, with everything on that a course can have: each step of an instructor's week.</summary>
/// <remarks>
/// Marked anonymously, a quarter of the students in groups of two, neighbours of a bench apart, extensions, grace, three attempts of which the best
/// counts, lines changed by hand. Class and readings are made up. Hand-ins come eight at a time, each with its own student's key.
/// </remarks>
internal static class ClassTable
{
    private const int Students = 2_000;
    private const int Unknowns = 2;
    private const int Moderated = 100;
    private const int AtOnce = 8;

    private static readonly string[] Shelf =
    [
        "propanone", "butanone", "pentan-3-one", "cyclohexanone", "cyclopentanone", "benzaldehyde", "acetophenone", "4-methoxybenzaldehyde",
        "benzophenone", "heptan-2-one", "cinnamaldehyde", "butanal",
    ];

    /// <summary>Measures and prints the table.</summary>
    public static async Task RunAsync()
    {
        Console.WriteLine(FormattableString.Invariant(
            $"{Students} students, {Unknowns} unknowns each, {Environment.ProcessorCount} processors shared with who asks; seconds"));
        Console.WriteLine();
        await using var sqlite = new SqliteDatabase();
        await EngineAsync("SQLite", sqlite);
        await using var server = new PostgreSqlServer();
        await using var postgres = await server.NewDatabaseAsync();
        await EngineAsync("PostgreSQL", postgres);
    }

    private static async Task EngineAsync(string engine, ITestDatabase database)
    {
        var folder = Directory.CreateTempSubdirectory("derivid-class-");
        try
        {
            await using var service = await ServiceProcess.StartAsync(
                database.ConnectionString,
                folder.FullName,
                ("Access:AdministratorKey", ServiceProcess.AdministratorKey),
                ("RateLimits:RequestsPerMinute", "0"),
                ("RateLimits:AnonymousRequestsPerMinute", "0"));
            Console.WriteLine($"| {engine} | s |");
            Console.WriteLine("|---|---|");
            await WeekAsync(service.Client.BaseAddress!);
            Console.WriteLine();
            Console.WriteLine(FormattableString.Invariant($"{service.PeakMegabytes:0} MB at most"));
            Console.WriteLine();
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task WeekAsync(Uri address)
    {
        using var administrator = DerividClient.Connect(address, ServiceProcess.AdministratorKey);
        var key = await administrator.Keys.CreateAsync(new KeyRequest { Name = "made up", Role = Role.Instructor });
        using var instructor = DerividClient.Connect(address, key.Key);
        var courses = instructor.Courses;
        var id = (await courses.CreateAsync(new CourseRequest
        {
            Name = "Made up, to be measured",
            ShelfList = Shelf,
            DerivativeKinds = ["2,4-DNPH", "semicarbazone", "oxime"],
            SpotTests = ["Tollens", "iodoform"],
            DueAt = DateTimeOffset.UtcNow.AddDays(1),
            GraceMinutes = 60,
            MostAttempts = 3,
            CountedAttempt = CountedAttempt.Best,
            IsMarkedAnonymously = true,
            IsInvented = true,
        })).Id;
        await MeasuredAsync("roster", async () => await courses.PutRosterAsync(await courses.GetAsync(id), Roster));
        await MeasuredAsync("extensions for 200", async () => await courses.PutExtensionsAsync(
            await courses.GetAsync(id),
            [.. Roster.Take(200).Select(student => new Extension { Student = student.Student, DueAt = DateTimeOffset.UtcNow.AddDays(8) })]));
        IReadOnlyList<StudentKey> keys = [];
        await MeasuredAsync("keys for everybody", async () => keys = await courses.GiveKeysAsync(await courses.GetAsync(id)));
        await MeasuredAsync("hand-out", () => courses.HandOutAsync(id, new HandOutRequest { UnknownsPerStudent = Unknowns }));
        var codes = (await courses.ListAssignmentsAsync(id).ToListAsync()).ToLookup(assignment => assignment.Student);
        await MeasuredAsync("filling list and labels", async () =>
        {
            await courses.GetFillingListAsync(id);
            await courses.GetLabelsAsync(id);
        });
        await MeasuredAsync("reports, all and one in ten twice", () => Parallel.ForEachAsync(
            keys.Select((given, place) => (given, place)), new ParallelOptions { MaxDegreeOfParallelism = AtOnce }, async (student, gone) =>
            {
                using var client = DerividClient.Connect(address, student.given.Key);
                // A group's report is handed in by its first member.
                foreach (var assignment in codes[student.given.Student].Where(unknown => unknown.Group is null || student.place % 2 == 0))
                {
                    for (var attempt = 0; attempt < (student.place % 10 == 0 ? 2 : 1); attempt++)
                    {
                        await client.Reports.CreateAsync(id, Report(assignment.Code, student.place + attempt), cancellationToken: gone);
                    }
                }
            }));
        var grading = "";
        await MeasuredAsync("grading", async () =>
        {
            grading = (await instructor.Grades.StartAsync(id)).Id;
            await foreach (var _ in instructor.Grades.FollowAsync(id, grading))
            {
            }
        });
        var graded = await instructor.Grades.ListAsync(id, grading).Take(Moderated).ToListAsync();
        await MeasuredAsync(FormattableString.Invariant($"{Moderated} lines changed by hand"), async () =>
        {
            foreach (var grade in graded)
            {
                await instructor.Grades.ModerateAsync(id, grade.Report, new ModerationRequest { Grading = grading, Reason = "Well argued (made up)." });
            }
        });
        await MeasuredAsync("class as a whole", () => courses.GetOverviewAsync(id, grading));
        await MeasuredAsync("publication", async () => await instructor.Grades.PublishAsync(await courses.GetAsync(id), grading, beforeDue: true));
        await MeasuredAsync("gradebook, CSV", async () => await DrainAsync(await instructor.Grades.ExportGradebookAsync(id)));
        await MeasuredAsync("results, OneRoster 1.2", async () => await DrainAsync(await instructor.Grades.ExportOneRosterAsync(id, new OneRosterQuery { ClassSourcedId = "class-1", CategorySourcedId = "category-1", AcademicSessionSourcedId = "session-1", SchoolSourcedId = "school-1" })));
    }

    private static IReadOnlyList<RosterStudent> Roster { get; } =
    [
        .. Enumerable.Range(0, Students).Select(n => new RosterStudent
        {
            Student = FormattableString.Invariant($"s{n:0000}"),
            Bench = FormattableString.Invariant($"bench {n / 20}"),
            Place = n % 20,
            Group = n < Students / 4 ? FormattableString.Invariant($"g{n / 2:000}") : null,
        }),
    ];

    private static ReportRequest Report(string code, int number) => new()
    {
        Assignment = code,
        ClaimedParent = Shelf[number % Shelf.Length],
        Reasoning = "It fits what was seen best (made up).",
        Observation = new IdentificationRequest
        {
            Derivatives =
            [
                new DerivativeObserved { Kind = "2,4-DNPH", MeltingRange = Range(110 + (number % 120)), Preparation = Preparation.Recrystallised, Colour = "orange" },
                new DerivativeObserved { Kind = "semicarbazone", MeltingRange = Range(90 + (number % 110)), Preparation = Preparation.Recrystallised },
            ],
            SpotTests = [new SpotTestObserved { Test = "Tollens", Outcome = number % 2 == 0 ? SpotTestOutcome.Positive : SpotTestOutcome.Negative }],
        },
    };

    private static RangeObserved Range(int onset) => FormattableString.Invariant($"{onset}-{onset + 2}");

    private static async Task MeasuredAsync(string step, Func<Task> work)
    {
        var clock = Stopwatch.StartNew();
        await work();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {step} | {clock.Elapsed.TotalSeconds:0.00} |"));
    }

    private static async Task DrainAsync(Stream sent)
    {
        await using (sent)
        {
            await sent.CopyToAsync(Stream.Null);
        }
    }
}
