using System.Reflection;
using System.Text;
using System.Text.Json;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;
using Derivid.Core.Teaching;

namespace Derivid.Cli.Tests;

/// <summary>
/// Every call of the typed client, as nobody and in every role, over a course with reports and published grades: it is
/// answered with something the client can read or a documented problem, and every body fits the published document.
/// </summary>
/// <remarks>Class and readings are made up.</remarks>
public sealed class RolesTests : IAsyncLifetime
{
    private const string Seed = "a seed of this test, long enough";

    private readonly ServiceUnderTest _service = new();
    private readonly Dictionary<string, (DerividClient Client, Witness Witness)> _askers = [];
    private string _course = "";
    private string _report = "";
    private string _grading = "";
    private string _otherGrading = "";
    private string _identification = "";
    private string _import = "";
    private string _sheet = "";
    private string _key = "";
    private string _thermometer = "";
    private ProposalItem _proposal = null!;
    private Versioned<CourseItem> _seenCourse = null!;
    private Versioned<ReportItem> _draft = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private static IdentificationRequest Observation => new()
    {
        Derivatives = [new DerivativeObserved { Kind = "2,4-DNPH", MeltingRange = "125-127 °C", Colour = "yellow" }],
        SpotTests = [new SpotTestObserved { Test = "iodoform", Outcome = SpotTestOutcome.Positive }],
    };

    private static CourseRequest Course => new()
    {
        Name = "Made up for a test",
        ShelfList = ["acetone", "2-butanone", "pentan-3-one", "cyclohexanone", "benzaldehyde", "acetophenone"],
        DerivativeKinds = ["2,4-DNPH", "semicarbazone"],
        SpotTests = ["Tollens", "iodoform"],
        DueAt = new DateTimeOffset(2099, 1, 1, 17, 0, 0, TimeSpan.FromHours(2)),
        MostAttempts = 3,
        ShowsRanking = true,
        IsInvented = true,
    };

    private static OneRosterQuery Ids => new()
    {
        ClassSourcedId = "class-1",
        CategorySourcedId = "category-1",
        AcademicSessionSourcedId = "term-1",
        SchoolSourcedId = "school-1",
    };

    private static SheetQuery Sheet => new() { SourceKey = "dewiki-aceton", Limit = 3 };

    private static ReadingsQuery Readings => new() { SourceKey = "dewiki-aceton", Locator = "nowhere, made up" };

    // What may be asked, in the order it is asked: reading before writing.
    private Dictionary<string, Func<DerividClient, Task>> Calls => new()
    {
        ["Identifications.IdentifyAsync"] = async client =>
        {
            await client.Identifications.IdentifyAsync(Observation, cancellationToken: Token);
            await client.Identifications.IdentifyAsync(Encoding.UTF8.GetBytes("""{ "state": "solid" }"""), store: false, Token);
            await client.Identifications.IdentifyAsync(
                [new BatchItem { Observation = Observation }, new BatchItem { Observation = new() { WindowCelsius = 1000 } }],
                cancellationToken: Token);
        },
        ["Identifications.IdentifyBatchAsync"] = client => client.Identifications.IdentifyBatchAsync(
            Encoding.UTF8.GetBytes("""{ "items": [{ "reference": "a", "observation": {} }] }"""), cancellationToken: Token),
        ["Identifications.RankAsync"] = client => client.Identifications.RankAsync(Observation, Token),
        ["Identifications.GetAsync"] = client => client.Identifications.GetAsync(_identification, Token),
        ["Identifications.GetObservationAsync"] = client => client.Identifications.GetObservationAsync(_identification, Token),
        ["Identifications.ReplayAsync"] = client => client.Identifications.ReplayAsync(_identification, Token),
        ["Table.ListVersionsAsync"] = client => All(client.Table.ListVersionsAsync(Token)),
        ["Table.GetCurrentVersionAsync"] = client => client.Table.GetCurrentVersionAsync(Token),
        ["Table.GetVersionAsync"] = client => client.Table.GetVersionAsync(1, Token),
        ["Table.ListParentsAsync"] = client => All(client.Table.ListParentsAsync(cancellationToken: Token)),
        ["Table.GetParentAsync"] = client => client.Table.GetParentAsync("acetone", cancellationToken: Token),
        ["Table.GetStructureAsync"] = client => client.Table.GetStructureAsync("acetone", cancellationToken: Token),
        ["Table.ListDerivativesAsync"] = client => All(client.Table.ListDerivativesAsync(cancellationToken: Token)),
        ["Table.ListDerivativeKindsAsync"] = client => All(client.Table.ListDerivativeKindsAsync(cancellationToken: Token)),
        ["Table.ListSpotTestsAsync"] = client => All(client.Table.ListSpotTestsAsync(cancellationToken: Token)),
        ["Table.ListColoursAsync"] = client => All(client.Table.ListColoursAsync(cancellationToken: Token)),
        ["Table.ListStandardsAsync"] = client => All(client.Table.ListStandardsAsync(cancellationToken: Token)),
        ["Table.ListSourcesAsync"] = client => All(client.Table.ListSourcesAsync(cancellationToken: Token)),
        ["Table.GetSourceAsync"] = client => client.Table.GetSourceAsync("handbooks-recalled", cancellationToken: Token),
        ["Table.CompareAsync"] = client => All(client.Table.CompareAsync(1, 1, cancellationToken: Token)),
        ["Table.ExportAsync"] = async client =>
        {
            foreach (var format in Enum.GetValues<ExportFormat>())
            {
                await using var list = await client.Table.ExportAsync(1, "colours", format, Token);
                await using var whole = await client.Table.ExportAsync(1, null, format, Token);
            }
        },
        ["Table.ExportDataPackageAsync"] = async client => await (await client.Table.ExportDataPackageAsync(1, Token)).DisposeAsync(),
        ["Table.GetCoverageAsync"] = client => client.Table.GetCoverageAsync(cancellationToken: Token),
        ["Table.DescribeStructureAsync"] = client => client.Table.DescribeStructureAsync("CC(C)=O", "acetone", Token),
        ["Table.DrawStructureAsync"] = client => client.Table.DrawStructureAsync("CC(C)=O", "acetone", Token),
        ["Practice.PrepareAsync"] = client => client.Practice.PrepareAsync(
            new PreparationRequest { Parent = "acetone", Kind = "2,4-DNPH", Milligrams = 100, ProductMilligrams = 300, Portions = 4 }, Token),
        ["Practice.DecideAsync"] = client => client.Practice.DecideAsync(
            new DecisionRequest { ShelfList = ["acetone", "butanone"], DerivativeKinds = ["2,4-DNPH"], SpotTests = ["iodoform"] }, Token),
        ["Practice.ForecastAsync"] = client => client.Practice.ForecastAsync(
            new ForecastRequest { Step = new StepDescribed { Kind = Core.Ranking.NextStepKind.BoilingPoint } }, Token),
        ["Practice.GuideReadingAsync"] = client => client.Practice.GuideReadingAsync(
            new ReadingGuideRequest { Parent = "acetone", Kind = "2,4-DNPH", Read = "121-124", Observation = new IdentificationRequest() }, Token),
        ["Courses.ListAsync"] = client => All(client.Courses.ListAsync(Token)),
        ["Courses.ListArchivedAsync"] = client => All(client.Courses.ListArchivedAsync(Token)),
        ["Courses.GetAsync"] = client => client.Courses.GetAsync(_course, Token),
        ["Courses.GetStaffAsync"] = client => client.Courses.GetStaffAsync(_course, Token),
        ["Courses.GetRosterAsync"] = client => client.Courses.GetRosterAsync(_course, Token),
        ["Courses.GetExtensionsAsync"] = client => client.Courses.GetExtensionsAsync(_course, Token),
        ["Courses.CheckShelfAsync"] = client => client.Courses.CheckShelfAsync(_course, cancellationToken: Token),
        ["Courses.GetHandOutAsync"] = client => client.Courses.GetHandOutAsync(_course, 1, Token),
        ["Courses.ListAssignmentsAsync"] = async client =>
        {
            await All(client.Courses.ListAssignmentsAsync(_course, cancellationToken: Token));
            await All(client.Courses.ListAssignmentsAsync(_course, withIdentities: true, Token));
        },
        ["Courses.GetLabelsAsync"] = client => client.Courses.GetLabelsAsync(_course, Token),
        ["Courses.GetFillingListAsync"] = client => client.Courses.GetFillingListAsync(_course, cancellationToken: Token),
        ["Courses.ExportFillingListAsync"] = async client => await (await client.Courses.ExportFillingListAsync(
            _course, new FillingQuery { VialMillilitres = 2, VialMilligrams = 500 }, Token)).DisposeAsync(),
        ["Courses.GetOverviewAsync"] = client => client.Courses.GetOverviewAsync(_course, cancellationToken: Token),
        ["Reports.ListAsync"] = client => All(client.Reports.ListAsync(_course, Token)),
        ["Reports.GetAsync"] = client => client.Reports.GetAsync(_course, _report, Token),
        ["Reports.RankAsync"] = client => client.Reports.RankAsync(_course, _report, Token),
        ["Grades.ListAsync"] = client => All(client.Grades.ListAsync(_course, cancellationToken: Token)),
        ["Grades.ExportAsync"] = async client => await (await client.Grades.ExportAsync(_course, cancellationToken: Token)).DisposeAsync(),
        ["Grades.GetGradebookAsync"] = client => client.Grades.GetGradebookAsync(_course, cancellationToken: Token),
        ["Grades.ExportGradebookAsync"] = async client => await (await client.Grades.ExportGradebookAsync(_course, cancellationToken: Token)).DisposeAsync(),
        ["Grades.ExportOneRosterAsync"] = async client => await (await client.Grades.ExportOneRosterAsync(_course, Ids, Token)).DisposeAsync(),
        ["Grades.ListGradingsAsync"] = client => All(client.Grades.ListGradingsAsync(_course, Token)),
        ["Grades.ListModerationsAsync"] = client => All(client.Grades.ListModerationsAsync(_course, cancellationToken: Token)),
        ["Grades.GetAsync"] = client => client.Grades.GetAsync(_course, _grading, Token),
        ["Grades.FollowAsync"] = client => All(client.Grades.FollowAsync(_course, _grading, Token)),
        ["Grades.CompareAsync"] = client => client.Grades.CompareAsync(_course, _grading, _otherGrading, Token),
        ["Thermometers.ListAsync"] = client => All(client.Thermometers.ListAsync(Token)),
        ["Thermometers.GetAsync"] = client => client.Thermometers.GetAsync(_thermometer, Token),
        ["Keys.GetCurrentAsync"] = client => client.Keys.GetCurrentAsync(Token),
        ["Keys.ListPeopleAsync"] = client => All(client.Keys.ListPeopleAsync(cancellationToken: Token)),
        ["Keys.ListAsync"] = client => All(client.Keys.ListAsync(cancellationToken: Token)),
        ["Keys.GetAsync"] = client => client.Keys.GetAsync(_key, Token),
        ["Audit.ListAsync"] = client => All(client.Audit.ListAsync(cancellationToken: Token)),
        ["Proposals.ListAsync"] = client => All(client.Proposals.ListAsync(cancellationToken: Token)),
        ["Proposals.GetAsync"] = client => client.Proposals.GetAsync(_proposal.Id, Token),
        ["Proposals.ListChangesAsync"] = client => All(client.Proposals.ListChangesAsync(_proposal.Id, cancellationToken: Token)),
        ["Proposals.ValidateAsync"] = client => client.Proposals.ValidateAsync(_proposal.Id, Token),
        ["Proposals.ListAuditAsync"] = client => All(client.Proposals.ListAuditAsync(_proposal.Id, Token)),
        ["Proposals.ListCommentsAsync"] = client => All(client.Proposals.ListCommentsAsync(_proposal.Id, Token)),
        ["Imports.GetAsync"] = client => client.Imports.GetAsync(_import, Token),
        ["Imports.FollowAsync"] = client => All(client.Imports.FollowAsync(_import, Token)),
        ["Imports.ListFaultsAsync"] = client => All(client.Imports.ListFaultsAsync(_import, Token)),
        ["Verification.GetSheetAsync"] = client => client.Verification.GetSheetAsync(Sheet, Token),
        ["Verification.ListSheetAsync"] = client => All(client.Verification.ListSheetAsync(Sheet with { Kinds = "oxime", Limit = 200 }, Token)),
        ["Verification.ExportSheetAsync"] = async client => await (await client.Verification.ExportSheetAsync(Sheet, Token)).DisposeAsync(),
        ["Verification.GetReadSheetAsync"] = client => client.Verification.GetReadSheetAsync(_sheet, Token),
        ["Verification.GetWorthCheckingAsync"] = client => client.Verification.GetWorthCheckingAsync(new WorthQuery { Limit = 3 }, Token),
        ["Verification.GetProgressAsync"] = client => client.Verification.GetProgressAsync(Token),
        ["Proposals.GetLearningAsync"] = client => client.Proposals.GetLearningAsync(Token),
        ["Proposals.CreateAsync"] = client => client.Proposals.CreateAsync(new ProposalRequest { Title = "Another" }, "why", null, Token),
        ["Proposals.ProposeLearnedAsync"] = client => client.Proposals.ProposeLearnedAsync(new LearningRequest { Title = "Learned" }, "why", null, Token),
        ["Verification.SendAsync"] = async client =>
        {
            await client.Verification.SendAsync(Readings, new ReadingsRequest { Readings = new Dictionary<string, string> { ["propanone-oxime-1"] = "-" } }, "why", null, Token);
            await client.Verification.SendAsync(Readings, "key,as_printed\npropanone-oxime-1,-\n"u8.ToArray(), "why", null, Token);
        },
        ["Proposals.CommentAsync"] = client => client.Proposals.CommentAsync(_proposal.Id, "Seen.", null, Token),
        ["Proposals.DescribeAsync"] = client => client.Proposals.DescribeAsync(_proposal, "Another title", cancellationToken: Token),
        ["Proposals.PutRecordAsync"] = client => client.Proposals.PutRecordAsync(
            _proposal, "colours", "red", JsonElement.Parse("""{ "key": "red" }"""), cancellationToken: Token),
        ["Proposals.RemoveRecordAsync"] = client => client.Proposals.RemoveRecordAsync(_proposal, "colours", "red", cancellationToken: Token),
        ["Proposals.TakeBackRecordAsync"] = client => client.Proposals.TakeBackRecordAsync(_proposal, "colours", "red", cancellationToken: Token),
        ["Imports.StartAsync"] = client => client.Imports.StartAsync(
            _proposal, new ImportFile("colours", new MemoryStream("[]"u8.ToArray()), ExportFormat.Json), cancellationToken: Token),
        ["Imports.CancelAsync"] = client => client.Imports.CancelAsync(_import, cancellationToken: Token),
        ["Proposals.SubmitAsync"] = client => client.Proposals.SubmitAsync(_proposal, cancellationToken: Token),
        ["Proposals.ApproveAsync"] = client => client.Proposals.ApproveAsync(_proposal, cancellationToken: Token),
        ["Proposals.HandBackAsync"] = client => client.Proposals.HandBackAsync(_proposal, cancellationToken: Token),
        ["Proposals.ReleaseAsync"] = client => client.Proposals.ReleaseAsync(_proposal, cancellationToken: Token),
        ["Proposals.RebaseAsync"] = client => client.Proposals.RebaseAsync(_proposal, cancellationToken: Token),
        ["Proposals.WithdrawAsync"] = client => client.Proposals.WithdrawAsync(_proposal, cancellationToken: Token),
        ["Reports.ChangeAsync"] = client => client.Reports.ChangeAsync(
            _course, _draft, new ReportRequest { Assignment = "AAAA-AAAA" }, Token),
        ["Reports.CreateAsync"] = client => client.Reports.CreateAsync(
            _course, new ReportRequest { Assignment = "AAAA-AAAA", Observation = Observation }, cancellationToken: Token),
        ["Courses.CreateAsync"] = async client =>
        {
            var idempotencyKey = Guid.NewGuid().ToString();
            var made = await client.Courses.CreateAsync(Course, idempotencyKey, Token);
            Assert.Equal(made.Id, (await client.Courses.CreateAsync(Course, idempotencyKey, Token)).Id);
        },
        ["Courses.ChangeAsync"] = client => client.Courses.ChangeAsync(_seenCourse, Course, Token),
        ["Courses.PutStaffAsync"] = client => client.Courses.PutStaffAsync(
            _seenCourse, [new StaffMember { Actor = "sign-in:ta-7 https://login.example.edu", IsOwner = true }], Token),
        ["Courses.GiveKeysAsync"] = client => client.Courses.GiveKeysAsync(_seenCourse, new StudentKeysRequest { Students = ["s9"] }, Token),
        ["Courses.PutRosterAsync"] = client => client.Courses.PutRosterAsync(
            _seenCourse, [new RosterStudent { Student = "s9" }], cancellationToken: Token),
        ["Courses.PutExtensionsAsync"] = client => client.Courses.PutExtensionsAsync(
            _seenCourse, [new Extension { Student = "s2", DueAt = new DateTimeOffset(2099, 2, 1, 0, 0, 0, TimeSpan.Zero) }], Token),
        ["Courses.HandOutAsync"] = client => client.Courses.HandOutAsync(_course, new HandOutRequest(), cancellationToken: Token),
        ["Grades.StartAsync"] = client => client.Grades.StartAsync(_course, cancellationToken: Token),
        ["Grades.ModerateAsync"] = client => client.Grades.ModerateAsync(
            _course, _report, new ModerationRequest { Reason = "made up" }, cancellationToken: Token),
        ["Grades.PublishAsync"] = client => client.Grades.PublishAsync(_seenCourse, _grading, beforeDue: true, Token),
        ["Courses.ArchiveAsync"] = client => client.Courses.ArchiveAsync(_seenCourse, isArchived: false, Token),
        ["Courses.DeleteAsync"] = client => client.Courses.DeleteAsync(_seenCourse, "why", Token),
        ["Thermometers.RegisterAsync"] = client => client.Thermometers.RegisterAsync(
            new ThermometerRequest { Name = "made up", Liquid = ThreadLiquid.Alcohol }, cancellationToken: Token),
        ["Thermometers.CalibrateAsync"] = client => client.Thermometers.CalibrateAsync(
            _thermometer,
            new CalibrationRequest { Standards = [new StandardMelted { Standard = "benzoic acid", ReadCelsius = 121.4 }] },
            cancellationToken: Token),
        ["Keys.CreateAsync"] = client => client.Keys.CreateAsync(new KeyRequest { Name = "made up", Role = Role.Student }, "why", null, Token),
        ["Keys.RevokeAsync"] = client => client.Keys.RevokeAsync(_key, "why", Token),
    };

    public async ValueTask InitializeAsync()
    {
        await _service.InitializeAsync();
        Ask("nobody", null);
        Ask("administrator", ServiceUnderTest.AdministratorKey);
        var administrator = _askers["administrator"].Client;
        foreach (var role in new[] { Role.Student, Role.Grader, Role.Instructor })
        {
            var made = await administrator.Keys.CreateAsync(new KeyRequest { Name = "made up", Role = role }, cancellationToken: Token);
            Ask(WireJson.Word(role), made.Key);
        }

        _key = (await administrator.Keys.CreateAsync(
            new KeyRequest { Name = "to be revoked", Role = Role.Student }, cancellationToken: Token)).Details.Id;
        _thermometer = (await _askers["instructor"].Client.Thermometers.RegisterAsync(
            new ThermometerRequest { Name = "made up" }, cancellationToken: Token)).Id;
        await MakeCourseAsync(_askers["instructor"].Client, _askers["student"].Client, _askers["grader"].Client);
        await ProposeAsync(_askers["instructor"].Client);
        _identification = (await _askers["nobody"].Client.Identifications.IdentifyAsync(Observation, cancellationToken: Token)).Id;
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var (client, _) in _askers.Values)
        {
            client.Dispose();
        }

        await _service.DisposeAsync();
    }

    [Fact]
    public async Task EveryCallIsAnsweredAsTheDocumentSays()
    {
        var answered = new HashSet<string>();
        foreach (var asker in new[] { "nobody", "student", "grader", "instructor", "administrator" })
        {
            foreach (var (name, call) in Calls)
            {
                try
                {
                    await call(_askers[asker].Client);
                    answered.Add(name);
                }
                catch (DerividException refusal)
                {
                    Assert.StartsWith("urn:derivid:problem:", refusal.Type, StringComparison.Ordinal);
                }
            }
        }

        var faults = _askers.SelectMany(asker => asker.Value.Witness.Faults.Select(fault => $"{asker.Key}: {fault}")).ToList();
        Assert.True(faults.Count == 0, string.Join('\n', faults));
        Assert.True(_askers.Values.All(asker => asker.Witness.Answers >= Calls.Count));
        Assert.Equal([], Calls.Keys.TakeWhile(name => name != "Proposals.CreateAsync").Except(answered));
    }

    [Fact]
    public async Task CourseIsReadByItsStudentAndByThoseWhoRunIt()
    {
        var student = (await _askers["student"].Client.Courses.GetAsync(_course, Token)).Value;
        var grader = (await _askers["grader"].Client.Courses.GetAsync(_course, Token)).Value;
        var grades = await _askers["student"].Client.Grades.ListAsync(_course, cancellationToken: Token).ToListAsync(Token);

        Assert.Equal(("s1", true), (student.Student, student.AreGradesPublished));
        Assert.NotNull(student.Rubric);
        Assert.Null(student.WindowCelsius);
        Assert.Null(student.PublishedGrading);
        Assert.Equal((null, _grading), (grader.Student, grader.PublishedGrading));
        Assert.NotNull(grader.Rubric);
        Assert.Equal(_report, Assert.Single(grades).Report);
    }

    [Fact]
    public void EveryCallOfTheClientIsAmongThem()
    {
        var calls = typeof(DerividClient).GetProperties()
            .SelectMany(part => part.PropertyType.GetMethods(BindingFlags.Public | BindingFlags.Instance | BindingFlags.DeclaredOnly)
                .Select(method => $"{part.Name}.{method.Name}"));

        Assert.Equal(calls.Distinct().Order(), Calls.Keys.Order());
    }

    private static async Task All<T>(IAsyncEnumerable<T> rows) => await rows.CountAsync(Token);

    private void Ask(string name, string? key)
    {
        var witness = new Witness();
        var http = new HttpClient(witness) { BaseAddress = _service.Address };
        if (key is not null)
        {
            http.DefaultRequestHeaders.Authorization = new("Bearer", key);
        }

        _askers[name] = (new DerividClient(http), witness);
    }

    private async Task MakeCourseAsync(DerividClient instructor, DerividClient student, DerividClient grader)
    {
        _course = (await instructor.Courses.CreateAsync(Course, cancellationToken: Token)).Id;
        await instructor.Courses.PutStaffAsync(
            await instructor.Courses.GetAsync(_course, Token),
            [
                new StaffMember { Actor = (await instructor.Keys.GetCurrentAsync(Token)).Actor, IsOwner = true },
                new StaffMember { Actor = (await grader.Keys.GetCurrentAsync(Token)).Actor },
            ],
            Token);
        _seenCourse = await instructor.Courses.GetAsync(_course, Token);
        await instructor.Courses.PutRosterAsync(
            _seenCourse,
            [
                new RosterStudent { Student = "s1", Bench = "A", Place = 1, Actor = (await student.Keys.GetCurrentAsync(Token)).Actor },
                new RosterStudent { Student = "s2", Bench = "A", Place = 2 },
            ],
            cancellationToken: Token);
        await instructor.Courses.HandOutAsync(_course, new HandOutRequest { Seed = Seed }, cancellationToken: Token);
        var own = await student.Courses.ListAssignmentsAsync(_course, cancellationToken: Token).SingleAsync(Token);
        var report = new ReportRequest { Assignment = own.Code, Observation = Observation, ClaimedParent = "acetone" };
        _report = (await student.Reports.CreateAsync(_course, report, cancellationToken: Token)).Id;
        var draft = await student.Reports.CreateAsync(_course, report with { IsDraft = true }, cancellationToken: Token);
        _draft = await student.Reports.GetAsync(_course, draft.Id, Token);
        _grading = await GradedAsync(grader, null);
        _otherGrading = await GradedAsync(grader, JsonElement.Parse("""{ "name": "claim only", "rightCompound": { "points": 3 } }"""));
        await instructor.Grades.PublishAsync(await instructor.Courses.GetAsync(_course, Token), _grading, beforeDue: true, Token);
    }

    private async Task<string> GradedAsync(DerividClient grader, JsonElement? rubric)
    {
        var started = await grader.Grades.StartAsync(_course, new GradingRequest { Rubric = rubric }, cancellationToken: Token);
        return (await grader.Grades.FollowAsync(_course, started.Id, Token).LastAsync(Token)).Id;
    }

    private async Task ProposeAsync(DerividClient instructor)
    {
        _proposal = await instructor.Proposals.CreateAsync(new ProposalRequest { Title = "One record less" }, cancellationToken: Token);
        var file = new ImportFile("colours", new MemoryStream("""[{ "key": 3 }]"""u8.ToArray()), ExportFormat.Json);
        _import = (await instructor.Imports.StartAsync(_proposal, file, cancellationToken: Token)).Id;
        await All(instructor.Imports.FollowAsync(_import, Token));
        await instructor.Proposals.CommentAsync(_proposal.Id, "For the walk.", null, Token);
        _sheet = (await instructor.Verification.SendAsync(
            Readings, new ReadingsRequest { Readings = new Dictionary<string, string> { ["propanone-oxime-1"] = "-" } }, cancellationToken: Token)).Id;
        _proposal = await instructor.Proposals.GetAsync(_proposal.Id, Token);
        _proposal = await instructor.Proposals.RemoveRecordAsync(_proposal, "colours", "red", cancellationToken: Token);
    }
}
