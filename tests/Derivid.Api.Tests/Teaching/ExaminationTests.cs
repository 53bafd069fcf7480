using System.Net;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Api.Tests.Teaching;

/// <summary>A course that is an examination keeps its students from the engine, and says whom it can't keep from it.</summary>
public sealed class ExaminationTests(PostgreSqlServer server)
{
    private static readonly string Examination = Classroom.Course.Replace(
        "\"mostAttempts\": 2", "\"mostAttempts\": 2, \"showsRanking\": true, \"isExamination\": true", StringComparison.Ordinal);

    private static readonly string Closing = Examination.Replace("\"dueAt\"", "\"closesAt\": \"2026-03-14T12:00:00Z\", \"dueAt\"", StringComparison.Ordinal);

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task StudentsOfTheCourseAloneAreKeptFromTheEngine(bool requiresKey)
    {
        await using var database = new SqliteDatabase();
        await using var service = NewService(database.ConnectionString, requiresKey);
        using var nobody = await service.StartAsync();
        await using var other = await Classroom.HandedOutAsync(service);
        await using var room = await Classroom.HandedOutAsync(service, Examination);
        var questions = await QuestionsAsync(room);

        foreach (var question in questions)
        {
            using var refused = await question(room.Ann);
            var problem = await refused.ProblemAsync(ProblemTypes.ExaminationOpen);
            Assert.Contains("Organic practical", (string?)problem["detail"], StringComparison.Ordinal);
            using var instructor = await question(room.Instructor);
            Assert.True(instructor.IsSuccessStatusCode);
        }

        // The ranking, last of the questions, is the course's own; the others are anybody's.
        foreach (var question in questions.SkipLast(1))
        {
            using var allowed = await question(other.Ann);
            Assert.True(allowed.IsSuccessStatusCode);
            using var anonymous = await question(nobody);
            Assert.Equal(requiresKey ? HttpStatusCode.Unauthorized : HttpStatusCode.OK, anonymous.StatusCode);
        }
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task InstructorIsToldWhenNobodyCanBeKeptFromIt(bool requiresKey)
    {
        await using var database = new SqliteDatabase();
        await using var service = NewService(database.ConnectionString, requiresKey);
        (await service.StartAsync()).Dispose();
        await using var room = await Classroom.OpenAsync(service);
        using var made = await room.Instructor.PostAsync(Classroom.Courses, Examination);
        var course = await made.JsonAsync(HttpStatusCode.Created);
        var read = await room.Instructor.JsonAtAsync($"{Classroom.Courses}/{course.GetProperty("id").GetString()}");
        using var usual = await room.Instructor.PostAsync(Classroom.Courses, Classroom.Course);

        Assert.True(course.GetProperty("isExamination").GetBoolean());
        foreach (var told in new[] { course, read })
        {
            Assert.Contains(
                requiresKey ? "closesAt" : "Access:RequireKeyToRead", told.GetProperty("warnings")[0].GetString()!, StringComparison.Ordinal);
        }

        Assert.False((await usual.JsonAsync(HttpStatusCode.Created)).TryGetProperty("warnings", out _));
    }

    [Fact]
    public async Task ItLastsFromTheHandOutUntilNoReportIsTaken()
    {
        await using var database = new SqliteDatabase();
        await using var service = NewService(database.ConnectionString, requiresKey: false);
        (await service.StartAsync()).Dispose();
        await using var room = await Classroom.OpenAsync(service);
        await room.MakeAsync(Examination);
        await room.PutRosterAsync(4);
        await room.Ann.IdentifiedAsync(Requests.Propanone);

        await room.HandOutAsync();
        await AssertKeptAsync(room.Ann);
        Assert.True((await room.Ann.JsonAtAsync(room.Address)).GetProperty("isExamination").GetBoolean());

        // Whoever has handed in could still ask for a neighbour.
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        await AssertKeptAsync(room.Ann);

        (await room.PutAsync(room.Instructor, room.Address, Closing)).Dispose();
        await AssertKeptAsync(room.Ann);
        var closed = Closing.Replace("2026-03-14T12", "2026-03-14T09", StringComparison.Ordinal);
        (await room.PutAsync(room.Instructor, room.Address, closed)).Dispose();
        await room.Ann.IdentifiedAsync(Requests.Propanone);

        // She may have asked by now, so it is not opened again.
        using var reopened = await room.PutAsync(room.Instructor, room.Address, Examination);
        await reopened.ProblemAsync(ProblemTypes.CourseStateForbids);
        await room.Ann.IdentifiedAsync(Requests.Propanone);

        await using var published = await Classroom.HandedOutAsync(service, Examination);
        await published.HandInAsync(published.Ann, published.Report("ann", "acetone"));
        await AssertKeptAsync(published.Ann);
        await published.PublishAsync(await published.GradeAsync());
        await published.Ann.IdentifiedAsync(Requests.Propanone);
    }

    // Each course gives its students keys of its own: a second key is the same student where the same people teach.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task KeyOfAnotherCourseIsTheSameStudentWhereTheSamePeopleTeach(bool isOnPostgreSql)
    {
        await using ITestDatabase database = isOnPostgreSql ? await server.NewDatabaseAsync() : new SqliteDatabase();
        await using var service = NewService(database.ConnectionString, requiresKey: true);
        (await service.StartAsync()).Dispose();
        await using var room = await Classroom.OpenAsync(service);
        await room.MakeAsync(Examination);
        await room.PutRosterAsync(4);
        using var elsewhere = await service.ClientAsAsync(Role.Instructor);
        using var namesake = await service.ClientAsAsync(Role.Student);
        await EnrolInAnotherAsync(room.Instructor, room.Stranger);
        await EnrolInAnotherAsync(elsewhere, namesake);
        await room.Stranger.IdentifiedAsync(Requests.Propanone);

        await room.HandOutAsync();

        await AssertKeptAsync(room.Stranger);
        await namesake.IdentifiedAsync(Requests.Propanone);
    }

    // Begun before the hand-out and held open, a request was answered amid the examination.
    [Theory]
    [InlineData(Requests.Identifications + "?store=false", false)]
    [InlineData(Requests.Batches + "?store=false", true)]
    [InlineData(Requests.Rankings, false)]
    public async Task BodyThatEndsAmidTheExaminationIsNotAnswered(string address, bool isBatch)
    {
        await using var database = new SqliteDatabase();
        await using var service = NewService(database.ConnectionString, requiresKey: true);
        (await service.StartAsync()).Dispose();
        await using var room = await Classroom.OpenAsync(service);
        await room.MakeAsync(Examination);
        await room.PutRosterAsync(4);
        var body = isBatch ? $$"""{ "items": [{ "observation": {{Requests.Propanone}} }] }""" : Requests.Propanone;
        var release = new TaskCompletionSource();
        using var message = new HttpRequestMessage(HttpMethod.Post, address);
        var held = await service.Held.SendAsync(room.Ann, message, body, release.Task);

        await room.HandOutAsync();
        release.SetResult();
        using var refused = await held;

        await refused.ProblemAsync(ProblemTypes.ExaminationOpen);
    }

    // Rosters are put again to seat people otherwise, from files that know nothing of the keys given out here.
    [Fact]
    public async Task RosterPutAgainWithoutActorsOrAnotherKeyFreesNobody()
    {
        await using var database = new SqliteDatabase();
        await using var service = NewService(database.ConnectionString, requiresKey: true);
        (await service.StartAsync()).Dispose();
        await using var room = await Classroom.OpenAsync(service);
        await room.MakeAsync(Examination);
        const string Names = """{ "students": [{ "student": "ann" }, { "student": "ben" }, { "student": "eve" }] }""";
        await PutAsync("", Names);
        var first = await KeyAsync();
        using var student = service.ClientWith(first);
        var seated = await PutAsync("", Names.Replace("\"eve\"", "\"eve\", \"bench\": \"A\"", StringComparison.Ordinal));
        Assert.Equal("key:" + first.Split('_')[1], seated.GetProperty("students")[2].GetProperty("actor").GetString());
        await room.HandOutAsync();
        await AssertKeptAsync(student);

        // Out of the roster and into it again with another key: the first opens nothing any more.
        await PutAsync("?dropsStudents=true", """{ "students": [{ "student": "ann" }, { "student": "ben" }] }""");
        await PutAsync("", Names);
        using var second = service.ClientWith(await KeyAsync());
        await AssertKeptAsync(second);
        using var refused = await student.IdentifyAsync(Requests.Propanone);
        Assert.Equal(HttpStatusCode.Unauthorized, refused.StatusCode);

        async Task<JsonElement> PutAsync(string query, string roster)
        {
            using var put = await room.PutAsync(room.Instructor, room.Address + "/roster" + query, roster);
            return await put.JsonAsync(HttpStatusCode.OK);
        }

        async Task<string> KeyAsync()
        {
            using var current = await room.Instructor.GetAsync(room.Address, Patience);
            using var post = new HttpRequestMessage(HttpMethod.Post, $"{room.Address}/keys") { Content = Requests.Json("""{ "students": ["eve"] }""") };
            post.Headers.IfMatch.Add(current.Headers.ETag!);
            using var given = await room.Instructor.SendAsync(post, Patience);
            return (await given.JsonAsync(HttpStatusCode.OK)).GetProperty("keys")[0].GetProperty("key").GetString()!;
        }
    }

    // A sign-in at the institution beside the key of the course could be anybody's.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task StudentWhomNoRosterNamesIsKeptFromTheEngineWhereItAsksForAKey(bool requiresKey)
    {
        await using var database = new SqliteDatabase();
        await using var service = NewService(database.ConnectionString, requiresKey);
        (await service.StartAsync()).Dispose();
        using var teacher = await service.ClientAsAsync(Role.Instructor);
        using var elsewhere = await service.ClientAsAsync(Role.Student);
        await EnrolInAnotherAsync(teacher, elsewhere, "zoe");
        await using var room = await Classroom.OpenAsync(service);
        await room.MakeAsync(Examination);
        await room.PutRosterAsync(4);
        await room.Stranger.IdentifiedAsync(Requests.Propanone);

        // Without an end nobody else is kept from anything, and the course says so.
        await room.HandOutAsync();
        await room.Stranger.IdentifiedAsync(Requests.Propanone);
        var warning = (await room.Instructor.JsonAtAsync(room.Address)).GetProperty("warnings")[0].GetString()!;
        Assert.Contains(requiresKey ? "closesAt" : "Access:RequireKeyToRead", warning, StringComparison.Ordinal);
        (await room.PutAsync(room.Instructor, room.Address, Closing)).Dispose();
        Assert.Equal(!requiresKey, (await room.Instructor.JsonAtAsync(room.Address)).TryGetProperty("warnings", out _));

        await elsewhere.IdentifiedAsync(Requests.Propanone);
        await room.Grader.IdentifiedAsync(Requests.Propanone);
        using var asked = await room.Stranger.IdentifyAsync(Requests.Propanone);
        if (!requiresKey)
        {
            Assert.True(asked.IsSuccessStatusCode);
            return;
        }

        var problem = await asked.ProblemAsync(ProblemTypes.ExaminationOpen);
        Assert.Contains(await Classroom.ActorAsync(room.Stranger), (string?)problem["detail"], StringComparison.Ordinal);
        Assert.DoesNotContain("Organic practical", (string?)problem["detail"], StringComparison.Ordinal);
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        await room.PublishAsync(await room.GradeAsync());
        await room.Stranger.IdentifiedAsync(Requests.Propanone);
    }

    // Who has a key in two courses keeps it in one of them when the other gives them another.
    [Fact]
    public async Task KeyReplacedHereAndGoodElsewhereStaysKnown()
    {
        await using var database = new SqliteDatabase();
        await using var service = NewService(database.ConnectionString, requiresKey: false);
        (await service.StartAsync()).Dispose();
        await using var room = await Classroom.OpenAsync(service);
        await room.MakeAsync(Examination);
        await room.PutRosterAsync(4);
        using var elsewhere = await service.ClientAsAsync(Role.Instructor);
        await EnrolInAnotherAsync(elsewhere, room.Ann);
        using var put = await room.PutAsync(
            room.Instructor, room.Address + "/roster?dropsStudents=true",
            $$"""{ "students": [{ "student": "ann", "actor": "{{await Classroom.ActorAsync(room.Stranger)}}" }, { "student": "ben" }] }""");
        await put.JsonAsync(HttpStatusCode.OK);
        await room.Ann.IdentifiedAsync(Requests.Propanone);

        await room.HandOutAsync();

        await AssertKeptAsync(room.Stranger);
        await AssertKeptAsync(room.Ann);
    }

    [Fact]
    public async Task AnotherInstanceKeepsThemFromItToo()
    {
        await using var database = await server.NewDatabaseAsync();
        await using var first = NewService(database.ConnectionString, requiresKey: true);
        await using var second = NewService(database.ConnectionString, requiresKey: true);
        (await first.StartAsync()).Dispose();
        (await second.StartAsync()).Dispose();
        await using var room = await Classroom.OpenAsync(first);
        using var ann = second.ClientWith(room.Ann.DefaultRequestHeaders.Authorization!.Parameter);
        await room.MakeAsync(Examination);
        await room.PutRosterAsync(4);
        await ann.IdentifiedAsync(Requests.Propanone);

        await room.HandOutAsync();

        await AssertKeptAsync(ann);
    }

    private static ServiceUnderTest NewService(string connectionString, bool requiresKey) =>
        new(connectionString, null, ("Access:RequireKeyToRead", requiresKey ? "true" : "false"));

    private static async Task EnrolInAnotherAsync(HttpClient instructor, HttpClient student, string name = "ann")
    {
        using var made = await instructor.PostAsync(Classroom.Courses, """{ "name": "Another", "shelfList": ["propanone"] }""");
        var address = $"{Classroom.Courses}/{(await made.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString()}";
        using var request = new HttpRequestMessage(HttpMethod.Put, address + "/roster")
        {
            Content = Requests.Json($$"""{ "students": [{ "student": "{{name}}", "actor": "{{await Classroom.ActorAsync(student)}}" }] }"""),
        };
        request.Headers.IfMatch.Add(made.Headers.ETag!);
        using var put = await instructor.SendAsync(request, Patience);
        await put.JsonAsync(HttpStatusCode.OK);
    }

    private static async Task AssertKeptAsync(HttpClient student)
    {
        using var refused = await student.IdentifyAsync(Requests.Propanone);
        await refused.ProblemAsync(ProblemTypes.ExaminationOpen);
    }

    /// <summary>Every way to ask the engine, the ranking of ann's report last.</summary>
    // So that an endpoint added later is not forgotten above.
    [Fact]
    public void NothingThatAnswersWithARankingIsLeftOut()
    {
        using var document = JsonDocument.Parse(File.ReadAllText(RepositoryFiles.At("src", "Derivid.Api", "openapi", "derivid.v1.json")));
        var ranking = document.RootElement.GetProperty("paths").EnumerateObject()
            .SelectMany(path => path.Value.EnumerateObject().Select(operation => (Name: $"{operation.Name} {path.Name}", Text: operation.Value.GetRawText())))
            .Where(operation => operation.Text.Contains("/IdentificationReply\"", StringComparison.Ordinal)
                || operation.Text.Contains("/BatchReply\"", StringComparison.Ordinal)).ToList();

        Assert.Equal(5, ranking.Count);
        Assert.All(ranking, operation => Assert.Contains("examination-open", operation.Text, StringComparison.Ordinal));
    }

    private static async Task<List<Func<HttpClient, Task<HttpResponseMessage>>>> QuestionsAsync(Classroom room)
    {
        using var kept = await room.Instructor.PostAsync(Requests.Identifications, Requests.Propanone);
        var id = (await kept.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString();
        var report = await room.HandInAsync(room.Ann, room.Report("ann", "acetone", isDraft: true));
        var batch = JsonSerializer.Serialize(new { items = new[] { new { observation = JsonElement.Parse(Requests.Propanone) } } });
        return
        [
            client => client.IdentifyAsync(Requests.Propanone),
            client => client.PostAsync(Requests.Batches + "?store=false", batch),
            client => client.PostAsync("/api/v1/forecasts", """{ "step": { "kind": "boilingPoint" } }"""),
            client => client.PostAsync("/api/v1/decision-sheets", """{ "shelfList": ["acetone", "butanone"], "derivativeKinds": [], "spotTests": ["iodoform"] }"""),
            client => client.PostAsync("/api/v1/reading-guides", $$"""{ "observation": {{Requests.Propanone}} }"""),
            client => client.GetAsync($"{Requests.Identifications}/{id}", Patience),
            client => client.GetAsync($"{Requests.Identifications}/{id}/observation", Patience),
            client => client.GetAsync($"{Requests.Identifications}/{id}/replay", Patience),
            client => client.GetAsync($"{room.Address}/reports/{report.GetProperty("id").GetString()}/ranking", Patience),
        ];
    }
}
