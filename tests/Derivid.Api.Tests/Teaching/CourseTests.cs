using System.Net;
using System.Net.Http.Headers;
using System.Text.Json.Nodes;
using Derivid.Api.Http;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Courses, rosters and unknowns; the same on both engines.</summary>
public abstract class CourseTests(RunningService service)
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task CourseIsKeptWithKeysForNamesAndDefaultsWrittenOut()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();

        var course = await room.Grader.JsonAtAsync(room.Address);

        Assert.Equal(
            ["acetophenone", "benzaldehyde", "butanone", "cyclohexanone", "pentan-3-one", "propanone"],
            course.GetProperty("shelfList").EnumerateArray().Select(key => key.GetString()));
        Assert.Equal(1, course.GetProperty("tableVersion").GetInt32());
        Assert.Equal(5, course.GetProperty("windowCelsius").GetDouble());
        Assert.Equal("Usual", course.GetProperty("rubric").GetProperty("name").GetString());
        Assert.Equal(0.8, course.GetProperty("rubric").GetProperty("supportedClaim").GetProperty("fullPosterior").GetDouble());
        Assert.False(course.TryGetProperty("hand-out", out _));
        var listed = await room.Instructor.JsonAtAsync(Classroom.Courses + "?limit=500");
        Assert.Contains(listed.GetProperty("items").EnumerateArray(), item => item.GetProperty("id").GetString() == room.Id);
    }

    [Fact]
    public async Task CourseThatCannotEarnAllPointsIsToldSoAndItsStudentsAreNot()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync(Classroom.Course.Replace("\"2,4-DNPH\", \"semicarbazone\"", "\"anil\"", StringComparison.Ordinal));
        await room.PutRosterAsync(others: 0);
        var course = await room.Grader.JsonAtAsync(room.Address);
        var own = await room.Ann.JsonAtAsync(room.Address);
        using var mended = await room.PutAsync(room.Instructor, room.Address, Classroom.Course);

        var warning = course.GetProperty("warnings")[0].GetString();
        Assert.StartsWith("No derivative of the course has a melting range listed for ", warning, StringComparison.Ordinal);
        Assert.Contains("there the 10 points for derivatives count neither way. Offer another derivative as well, such as ", warning, StringComparison.Ordinal);
        Assert.False(own.TryGetProperty("warnings", out _));
        Assert.False((await mended.JsonAsync(HttpStatusCode.OK)).TryGetProperty("warnings", out _));
    }

    [Fact]
    public async Task SameKeyMakesOneCourseAndAnotherBodyIsRefused()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        using var first = await SendAsync(Classroom.Course);
        using var second = await SendAsync(Classroom.Course);
        using var other = await SendAsync("""{ "name": "Other", "shelfList": ["propanone"] }""");

        var made = await first.JsonAsync(HttpStatusCode.Created);
        var again = await second.JsonAsync(HttpStatusCode.OK);
        Assert.Equal(made.GetRawText(), again.GetRawText());
        Assert.Equal(first.Headers.Location, second.Headers.Location);
        await other.ProblemAsync(ProblemTypes.IdempotencyKeyReused);

        async Task<HttpResponseMessage> SendAsync(string body)
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, Classroom.Courses) { Content = Requests.Json(body) };
            request.Headers.Add("Idempotency-Key", "monday");
            return await room.Instructor.SendAsync(request, Patience);
        }
    }

    [Fact]
    public async Task ChangeNamesItsRevision()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();
        var changed = Classroom.Course.Replace("Organic practical", "Renamed", StringComparison.Ordinal);
        using var bare = await room.Instructor.PutAsync(room.Address, Requests.Json(changed), Patience);
        using var good = await room.PutAsync(room.Instructor, room.Address, changed);
        using var request = new HttpRequestMessage(HttpMethod.Put, room.Address) { Content = Requests.Json(changed) };
        request.Headers.IfMatch.Add(new EntityTagHeaderValue("\"1\""));
        using var stale = await room.Instructor.SendAsync(request, Patience);

        await bare.ProblemAsync(ProblemTypes.RevisionRequired);
        Assert.Equal("Renamed", (await good.JsonAsync(HttpStatusCode.OK)).GetProperty("name").GetString());
        // Made, given a staff, renamed.
        Assert.Equal("\"3\"", good.Headers.ETag!.Tag);
        await stale.ProblemAsync(ProblemTypes.StaleRevision);
    }

    [Fact]
    public async Task EveryFaultOfACourseIsNamedWithItsPlace()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        using var response = await room.Instructor.PostAsync(
            Classroom.Courses,
            """
            {
              "name": " ", "shelfList": ["acetone", "propanone", "propanoen"], "derivativeKinds": ["hydrazide"],
              "dueAt": "2026-03-15T12:00:00Z", "mostAttempts": 1, "closesAt": "2026-03-14T12:00:00+01:00",
              "rubric": { "name": "R", "pointStep": 0.001, "rightCompound": { "points": -1, "bonus": 3 } }
            }
            """);

        var problem = await response.ProblemAsync(ProblemTypes.InvalidRequest);
        Assert.Equal(
            [
                "/closesAt", "/derivativeKinds/0", "/name", "/rubric/pointStep", "/rubric/rightCompound/bonus",
                "/rubric/rightCompound/points", "/shelfList/1", "/shelfList/2",
            ],
            problem["errors"]!.AsObject().Select(error => error.Key));
        Assert.Contains("Closest: propan", problem.MessageAt("/shelfList/2"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task DueDateThatIsPastIsTakenAndWarnedOf()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        using var past = await room.Instructor.PostAsync(Classroom.Courses, """{ "name": "A", "shelfList": ["acetone"], "dueAt": "2026-03-13T12:00:00Z" }""");
        using var ahead = await room.Instructor.PostAsync(Classroom.Courses, """{ "name": "A", "shelfList": ["acetone"], "dueAt": "2026-03-15T12:00:00Z" }""");

        Assert.StartsWith(
            "Reports were due 2026-03-13T12:00:00Z, which is past",
            (await past.JsonAsync(HttpStatusCode.Created)).GetProperty("warnings")[0].GetString(),
            StringComparison.Ordinal);
        Assert.DoesNotContain("which is past", (await ahead.JsonAsync(HttpStatusCode.Created)).GetRawText(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("tomorrow")]
    [InlineData("2026-03-14")]
    [InlineData("2026-03-14T12:00:00")]
    [InlineData("2026-03-14T12:00:00+0100")]
    [InlineData("2026-02-30T12:00:00Z")]
    [InlineData("")]
    public async Task DateThatIsNoneIsToldWithHowToWriteIt(string date)
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        using var response = await room.Instructor.PostAsync(
            Classroom.Courses, $$"""{ "name": "A", "shelfList": ["acetone"], "dueAt": "{{date}}", "mostAttempts": 99 }""");

        var problem = await response.ProblemAsync(ProblemTypes.InvalidRequest);
        Assert.Equal(["/dueAt", "/mostAttempts"], problem["errors"]!.AsObject().Select(error => error.Key));
        Assert.Equal(
            $"\"{date}\" is no date and time of RFC 3339; write it like 2026-10-23T17:00:00+02:00.", problem.MessageAt("/dueAt"));
    }

    [Fact]
    public async Task RosterComesBackAsCsvAsItWentIn()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();
        var csv =
            "student,bench,place,neighbours,actor,group\r\n"
            + $"'=SUM(A1:A9),A,1,\"b, the second;c\",{room.AnnActor},\r\n"
            + "\"b, the second\",A,2,,,\r\n"
            + "c,,,,,\r\n";

        using var put = await room.PutAsync(room.Instructor, room.Address + "/roster", csv, "text/csv");
        var roster = await put.JsonAsync(HttpStatusCode.OK);

        Assert.Equal(csv, await Classroom.CsvAtAsync(room.Grader, room.Address + "/roster"));
        Assert.Equal("=SUM(A1:A9)", roster.GetProperty("students")[0].GetProperty("student").GetString());
        Assert.Equal(
            ["b, the second", "c"],
            roster.GetProperty("students")[0].GetProperty("neighbours").EnumerateArray().Select(key => key.GetString()));
    }

    [Fact]
    public async Task RosterThatDropsStudentsWithUnknownsIsRefusedUntilItIsMeant()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        const string Others = """{ "students": [{ "student": "ann", "actor": "key:0123456789abcdef" }, { "student": "s3" }, { "student": "new" }] }""";

        using var refused = await room.PutAsync(room.Instructor, room.Address + "/roster", Others);
        var before = await room.Instructor.JsonAtAsync(room.Address + "/roster");
        using var meant = await room.PutAsync(room.Instructor, room.Address + "/roster?dropsStudents=true", Others);
        using var again = await room.PutAsync(room.Instructor, room.Address + "/roster", Others);
        using var unclear = await room.PutAsync(room.Instructor, room.Address + "/roster?dropsStudents=perhaps", Others);

        var problem = await refused.ProblemAsync(ProblemTypes.RosterDropsStudents);
        var dropped = before.GetProperty("students").EnumerateArray().Select(student => student.GetProperty("student").GetString())
            .Where(student => student is not ("ann" or "s3")).ToList();
        Assert.Equal(
            [
                $"key:0123456789abcdef takes the place of {room.AnnActor} as ann. Unknowns are handed out to them, with 1 report handed in.",
                .. dropped.Select(student => $"{student} falls out, and sees and hands in nothing here any more. Unknowns are handed out to them, with no report handed in."),
            ],
            problem["errors"]!["/students"]!.AsArray().Select(sentence => (string)sentence!));
        Assert.Contains("ben", dropped);
        await meant.JsonAsync(HttpStatusCode.OK);
        await again.JsonAsync(HttpStatusCode.OK);
        Assert.NotEmpty((await unclear.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("?dropsStudents"));
    }

    [Theory]
    [InlineData("student;bench\r\na;1;2\r\n", "line 2", "Holds 3 cells")]
    [InlineData("student,place\r\na,first\r\n", "line 2, place", "\"first\" is no place")]
    [InlineData("name\r\na\r\n", "line 1", "one of them must be student. It has \"name\"")]
    [InlineData("student\r\na\r\na\r\n", "", "'a' is in the roster twice")]
    [InlineData("student,actor\r\na,key:1\r\nb,key:1\r\n", "", "given to 2 students")]
    [InlineData("student\r\nab\r\nAB\r\n", "", "differ in upper and lower case only")]
    [InlineData("student\r\ne\u0301a\r\n", "", "an accented letter as one character")]
    [InlineData("student\r\na\u00a0b\r\n", "", "single plain spaces")]
    [InlineData("student\r\na  b\r\n", "", "single plain spaces")]
    [InlineData("student\r\na\u200b\r\n", "", "can't be seen")]
    [InlineData("student\r\na\U000e0041\r\n", "", "can't be seen")]
    [InlineData("student\r\na\u3164\r\n", "", "can't be seen")]
    [InlineData("student\r\n\u212b\r\n", "", "can't be seen")]
    [InlineData("student,neighbours\r\na,z\r\n", "", "'z', who is not in the roster")]
    [InlineData("student\r\n", "", "Holds no student")]
    [InlineData("", "", "The file is empty")]
    public async Task BadRosterFileIsRefusedWithTheLine(string csv, string place, string reason)
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();
        using var put = await room.PutAsync(room.Instructor, room.Address + "/roster", csv, "text/csv");

        var problem = await put.ProblemAsync(ProblemTypes.InvalidRequest);
        Assert.Contains(
            problem["errors"]!.AsObject(),
            error => error.Key == place && error.Value!.ToJsonString().Replace("\\u0027", "'", StringComparison.Ordinal)
                .Replace("\\\"", "\"", StringComparison.Ordinal).Replace("\\u0022", "\"", StringComparison.Ordinal)
                .Contains(reason, StringComparison.Ordinal));
    }

    [Fact]
    public async Task HandOutIsReproducibleFromItsSeedAndKeepsNeighboursApart()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, others: 22);
        await using var other = await Classroom.HandedOutAsync(service.Service, others: 22);
        var (answers, codes) = (room.Answers, room.Codes);
        await room.HandOutAsync();

        // In one course again; in another one, seed and roster tell nothing of this.
        Assert.Equal(answers, room.Answers);
        Assert.Equal(codes, room.Codes);
        Assert.NotEqual(room.Answers, other.Answers);
        Assert.Empty(room.Codes.Values.Intersect(other.Codes.Values));
        string[] places = ["ann", "ben", .. Enumerable.Range(3, 22).Select(place => $"s{place}")];
        Assert.All(places.Zip(places.Skip(1)), pair => Assert.NotEqual(room.Answers[pair.First], room.Answers[pair.Second]));
        Assert.Equal([4], room.Answers.Values.CountBy(key => key).Select(count => count.Value).Distinct());
        await other.HandOutAsync(seed: null);
        Assert.NotEqual(room.Codes, other.Codes);
        var handOut = await other.Instructor.JsonAtAsync(other.Address + "/hand-outs/2");
        Assert.Equal(32, handOut.GetProperty("seed").GetString()!.Length);
        Assert.Equal(6, handOut.GetProperty("summary").GetProperty("uses").EnumerateObject().Count());
    }

    [Fact]
    public async Task ImpossibleHandOutSaysWhyAndWhatToDo()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync("""{ "name": "One", "shelfList": ["propanone"], "derivativeKinds": ["2,4-DNPH"] }""");
        using var early = await room.Instructor.PostAsync(room.Address + "/hand-outs", "{}");
        await room.PutRosterAsync(1);
        using var crowded = await room.Instructor.PostAsync(room.Address + "/hand-outs", "{}");
        using var empty = await room.Instructor.PostAsync(room.Address + "/hand-outs", """{ "seed": "" }""");

        await early.ProblemAsync(ProblemTypes.CourseStateForbids);
        var problem = await crowded.ProblemAsync(ProblemTypes.HandOutImpossible);
        Assert.Contains("need 2 different compounds between them; 1 can be handed out. Have 2", (string)problem["detail"]!, StringComparison.Ordinal);
        Assert.Contains("1 to 200", (await empty.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/seed"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task ShelfCheckSaysWhatCannotBeToldApart()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync(
            """{ "name": "Pair", "shelfList": ["propanone", "3,3-dimethylbutan-2-one", "pentan-3-one"], "derivativeKinds": ["2,4-DNPH"] }""");

        var check = await room.Grader.JsonAtAsync(room.Address + "/shelf-check");

        var propanone = check.GetProperty("items").EnumerateArray().Single(item => item.GetProperty("parent").GetString() == "propanone");
        Assert.False(propanone.GetProperty("isIdentifiable").GetBoolean());
        Assert.Contains("3-3-dimethylbutan-2-one", propanone.GetProperty("confusedWith").EnumerateArray().Select(key => key.GetString()));
        Assert.Contains("semicarbazone", propanone.GetProperty("settledBy").EnumerateArray().Select(key => key.GetString()));
    }

    [Fact]
    public async Task LabelSheetShowsCodesAndPlacesSafelyAndNoAnswer()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync(Classroom.Course.Replace("Organic practical", "<script>alert(1)</script>", StringComparison.Ordinal));
        await room.PutRosterAsync(2);
        await room.HandOutAsync();
        using var response = await room.Grader.GetAsync(room.Address + "/labels", Patience);
        var page = await response.Content.ReadAsStringAsync(Patience);

        Assert.Equal("text/html", response.Content.Headers.ContentType?.MediaType);
        Assert.Contains("default-src 'none'", response.Headers.GetValues("Content-Security-Policy").Single(), StringComparison.Ordinal);
        Assert.All(room.Codes.Values, code => Assert.Contains(code, page, StringComparison.Ordinal));
        Assert.Contains("Bench 1, place 2", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<script>", page, StringComparison.Ordinal);
        Assert.All(room.Answers.Values, key => Assert.DoesNotContain(key, page, StringComparison.Ordinal));
    }

    [Fact]
    public async Task AssignmentsAreTheStudentsOwnAndAnswersTheInstructors()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);

        var own = await room.Ann.JsonAtAsync(room.Address + "/assignments");
        var csv = await Classroom.CsvAtAsync(room.Instructor, room.Address + "/assignments?identities=true");
        using var asked = await room.Ann.GetAsync(room.Address + "/assignments?identities=true", Patience);
        var paged = await room.Grader.JsonAtAsync(room.Address + "/assignments?limit=4");
        var rest = await room.Grader.JsonAtAsync(paged.GetProperty("next").GetString()!);

        var item = Assert.Single(own.GetProperty("items").EnumerateArray());
        Assert.Equal(room.Codes["ann"], item.GetProperty("code").GetString());
        Assert.False(item.TryGetProperty("parent", out _));
        Assert.Contains($"{room.Codes["ben"]},ben,1,{room.Answers["ben"]},\r\n", csv, StringComparison.Ordinal);
        await asked.ProblemAsync(ProblemTypes.ScopeMissing);
        Assert.Equal(2, rest.GetProperty("items").GetArrayLength());
        Assert.DoesNotContain("parent", paged.GetRawText() + rest.GetRawText(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task ToAStrangerACourseIsAsIfItWereNotThere()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        using var strange = await room.Stranger.GetAsync(room.Address, Patience);
        using var missing = await room.Stranger.GetAsync($"{Classroom.Courses}/0000000000000000", Patience);

        var there = await strange.ProblemAsync(ProblemTypes.NotFound);
        var nowhere = await missing.ProblemAsync(ProblemTypes.NotFound);
        Assert.Equal(
            ((string)there["detail"]!).Replace(room.Id, "", StringComparison.Ordinal),
            ((string)nowhere["detail"]!).Replace("0000000000000000", "", StringComparison.Ordinal));
        Assert.Empty((await room.Stranger.JsonAtAsync(Classroom.Courses)).GetProperty("items").EnumerateArray());
        Assert.Equal("ann", (await room.Ann.JsonAtAsync(room.Address)).GetProperty("student").GetString());
    }

    [Fact]
    public async Task RubricSchemaIsPublishedAndTheUsualRubricFitsIt()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();
        using var response = await service.Client.GetAsync("/api/v1/schemas/rubric", Patience);
        Assert.Equal("application/schema+json", response.Content.Headers.ContentType?.MediaType);
        var rubric = (await room.Grader.JsonAtAsync(room.Address)).GetProperty("rubric").GetRawText();
        var course = JsonNode.Parse(Classroom.Course)!.AsObject();
        course["rubric"] = JsonNode.Parse(rubric);
        using var again = await room.Instructor.PostAsync(Classroom.Courses, course.ToJsonString());

        Assert.Equal(rubric, (await again.JsonAsync(HttpStatusCode.Created)).GetProperty("rubric").GetRawText());
    }

    public sealed class OnSqlite(SqliteService service) : CourseTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : CourseTests(service), IClassFixture<PostgreSqlService>;
}
