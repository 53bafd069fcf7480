using System.Text;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Api.Tests.Operating;

/// <summary>The service in a process of its own, its metrics told, and a little of everything that people do with it.</summary>
/// <remarks>In a process of its own, since whoever hears a meter hears every service of a process.</remarks>
internal sealed class WatchedService : IAsyncDisposable
{
    /// <summary>Words that people typed or that name them, and must show up nowhere.</summary>
    public static readonly string[] Typed = ["zebedee", "Quixotic", "It melted there", "made by hand", "Grimoire", "no-such-compound", "Prowler/9"];

    private readonly ITestDatabase? _database;
    private readonly DirectoryInfo _folder;

    private WatchedService(ITestDatabase? database, DirectoryInfo folder) => (_database, _folder) = (database, folder);

    public required ServiceProcess Process { get; init; }

    /// <summary>Ids and secrets made on the way.</summary>
    public List<string> Secrets { get; } = [ServiceProcess.AdministratorKey, "0000000000000000"];

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    /// <summary>Starts one.</summary>
    /// <param name="database">Its database, disposed of with it.</param>
    /// <param name="settings">Further settings.</param>
    public static async Task<WatchedService> StartAsync(ITestDatabase database, params (string Name, string Value)[] settings) =>
        await StartAsync(database, database.ConnectionString, settings);

    /// <summary>Starts one on a database that somebody else disposes of.</summary>
    public static async Task<WatchedService> StartAsync(string connectionString, params (string Name, string Value)[] settings) =>
        await StartAsync(null, connectionString, settings);

    /// <summary>A client that sends a key.</summary>
    /// <param name="key">Missing: null, none.</param>
    public DerividClient With(string? key) => DerividClient.Connect(Process.Client.BaseAddress!, key);

    /// <summary>Gives somebody a key.</summary>
    public async Task<string> GiveKeyAsync(Role role)
    {
        using var administrator = With(ServiceProcess.AdministratorKey);
        var key = (await administrator.Keys.CreateAsync(new KeyRequest { Name = "zebedee's key", Role = role }, cancellationToken: Patience)).Key;
        Secrets.AddRange([key, key.Split('_')[1], key.Split('_')[2]]);
        return key;
    }

    /// <summary>Has it do a little of everything: identifications in every way, a request refused, an import, a grading.</summary>
    public async Task UseAsync()
    {
        using var instructor = With(await GiveKeyAsync(Role.Instructor));
        var studentKey = await GiveKeyAsync(Role.Student);
        using var student = With(studentKey);
        await IdentifyAsync(student);
        Process.Client.DefaultRequestHeaders.UserAgent.ParseAdd("Prowler/9");
        foreach (var address in new[] { "/api/v1/parents/no-such-compound", "/api/v1/parents?note=Quixotic" })
        {
            using var refused = await Process.Client.GetAsync(address, Patience);
            Assert.False(refused.IsSuccessStatusCode);
        }

        await ImportAsync(instructor);
        await GradeAsync(instructor, student, studentKey);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await Process.DisposeAsync();
        if (_database is not null)
        {
            await _database.DisposeAsync();
        }

        _folder.Delete(recursive: true);
    }

    private static async Task<WatchedService> StartAsync(ITestDatabase? database, string connectionString, (string Name, string Value)[] settings)
    {
        var folder = Directory.CreateTempSubdirectory("derivid-watched-");
        return new WatchedService(database, folder)
        {
            Process = await ServiceProcess.StartAsync(
                connectionString, folder.FullName,
                [
                    ("Access:AdministratorKey", ServiceProcess.AdministratorKey), ("Telemetry:MetricsPort", "0"),
                    ("Logging:Console:FormatterName", "simple"), ("Logging:Console:FormatterOptions:SingleLine", "true"), .. settings,
                ]),
        };
    }

    private static async Task IdentifyAsync(DerividClient student)
    {
        var observation = new IdentificationRequest
        {
            Derivatives = [new DerivativeObserved { Kind = "2,4-DNPH", MeltingRange = "125-127", Preparation = Preparation.Recrystallised }],
        };
        await student.Identifications.IdentifyAsync(observation, store: true, Patience);
        await student.Identifications.IdentifyAsync(observation, store: false, Patience);
        var batch = await student.Identifications.IdentifyAsync(
            [
                new BatchItem { Reference = "zebedee", Observation = observation },
                new BatchItem { Observation = new IdentificationRequest { Derivatives = [new DerivativeObserved { Kind = "no-such-compound", MeltingRange = "1-2" }] } },
            ],
            cancellationToken: Patience);
        Assert.Equal((1, 1), (batch.Identified, batch.Refused));
    }

    private static async Task ImportAsync(DerividClient instructor)
    {
        var proposal = await instructor.Proposals.CreateAsync(new ProposalRequest { Title = "Grimoire" }, cancellationToken: Patience);
        using var file = new MemoryStream(Encoding.UTF8.GetBytes("not,the,columns\n1,2,3\n"));
        var import = await instructor.Imports.StartAsync(proposal, new ImportFile("derivatives", file, ExportFormat.Csv), cancellationToken: Patience);
        var ended = await instructor.Imports.FollowAsync(import.Id, Patience).LastAsync(Patience);
        Assert.Equal(Core.Curation.ImportState.Failed, ended.State);
    }

    private async Task GradeAsync(DerividClient instructor, DerividClient student, string studentKey)
    {
        var courses = instructor.Courses;
        var made = await courses.CreateAsync(
            new CourseRequest
            {
                Name = "Quixotic practical",
                ShelfList = ["acetone", "2-butanone", "pentan-3-one", "cyclohexanone", "benzaldehyde", "acetophenone"],
                DerivativeKinds = ["2,4-DNPH", "semicarbazone"],
                SpotTests = ["Tollens", "iodoform"],
            },
            cancellationToken: Patience);
        await courses.PutRosterAsync(
            await courses.GetAsync(made.Id, Patience),
            [new RosterStudent { Student = "zebedee", Actor = ActorName.OfKey(studentKey.Split('_')[1]) }],
            cancellationToken: Patience);
        await courses.HandOutAsync(made.Id, new HandOutRequest(), cancellationToken: Patience);
        var assignment = await courses.ListAssignmentsAsync(made.Id, cancellationToken: Patience).FirstAsync(Patience);
        await student.Reports.CreateAsync(
            made.Id,
            new ReportRequest
            {
                Assignment = assignment.Code,
                Observation = new IdentificationRequest
                {
                    Derivatives = [new DerivativeObserved { Kind = "2,4-DNPH", MeltingRange = "125-127", Preparation = Preparation.Recrystallised }],
                },
                ClaimedParent = "acetone",
                Reasoning = "It melted there, made by hand.",
            },
            cancellationToken: Patience);
        var grading = await instructor.Grades.StartAsync(made.Id, cancellationToken: Patience);
        await instructor.Grades.FollowAsync(made.Id, grading.Id, Patience).LastAsync(Patience);
        Secrets.AddRange([made.Id, assignment.Code, grading.Id]);
    }
}
