using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Testing;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>A service with something to see in every view. Who only looks shares one; who changes it takes one of their own.</summary>
/// <remarks>All of it is invented: course, students, readings, and a compound with a name as long as a name may be.</remarks>
[CollectionDefinition(nameof(ShownPage))]
public sealed class ShownPage : IAsyncLifetime, ICollectionFixture<ShownPage>
{
    /// <summary>Key of a compound of the table with a name as long as one may be: on the shelf, handed out, claimed, identified.</summary>
    private const string Long = "long-invented";

    /// <summary>Letters of the longest name.</summary>
    private const int LongName = 380;

    /// <summary>Its semicarbazone's range; no other is listed there. Units: °C.</summary>
    private const string LongRange = "301-303";

    private readonly Dictionary<Role, string> _keys = [];
    private readonly PostgreSqlServer? _server;
    private readonly (string Name, string Value)[] _settings = [];
    private string _connection = "";
    private PostgreSqlDatabase? _database;
    private PageUnderTest? _service;

    public ShownPage(PostgreSqlServer server) => _server = server;

    /// <summary>One whose database belongs to its test.</summary>
    /// <param name="connection">Connection string of an empty database.</param>
    /// <param name="settings">Settings beside the usual ones.</param>
    internal ShownPage(string connection, params (string Name, string Value)[] settings) => (_connection, _settings) = (connection, settings);

    /// <summary>The service.</summary>
    public PageUnderTest Service => _service!;

    /// <summary>Every view. Shape: address, and the least role that may see it; null, everybody.</summary>
    public IReadOnlyList<(string Address, Role? Least)> Views { get; private set; } = [];

    /// <summary>Address of a report that the student has begun.</summary>
    public string ReportBegun { get; private set; } = "";

    /// <summary>The key of a role; the student's is that of the course's first student.</summary>
    public string KeyOf(Role role) => _keys[role];

    /// <summary>Somebody who may see everything: the administrator.</summary>
    public async Task<Reader> SignedInAsync(BrowserFixture browser, BrowserNewContextOptions? options = null)
    {
        var reader = await Reader.SitDownAsync(browser, Service.Address, options: options);
        await reader.ComeSignedInAsync(KeyOf(Role.Administrator));
        return reader;
    }

    /// <summary>Opens every view: what is a student's own as the student, the rest as the administrator, who may see it all.</summary>
    /// <param name="reader">Signed in as the administrator.</param>
    /// <param name="look">What is done at each address.</param>
    public async Task EveryViewAsync(Reader reader, Func<string, Task> look)
    {
        foreach (var part in Views.GroupBy(view => view.Least == Role.Student).OrderBy(part => part.Key))
        {
            if (part.Key)
            {
                await reader.Page.Context.ClearCookiesAsync();
                await reader.ComeSignedInAsync(KeyOf(Role.Student));
            }

            foreach (var (address, _) in part)
            {
                var response = await reader.OpenAsync(address);
                Assert.True(response.Status == (address == "/nowhere" ? 404 : 200), $"{address} answered {response.Status}");
                await look(address);
            }
        }
    }

    public async ValueTask InitializeAsync()
    {
        var gone = TestContext.Current.CancellationToken;
        if (_server is not null)
        {
            _database = await _server.NewDatabaseAsync();
            _connection = _database.ConnectionString;
        }

        _service = await PageUnderTest.StartAsync(_connection, 0, _settings);
        var actors = new Dictionary<Role, string>();
        foreach (var role in Enum.GetValues<Role>())
        {
            var key = await _service.KeyAsync(role);
            (_keys[role], actors[role]) = (key.Key, "key:" + key.Details.Id);
        }

        using var instructor = _service.ClientWith(_keys[Role.Instructor]);
        using var student = _service.ClientWith(_keys[Role.Student]);
        using var administrator = _service.ClientWith(_keys[Role.Administrator]);
        await NameAtLengthAsync(instructor, administrator, gone);
        var named = await instructor.Identifications.IdentifyAsync(
            new IdentificationRequest { Derivatives = [new DerivativeObserved { Kind = "semicarbazone", MeltingRange = LongRange }] }, cancellationToken: gone);
        Assert.Equal(Long, named.Candidates[0].Parent.Key);
        var identification = await instructor.Identifications.IdentifyAsync(
            new IdentificationRequest
            {
                Derivatives = [new DerivativeObserved { Kind = "2-4-dinitrophenylhydrazone", MeltingRange = "236-238", Colour = "orange-red" }],
                SpotTests = [new SpotTestObserved { Test = "tollens", Outcome = Core.SpotTests.SpotTestOutcome.Positive }],
            },
            cancellationToken: gone);
        var (course, report, grading, other) = await TeachAsync(instructor, student, actors[Role.Student], gone);
        var open = await BeginAsync(instructor, student, actors[Role.Student], gone);
        ReportBegun = $"/courses/{open.Id}/mine/{open.Code}";
        var fresh = await instructor.Courses.CreateAsync(
            new CourseRequest { Name = "Not handed out yet (invented)", ShelfList = ["benzaldehyde", "hexanal"], IsInvented = true }, null, gone);
        await instructor.Courses.PutRosterAsync(await instructor.Courses.GetAsync(fresh.Id, gone), [new RosterStudent { Student = "s-301" }], cancellationToken: gone);
        foreach (var id in new[] { course.Id, open.Id, fresh.Id })
        {
            await instructor.Courses.AddStaffAsync(id, actors[Role.Grader], gone);
        }

        var (proposal, import) = await CurateAsync(instructor, gone);
        var sheet = await administrator.Verification.SendAsync(
            new ReadingsQuery { SourceKey = "volatile-oils-1", Locator = "nowhere (invented)" },
            new ReadingsRequest { Readings = new Dictionary<string, string> { [Long + "-semicarbazone"] = "299-300 dec. yellow", ["propanone-oxime-1"] = "-", ["cyclohexanone-oxime-1"] = "17" } },
            null, null, gone);
        var thermometer = await student.Thermometers.RegisterAsync(
            new ThermometerRequest { Name = "Bench 3 (invented)", Liquid = Core.Melting.ThreadLiquid.Petroleum }, null, gone);
        foreach (var (read, melted) in new[] { (120.9, 2024), (119.5, 2026) })
        {
            await student.Thermometers.CalibrateAsync(
                thermometer.Id,
                new CalibrationRequest
                {
                    Standards =
                    [
                        new StandardMelted { Standard = "naphthalene", ReadCelsius = 78.5 },
                        new StandardMelted { Standard = "benzoic-acid", ReadCelsius = read },
                        new StandardMelted { Standard = "caffeine", ReadCelsius = 232 },
                    ],
                    MeltedAt = new DateTimeOffset(melted, 3, 2, 9, 0, 0, TimeSpan.Zero),
                },
                null,
                gone);
        }

        Views =
        [
            ("/", null),
            ($"/?from={identification.Id}", null),
            ($"/identifications/{identification.Id}", null),
            ($"/identifications/{identification.Id}?a={identification.Candidates[0].Parent.Key}&b={identification.Candidates[1].Parent.Key}", null),
            ($"/identifications/{named.Id}?a={Long}&b={named.Candidates[1].Parent.Key}", null),
            ("/table", null),
            ("/table/benzaldehyde", null),
            ("/table/" + Long, null),
            ("/prepare", null),
            ("/prepare?kind=2-4-dinitrophenylhydrazone&parent=" + Long + "&milligrams=200&productMilligrams=350&portions=12", null),
            ("/prepare?kind=semicarbazone&lowest=90&highest=130&milligrams=100", null),
            ("/prepare?kind=oxime&parent=propanon&milligrams=ten&excess=500", null),
            ("/decide", null),
            ("/decide?shelf=acetone%0Abutanone%0Abenzaldehyde&kinds=semicarbazone&tests=iodoform&constants=true", null),
            ("/decide?shelf=acetone%0Anobody&certainty=much", null),
            ($"/identifications/{identification.Id}/what-if?kind=BoilingPoint", null),
            ("/read", null),
            ("/read?kind=2-4-dinitrophenylhydrazone&parent=" + Long + "&read=120-124&preparation=crude&reach=220", null),
            ($"/read?kind=2-4-dinitrophenylhydrazone&expected=237-238+dec.&identification={identification.Id}", null),
            ("/read?kind=&standard=sand&read=warm&enthalpy=much", null),
            ("/sign-in", null),
            ("/nowhere", null),
            ("/me", Role.Student),
            ("/courses", Role.Student),
            ("/thermometers", Role.Student),
            ($"/thermometers/{thermometer.Id}", Role.Student),
            ($"/courses/{course.Id}/mine", Role.Student),
            ($"/courses/{course.Id}/mine/{course.Code}", Role.Student),
            ($"/courses/{open.Id}/mine", Role.Student),
            (ReportBegun, Role.Student),
            (ReportBegun + "/hand-in", Role.Student),
            ($"/courses/{course.Id}/reports/{report}/ranking", Role.Student),
            // Students are led from it to their own view.
            ($"/courses/{course.Id}", Role.Student),
            ($"/courses/{course.Id}/staff", Role.Grader),
            ($"/courses/{course.Id}/reports", Role.Grader),
            ($"/courses/{course.Id}/reports/{report}", Role.Student),
            ($"/courses/{course.Id}/mine/{course.Code}/hand-in", Role.Student),
            ($"/courses/{course.Id}/class?grading={grading}", Role.Grader),
            ($"/courses/{course.Id}/gradings/{grading}", Role.Grader),
            ($"/courses/{course.Id}/gradings/{other}/publication", Role.Instructor),
            ($"/courses/{course.Id}/gradings/{grading}/comparison?other={other}", Role.Grader),
            ($"/courses/{course.Id}/gradings/{grading}/reports/{report}", Role.Grader),
            ("/courses/new", Role.Instructor),
            ($"/courses/{course.Id}/settings", Role.Instructor),
            ($"/courses/{course.Id}/roster", Role.Instructor),
            ($"/courses/{course.Id}/extensions", Role.Instructor),
            ($"/courses/{course.Id}/keys", Role.Instructor),
            ($"/courses/{course.Id}/hand-out", Role.Instructor),
            ($"/courses/{fresh.Id}/hand-out", Role.Instructor),
            ($"/courses/{course.Id}/hand-out/anew", Role.Instructor),
            ($"/courses/{course.Id}/labels", Role.Instructor),
            ($"/courses/{course.Id}/filling", Role.Instructor),
            ($"/courses/{course.Id}/filling?vialMillilitres=2&vialMilligrams=much", Role.Instructor),
            ($"/courses/{course.Id}/archive", Role.Instructor),
            ("/courses?archived=true", Role.Student),
            ("/coverage", Role.Instructor),
            ("/proposals", Role.Instructor),
            ($"/proposals/{proposal}", Role.Instructor),
            ($"/proposals/{proposal}/withdrawal", Role.Instructor),
            ($"/proposals/{proposal}/import", Role.Instructor),
            ($"/imports/{import}", Role.Instructor),
            ("/verification", Role.Instructor),
            ("/verification/worth-checking", Role.Instructor),
            ("/learning", Role.Instructor),
            ("/verification/sheet?sourceKey=volatile-oils-1&kinds=semicarbazone&kinds=oxime&scope=all", Role.Instructor),
            ($"/verification/readings/{sheet.Id}", Role.Instructor),
            ("/records/derivatives", Role.Instructor),
            ($"/records/parents/{Long}?proposal={proposal}", Role.Instructor),
            ("/records/spot-tests/tollens", Role.Instructor),
            ("/compounds/new?smiles=O%3DCc1ccccc1&name=benzaldehyde", Role.Instructor),
            ("/keys", Role.Administrator),
            ("/keys/class", Role.Administrator),
            ($"/keys/{_keys[Role.Grader].Split('_')[1]}/revocation", Role.Administrator),
            ("/audit", Role.Administrator),
        ];
    }

    public async ValueTask DisposeAsync()
    {
        if (_service is not null)
        {
            await _service.DisposeAsync();
        }

        if (_database is not null)
        {
            await _database.DisposeAsync();
        }
    }

    private static async Task<((string Id, string Code) Course, string Report, string Grading, string Other)> TeachAsync(
        DerividClient instructor, DerividClient student, string actor, CancellationToken gone)
    {
        var course = await instructor.Courses.CreateAsync(
            new CourseRequest
            {
                Name = "Carbonyl compounds, Thursday bench (invented)",
                ShelfList = ["benzaldehyde", "cyclohexanone", Long, "hexanal"],
                DerivativeKinds = ["2-4-dinitrophenylhydrazone", "semicarbazone"],
                SpotTests = ["tollens"],
                TakesBoilingPoint = true,
                ShowsRanking = true,
                MostAttempts = 2,
                IsInvented = true,
            },
            null, gone);
        await instructor.Courses.PutRosterAsync(
            await instructor.Courses.GetAsync(course.Id, gone),
            [
                new RosterStudent { Student = "s-101", Bench = "A", Place = 1, Actor = actor },
                .. Enumerable.Range(2, 5).Select(place => new RosterStudent { Student = $"s-10{place}", Bench = "A", Place = place }),
            ],
            cancellationToken: gone);
        await instructor.Courses.HandOutAsync(course.Id, new HandOutRequest(), null, gone);
        var code = (await student.Courses.ListAssignmentsAsync(course.Id, false, gone).SingleAsync(gone)).Code;
        var report = await student.Reports.CreateAsync(
            course.Id,
            new ReportRequest
            {
                Assignment = code,
                ClaimedParent = "benzaldehyde",
                Reasoning = "The range of the crystals, and the mirror.",
                Observation = new IdentificationRequest
                {
                    Derivatives = [new DerivativeObserved { Kind = "2-4-dinitrophenylhydrazone", MeltingRange = "236-238" }],
                },
            },
            null, gone);
        await student.Reports.CreateAsync(
            course.Id, new ReportRequest { Assignment = code, ClaimedKind = Core.Compounds.ParentKind.Aldehyde, IsDraft = true }, null, gone);
        var gradings = new List<GradingStatus>();
        foreach (var _ in Enumerable.Range(0, 2))
        {
            var started = await instructor.Grades.StartAsync(course.Id, null, null, gone);
            gradings.Add(await instructor.Grades.FollowAsync(course.Id, started.Id, gone).LastAsync(gone));
        }

        await instructor.Grades.ModerateAsync(
            course.Id, report.Id,
            new ModerationRequest { Criterion = Core.Teaching.Grading.CriterionKind.RangeWidth, Points = 3, Reason = "Read with the instructor beside (invented).", Grading = gradings[0].Id },
            null, gone);
        await instructor.Grades.ModerateAsync(course.Id, report.Id, new ModerationRequest { Reason = "Well argued (invented).", Grading = gradings[0].Id }, null, gone);
        await instructor.Grades.PublishAsync(await instructor.Courses.GetAsync(course.Id, gone), gradings[0].Id, beforeDue: true, gone);
        return ((course.Id, code), report.Id, gradings[0].Id, gradings[1].Id);
    }

    // A course that takes reports, and a draft on its unknown.
    private static async Task<(string Id, string Code)> BeginAsync(DerividClient instructor, DerividClient student, string actor, CancellationToken gone)
    {
        var course = await instructor.Courses.CreateAsync(
            new CourseRequest
            {
                Name = "Carbonyl compounds, Friday bench (invented)",
                ShelfList = ["benzaldehyde", "hexanal", Long],
                DerivativeKinds = ["2-4-dinitrophenylhydrazone"],
                SpotTests = ["tollens"],
                DueAt = new DateTimeOffset(2036, 3, 1, 11, 0, 0, TimeSpan.Zero),
                IsInvented = true,
            },
            null, gone);
        await instructor.Courses.PutRosterAsync(
            await instructor.Courses.GetAsync(course.Id, gone), [new RosterStudent { Student = "s-201", Actor = actor }], cancellationToken: gone);
        await instructor.Courses.HandOutAsync(course.Id, new HandOutRequest(), null, gone);
        var code = (await student.Courses.ListAssignmentsAsync(course.Id, false, gone).SingleAsync(gone)).Code;
        await student.Reports.CreateAsync(
            course.Id, new ReportRequest { Assignment = code, ClaimedParent = Long, IsDraft = true }, null, gone);
        return (course.Id, code);
    }

    private static async Task NameAtLengthAsync(DerividClient author, DerividClient reviewer, CancellationToken gone)
    {
        const string smiles = "CCCCCCCCCCc1ccc(C=O)cc1";
        var structure = await author.Table.DescribeStructureAsync(smiles, null, gone);
        var benzaldehyde = await author.Table.GetParentAsync("benzaldehyde", null, gone);
        var parent = benzaldehyde.Parent with
        {
            Key = Long,
            Name = string.Concat(Enumerable.Repeat("methyl", LongName))[..LongName],
            Synonyms = [],
            CasNumber = "999-99-5",
            Smiles = smiles,
            Formula = structure.Formula,
            MolarMass = structure.MolarMass,
            Note = "Invented, for the tests.",
        };
        var semicarbazone = (Core.Compounds.Derivative)(benzaldehyde.Derivatives.First(row => row.KindKey == "semicarbazone") with
        {
            Key = Long + "-semicarbazone",
            ParentKey = Long,
            LowCelsius = 301,
            HighCelsius = 303,
            AsPrinted = LongRange,
            Note = "Invented, for the tests.",
        });
        var proposal = await author.Proposals.CreateAsync(new ProposalRequest { Title = "A name as long as a name may be (invented)" }, null, null, gone);
        foreach (var (list, key, record) in new[]
        {
            ("parents", parent.Key, System.Text.Json.JsonSerializer.SerializeToElement(parent, WireJson.Options)),
            ("derivatives", semicarbazone.Key, System.Text.Json.JsonSerializer.SerializeToElement(semicarbazone, WireJson.Options)),
        })
        {
            proposal = await author.Proposals.PutRecordAsync(proposal, list, key, record, null, gone);
        }

        proposal = await author.Proposals.SubmitAsync(proposal, null, gone);
        await reviewer.Proposals.ReleaseAsync(await reviewer.Proposals.ApproveAsync(proposal, null, gone), null, gone);
    }

    private static async Task<(string Proposal, string Import)> CurateAsync(DerividClient instructor, CancellationToken gone)
    {
        var proposal = await instructor.Proposals.CreateAsync(new ProposalRequest { Title = "It is common after all (invented)" }, null, null, gone);
        var parent = (await instructor.Table.GetParentAsync(Long, null, gone)).Parent with { Commonness = Core.Compounds.Commonness.Usual };
        proposal = await instructor.Proposals.PutRecordAsync(
            proposal, "parents", parent.Key, System.Text.Json.JsonSerializer.SerializeToElement(parent, WireJson.Options), null, gone);
        using var file = new MemoryStream("key,parent_key\nx,\n"u8.ToArray());
        var started = await instructor.Imports.StartAsync(proposal, new ImportFile("derivatives", file, ExportFormat.Csv), true, null, null, gone);
        return (proposal.Id, (await instructor.Imports.FollowAsync(started.Id, gone).LastAsync(gone)).Id);
    }
}
