using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Derivid.Api.Http;
using Derivid.Store;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Whose a report is, is told to nobody of the staff until grades are published; the same on both engines.</summary>
public abstract partial class AnonymousMarkingTests(RunningService service)
{
    private const string OneRosterIds = "classSourcedId=c&categorySourcedId=g&academicSessionSourcedId=t&schoolSourcedId=s";

    // As no word of an answer is by chance.
    private const string Ann = "anneliese.k";
    private const string Ben = "benedikt.w";
    private const string Bench = "north-window-bench";

    // Due before the service's clock, which stands at 09:26:53: what is handed in is late.
    private static readonly string Course = With(course =>
    {
        course["isMarkedAnonymously"] = true;
        course["dueAt"] = "2026-03-14T09:00:00Z";
        course["mostAttempts"] = 2;
        course["countedAttempt"] = "best";
        course["rubric"] = JsonNode.Parse(
            """
            {
              "name": "By hand",
              "pointStep": 1,
              "rightCompound": { "points": 10 },
              "writtenReasoning": { "points": 5 },
              "lateness": { "pointsPerDay": 3, "mostPoints": 12 }
            }
            """);
    });

    // What a laboratory runs by has names, as ever. Of the audit log and of keys see below: they tell who wrote, and whose reports not.
    private static readonly string[] Laboratory =
    [
        "/api/v1/courses/{id}/roster", "/api/v1/courses/{id}/assignments", "/api/v1/courses/{id}/labels",
        "/api/v1/courses/{id}/filling-list", "/api/v1/courses/{id}/extensions", "/api/v1/audit", "/api/v1/keys",
    ];

    private static readonly string[] Marked =
    [
        "/reports", "/reports/{reportId}", "/reports/{reportId}/ranking", "/grades", "/gradings", "/gradings/{gradingId}",
        "/gradings/{gradingId}/comparison/{otherId}", "/moderations", "/overview",
    ];

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task NothingOfReportsAndGradesTellsStaffWhoseTheyAreUntilGradesArePublished()
    {
        await using var room = await RoomAsync();
        using var administrator = service.Service.ClientWith(ServiceUnderTest.AdministratorKey);
        var ids = (await Classroom.AllAsync(room.Ann, $"{room.Address}/reports")).Concat(await Classroom.AllAsync(room.Ben, $"{room.Address}/reports"))
            .Select(report => Text(report, "id")).ToList();
        var (first, second) = (await room.GradeAsync(), await room.GradeAsync("""{ "rubric": { "name": "Other", "rightCompound": { "points": 8 }, "lateness": { "pointsPerDay": 2, "mostPoints": 12 } } }"""));
        var called = (await Classroom.AllAsync(room.Grader, $"{room.Address}/reports")).Select(report => Text(report, "id")).ToList();
        using var moderated = await room.Grader.PostAsync(
            $"{room.Address}/reports/{called[0]}/moderations",
            $$"""{ "criterion": "rightCompound", "points": 9, "reason": "As good as right", "grading": "{{first}}" }""");
        var answer = await moderated.JsonAsync(HttpStatusCode.Created);
        var thermometer = (await Classroom.AllAsync(room.Ben, $"{room.Address}/reports"))[0].GetProperty("observation").GetProperty("thermometer").GetProperty("id").GetString()!;
        string[] secrets = [Ann, Ben, room.AnnActor, room.BenActor, Bench, "handedInAt", "0.45 hours", thermometer, .. room.Codes.Values, .. ids];

        Assert.Equal(called[0], Text(answer, "report"));
        Assert.Contains(called[0], moderated.Headers.Location!.ToString(), StringComparison.Ordinal);
        foreach (var (name, client) in new[] { ("grader", room.Grader), ("instructor", room.Instructor), ("administrator", administrator) })
        {
            var answered = new HashSet<string>(StringComparer.Ordinal);
            foreach (var (path, address, accept) in await QuestionsAsync(room.Id, [.. ids, .. called], first, second))
            {
                var (status, text) = await AskAsync(client, address, accept);
                if (status == HttpStatusCode.OK)
                {
                    answered.Add(path);
                }

                // Sent back is what was asked for.
                var told = text.Replace(address, "", StringComparison.Ordinal);
                Assert.All(secrets.Where(secret => !address.Contains(secret, StringComparison.Ordinal)), secret =>
                    Assert.False(told.Contains(secret, StringComparison.Ordinal), $"{name} {accept} {address} tells {secret}:\n{text}"));
                Assert.True(
                    status != HttpStatusCode.OK || !ids.Exists(id => address.Contains($"/reports/{id}", StringComparison.Ordinal)),
                    $"{name} {address}");
            }

            // None of it because nothing was answered.
            Assert.All(Marked, path => Assert.Contains($"/api/v1/courses/{{id}}{path}", answered));
        }
    }

    [Fact]
    public async Task EverythingIsToldAfterPublicationWithTheSameCodeBesideIt()
    {
        await using var room = await RoomAsync();
        var grading = await room.GradeAsync();
        var before = await Classroom.AllAsync(room.Grader, $"{room.Address}/reports");
        var marked = await Classroom.AllAsync(room.Grader, $"{room.Address}/grades?grading={grading}");
        await room.PublishAsync(grading);
        var after = await Classroom.AllAsync(room.Grader, $"{room.Address}/reports");
        var told = await Classroom.AllAsync(room.Grader, $"{room.Address}/grades");
        var csv = (await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/grades")).Split("\r\n")[0].Split(',');
        var own = Assert.Single(await Classroom.AllAsync(room.Ben, $"{room.Address}/grades"));

        // Ann handed in twice, Ben once.
        Assert.Equal([Ann, Ann, Ben], after.Select(report => Text(report, "student")).Order(StringComparer.Ordinal));
        Assert.Equal(
            before.Select(report => (Text(report, "markingCode"), report.GetProperty("attempt").GetInt32(), Text(report, "reasoning"))).Order(),
            after.Select(report => (Text(report, "markingCode"), report.GetProperty("attempt").GetInt32(), Text(report, "reasoning"))).Order());
        Assert.Equal(
            marked.Select(grade => (Text(grade, "markingCode"), grade.GetProperty("attempt").GetInt32(), grade.GetProperty("total").GetDouble(), grade.GetProperty("counts").GetBoolean())).Order(),
            told.Select(grade => (Text(grade, "markingCode"), grade.GetProperty("attempt").GetInt32(), grade.GetProperty("total").GetDouble(), grade.GetProperty("counts").GetBoolean())).Order());
        Assert.Equal(2, after.Select(report => Text(report, "markingCode")).Distinct().Count());
        Assert.All(told, grade => Assert.Equal(room.Codes[Text(grade, "student")], Text(grade, "code")));
        Assert.All(after, report => Assert.Equal("2026-03-14T09:26:53Z", Text(report, "handedInAt")));
        Assert.Contains(told, grade => Sentence(grade, "lateness").Contains("0.45 hours late", StringComparison.Ordinal));
        Assert.All(marked, grade => Assert.Equal("3 points taken for lateness; how late it was is told once grades are published.", Sentence(grade, "lateness")));
        Assert.Contains("marking_code", csv);

        // The code is the staff's; the student has a name.
        Assert.False(own.TryGetProperty("markingCode", out _));
        Assert.All(await Classroom.AllAsync(room.Ann, $"{room.Address}/reports"), report => Assert.False(report.TryGetProperty("markingCode", out _)));
    }

    [Fact]
    public async Task StudentsReadTheirOwnAsEver()
    {
        await using var room = await RoomAsync();
        var report = (await Classroom.AllAsync(room.Ann, $"{room.Address}/reports"))[0];

        Assert.Equal(Ann, Text(report, "student"));
        Assert.Equal("2026-03-14T09:26:53Z", Text(report, "handedInAt"));
        Assert.Equal(HttpStatusCode.OK, (await AskAsync(room.Ann, $"{room.Address}/reports/{Text(report, "id")}", "*/*")).Status);
        Assert.True((await room.Ann.JsonAtAsync(room.Address)).GetProperty("isMarkedAnonymously").GetBoolean());
    }

    [Fact]
    public async Task WhatPutsNamesBesidePointsIsRefusedUntilGradesArePublished()
    {
        await using var room = await RoomAsync();
        var grading = await room.GradeAsync();
        string[] addresses = [$"{room.Address}/gradebook", $"{room.Address}/gradebook?grading={grading}", $"{room.Address}/gradebook/oneroster.zip?{OneRosterIds}"];
        foreach (var address in addresses)
        {
            using var refused = await room.Instructor.GetAsync(address, Patience);
            Assert.Contains(
                "marked anonymously", (string)(await refused.ProblemAsync(ProblemTypes.Withheld))["detail"]!, StringComparison.Ordinal);
        }

        await room.PublishAsync(grading);
        foreach (var address in addresses)
        {
            using var told = await room.Instructor.GetAsync(address, Patience);
            Assert.Equal(HttpStatusCode.OK, told.StatusCode);
        }
    }

    [Fact]
    public async Task ReportsAreChosenByTheirMarkingNamesAndNotByStudents()
    {
        await using var room = await RoomAsync();
        var reports = await Classroom.AllAsync(room.Grader, $"{room.Address}/reports?limit=1");
        var (one, code) = (Text(reports[0], "id"), Text(reports[0], "markingCode"));
        var ofCode = reports.Count(report => Text(report, "markingCode") == code);
        using var byName = await room.Grader.PostAsync($"{room.Address}/grades", $$"""{ "students": ["{{Ann}}"] }""");
        var id = Text((await Classroom.AllAsync(room.Ben, $"{room.Address}/reports"))[0], "id");
        using var byId = await room.Grader.PostAsync($"{room.Address}/grades", $$"""{ "reports": ["{{id}}"] }""");
        var grading = await room.GradeAsync($$"""{ "students": ["{{code}}"] }""");
        var single = await room.GradeAsync($$"""{ "reports": ["{{one}}"] }""");
        var all = await room.GradeAsync();

        Assert.Equal(3, reports.Count);
        Assert.Equal(reports.Select(report => Text(report, "id")).Order(StringComparer.Ordinal), reports.Select(report => Text(report, "id")));
        Assert.Contains(
            "no marking code here", (string)(await byName.ProblemAsync(ProblemTypes.InvalidRequest))["errors"]!["/students/0"]!.AsArray()[0]!, StringComparison.Ordinal);
        await byId.ProblemAsync(ProblemTypes.InvalidRequest);
        Assert.Equal(ofCode, (await Classroom.AllAsync(room.Grader, $"{room.Address}/grades?grading={grading}")).Count);
        Assert.Equal(one, Text(Assert.Single(await Classroom.AllAsync(room.Grader, $"{room.Address}/grades?grading={single}")), "report"));
        Assert.Equal(ofCode, (await Classroom.AllAsync(room.Grader, $"{room.Address}/grades?grading={all}&student={code}&limit=1")).Count);
        Assert.Empty(await Classroom.AllAsync(room.Grader, $"{room.Address}/grades?grading={all}&student={Ann}"));
    }

    [Fact]
    public async Task WhatIsChangedByHandReachesTheStudentOfTheReport()
    {
        await using var room = await RoomAsync();
        var grading = await room.GradeAsync();
        var report = (await Classroom.AllAsync(room.Grader, $"{room.Address}/reports")).Single(each => Text(each, "reasoning") == "Of Ben.");
        var called = Text(report, "id");
        var sent = """{ "criterion": "writtenReasoning", "points": 4, "reason": "Well argued" }""";
        using var made = await PostWithKeyAsync(room, $"{room.Address}/reports/{called}/moderations", sent);
        using var again = await PostWithKeyAsync(room, $"{room.Address}/reports/{called}/moderations", sent);
        var seen = await Classroom.AllAsync(room.Grader, $"{room.Address}/moderations?report={called}");
        await room.PublishAsync(grading);
        var own = Assert.Single(await Classroom.AllAsync(room.Ben, $"{room.Address}/reports"));
        var grade = Assert.Single(await Classroom.AllAsync(room.Ben, $"{room.Address}/grades"));

        Assert.Equal((await made.JsonAsync(HttpStatusCode.Created)).GetRawText(), (await again.JsonAsync(HttpStatusCode.OK)).GetRawText());
        Assert.Equal(called, Text(Assert.Single(seen), "report"));
        Assert.Equal(Text(own, "id"), Text(Assert.Single(await Classroom.AllAsync(room.Grader, $"{room.Address}/moderations")), "report"));
        Assert.Contains(grade.GetProperty("lines").EnumerateArray(), line => Text(line, "criterion") == "writtenReasoning" && line.GetProperty("points").GetDouble() == 4);
    }

    // By its id, which the audit log has, a report could be led to the code of its unknown.
    [Fact]
    public async Task IdsOfReportsOpenNothingToStaffUntilGradesArePublished()
    {
        await using var room = await RoomAsync();
        await room.GradeAsync();
        var own = await Classroom.AllAsync(room.Ann, $"{room.Address}/reports");
        foreach (var id in own.Select(report => Text(report, "id")))
        {
            using var moderated = await room.Grader.PostAsync($"{room.Address}/reports/{id}/moderations", """{ "reason": "Whose is it?" }""");
            await moderated.ProblemAsync(ProblemTypes.NotFound);
            foreach (var student in (string[])[Ann, Ben])
            {
                using var request = new HttpRequestMessage(HttpMethod.Put, $"{room.Address}/reports/{id}") { Content = Requests.Json(room.Report(student, "acetone")) };
                request.Headers.IfMatch.Add(new EntityTagHeaderValue("\"1\""));
                using var changed = await room.Grader.SendAsync(request, Patience);
                await changed.ProblemAsync(ProblemTypes.NotFound);
            }

            Assert.Empty(await Classroom.AllAsync(room.Grader, $"{room.Address}/moderations?report={id}"));
        }

        // Their student is told what is the case.
        using var late = await room.PutAsync(room.Ann, $"{room.Address}/reports/{Text(own[0], "id")}", room.Report(Ann, "acetone"));
        await late.ProblemAsync(ProblemTypes.CourseStateForbids);
    }

    // Paper reports are handed in by staff, who know whose they are; what they are called in marking isn't told them with it.
    [Fact]
    public async Task WhoeverHandsInForAStudentIsNotToldTheirMarkingCode()
    {
        await using var room = await RoomAsync();
        using var drafted = await room.Grader.PostAsync($"{room.Address}/reports", Said(room.Report("corinna.v", "acetone", isDraft: true), "On paper."));
        var draft = await drafted.JsonAsync(HttpStatusCode.Created);
        using var request = new HttpRequestMessage(HttpMethod.Put, $"{room.Address}/reports/{Text(draft, "id")}")
        {
            Content = Requests.Json(Said(room.Report("corinna.v", "acetone"), "On paper.")),
        };
        request.Headers.IfMatch.Add(drafted.Headers.ETag!);
        using var handedIn = await room.Grader.SendAsync(request, Patience);
        var answer = await handedIn.JsonAsync(HttpStatusCode.OK);

        Assert.All((JsonElement[])[draft, answer], report =>
        {
            Assert.Equal("corinna.v", Text(report, "student"));
            Assert.False(report.TryGetProperty("markingCode", out _));
        });
        Assert.Equal(4, (await Classroom.AllAsync(room.Grader, $"{room.Address}/reports")).Count);
    }

    // Ann has handed in twice, and so has only she.
    [Fact]
    public async Task RosterThatDropsStudentsIsNotToldHowManyReportsTheyHandedIn()
    {
        await using var room = await RoomAsync();
        using var refused = await room.PutAsync(room.Instructor, $"{room.Address}/roster", """{ "students": [{ "student": "dietlinde.z" }] }""");
        var told = (await refused.ProblemAsync(ProblemTypes.RosterDropsStudents))["errors"]!["/students"]!.AsArray().Select(line => (string)line!).ToList();

        Assert.Equal(3, told.Count);
        Assert.All(told, line => Assert.Contains("Unknowns are handed out to them, with reports or without.", line, StringComparison.Ordinal));
    }

    [Fact]
    public async Task AuditLogWithholdsWhoWroteWhichReportUntilGradesArePublished()
    {
        await using var room = await RoomAsync();
        using var administrator = service.Service.ClientWith(ServiceUnderTest.AdministratorKey);
        var id = Text((await Classroom.AllAsync(room.Ben, $"{room.Address}/reports"))[0], "id");
        var resource = $"/api/v1/audit?resource=courses/{room.Id}/reports/{id}";
        var byBen = $"/api/v1/audit?limit=500&actor={Uri.EscapeDataString(room.BenActor)}";
        var before = Assert.Single(await Classroom.AllAsync(administrator, resource));
        var ofBen = await Classroom.AllAsync(administrator, byBen);
        await room.PublishAsync(await room.GradeAsync());
        var after = Assert.Single(await Classroom.AllAsync(administrator, resource));

        Assert.Equal("withheld", Text(before, "actor"));
        Assert.DoesNotContain(ofBen, entry => Text(entry, "action").StartsWith("report.", StringComparison.Ordinal));
        Assert.Equal(room.BenActor, Text(after, "actor"));
        Assert.Contains(await Classroom.AllAsync(administrator, byBen), entry => Text(entry, "action") == "report.hand-in");
    }

    [Fact]
    public async Task ClassIsSeenByMarkingCodesAndWithoutBenches()
    {
        await using var room = await RoomAsync();
        var grading = await room.GradeAsync();
        var codes = (await Classroom.AllAsync(room.Grader, $"{room.Address}/reports")).Select(report => Text(report, "markingCode")).Distinct().Order(StringComparer.Ordinal).ToList();
        var before = await room.Grader.JsonAtAsync($"{room.Address}/overview?grading={grading}");
        await room.PublishAsync(grading);
        var after = await room.Grader.JsonAtAsync($"{room.Address}/overview");

        // Both report the same four temperatures.
        Assert.Equal(codes, Named(before));
        Assert.Equal([Ann, Ben], Named(after));
        Assert.Empty(before.GetProperty("byBench").EnumerateArray());
        Assert.NotEmpty(after.GetProperty("byBench").EnumerateArray());
        Assert.Equal(before.GetProperty("byCompound").GetRawText(), after.GetProperty("byCompound").GetRawText());

        static List<string> Named(JsonElement overview) =>
            [.. overview.GetProperty("signals").EnumerateArray().Single(signal => Text(signal, "kind") == "identicalReadings")
                .GetProperty("studentKeys").EnumerateArray().Select(key => key.GetString()!)];
    }

    [Fact]
    public async Task HandOutSettlesItAndPracticeIsNeverMarkedSo()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync(With(_ => { }));
        using var on = await room.PutAsync(room.Instructor, room.Address, Course);
        Assert.True((await on.JsonAsync(HttpStatusCode.OK)).GetProperty("isMarkedAnonymously").GetBoolean());
        using var both = await room.PutAsync(room.Instructor, room.Address, With(course => (course["isMarkedAnonymously"], course["isPractice"]) = (true, true)));
        await room.PutRosterAsync(4);
        await room.HandOutAsync();
        using var off = await room.PutAsync(room.Instructor, room.Address, With(_ => { }));
        using var same = await room.PutAsync(room.Instructor, room.Address, Course);

        Assert.Contains("/isMarkedAnonymously", (await both.ProblemAsync(ProblemTypes.InvalidRequest))["errors"]!.AsObject().Select(error => error.Key));
        Assert.Contains("/isMarkedAnonymously", (await off.ProblemAsync(ProblemTypes.InvalidRequest))["errors"]!.AsObject().Select(error => error.Key));

        // Six students, six compounds: each vial is one student's.
        Assert.Contains(
            (await same.JsonAsync(HttpStatusCode.OK)).GetProperty("warnings").EnumerateArray(),
            warning => warning.GetString()!.StartsWith("Marked anonymously: of 6 students as few as 1 has the same unknowns.", StringComparison.Ordinal));
    }

    [Fact]
    public async Task SecretGoesWithTheCourse()
    {
        await using var room = await RoomAsync();
        await room.PublishAsync(await room.GradeAsync());
        await Classroom.AllAsync(room.Grader, $"{room.Address}/reports");
        Assert.Equal(1, await SecretsAsync());
        using var archived = await room.PutAsync(room.Instructor, $"{room.Address}/archive", """{ "isArchived": true }""");
        await archived.JsonAsync(HttpStatusCode.OK);
        using var current = await room.Instructor.GetAsync(room.Address, Patience);
        using var request = new HttpRequestMessage(HttpMethod.Delete, room.Address);
        request.Headers.IfMatch.Add(current.Headers.ETag!);
        using var deleted = await room.Instructor.SendAsync(request, Patience);
        await deleted.JsonAsync(HttpStatusCode.OK);

        Assert.Equal(0, await SecretsAsync());

        async Task<int> SecretsAsync()
        {
            await using var context = await service.Service.Services.GetRequiredService<IDbContextFactory<DerividContext>>().CreateDbContextAsync(Patience);
            return await context.ServerSecrets.CountAsync(secret => secret.Name == "marking/" + room.Id, Patience);
        }
    }

    // Ann hands in twice, Ben once by his own thermometer; both late, and both report the same temperatures.
    private async Task<Classroom> RoomAsync()
    {
        var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync(Course);
        var students = new JsonArray();
        foreach (var (place, student, actor) in new (int, string, string?)[] { (1, Ann, room.AnnActor), (2, Ben, room.BenActor), (3, "corinna.v", null), (4, "dietlinde.z", null) })
        {
            students.Add(new JsonObject { ["student"] = student, ["bench"] = Bench, ["place"] = place, ["actor"] = actor });
        }

        using var roster = await room.PutAsync(room.Instructor, $"{room.Address}/roster", new JsonObject { ["students"] = students }.ToJsonString());
        await roster.JsonAsync(HttpStatusCode.OK);
        await room.HandOutAsync();
        using var registered = await room.Ben.PostAsync("/api/v1/thermometers", """{ "name": "Ben's own" }""");
        var thermometer = Text(await registered.JsonAsync(HttpStatusCode.Created), "id");
        await room.HandInAsync(room.Ann, Said(room.Report(Ann, room.Answers[Ben]), "Of Ann."));
        await room.HandInAsync(room.Ben, Said(room.Report(Ben, room.Answers[Ben]), "Of Ben.", thermometer));
        await room.HandInAsync(room.Ann, Said(room.Report(Ann, room.Answers[Ann]), "Of Ann once more."));
        return room;
    }

    private static string Said(string report, string reasoning, string? thermometer = null)
    {
        var body = JsonNode.Parse(report)!;
        body["reasoning"] = reasoning;
        if (thermometer is not null)
        {
            body["observation"]!["thermometer"] = new JsonObject { ["id"] = thermometer };
        }

        return body.ToJsonString();
    }

    // Every question of the published document, the addresses filled in.
    private async Task<IReadOnlyList<(string Path, string Address, string Accept)>> QuestionsAsync(string course, string[] reports, string first, string second)
    {
        using var response = await service.Client.GetAsync("/swagger/v1/swagger.json", Patience);
        var document = JsonNode.Parse(await response.Content.ReadAsStringAsync(Patience))!;
        return [.. (
            from path in document["paths"]!.AsObject()
            where path.Key.StartsWith("/api/v1/courses", StringComparison.Ordinal) && path.Value!["get"] is not null && !Laboratory.Contains(path.Key)
            from report in reports
            from query in (string[])["", "?limit=2", $"?grading={first}", $"?grading={first}&student={Ann}", $"?report={report}", $"?{OneRosterIds}"]
            from accept in (string[])["application/json", "text/csv", "*/*"]
            let address = Parameter().Replace(path.Key, parameter => parameter.Value switch
            {
                "{id}" => course,
                "{reportId}" => report,
                "{gradingId}" => first,
                "{otherId}" => second,
                _ => "1",
            })
            select (path.Key, address + query, accept)).Distinct()];
    }

    private static async Task<(HttpStatusCode Status, string Text)> AskAsync(HttpClient client, string address, string accept)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, address);
        request.Headers.Accept.Add(MediaTypeWithQualityHeaderValue.Parse(accept));
        using var response = await client.SendAsync(request, Patience);
        var headers = response.Headers.Concat(response.Content.Headers).Select(header => $"{header.Key}: {string.Join(',', header.Value)}");
        return (response.StatusCode, $"{string.Join('\n', headers)}\n{await response.Content.ReadAsStringAsync(Patience)}");
    }

    private static async Task<HttpResponseMessage> PostWithKeyAsync(Classroom room, string address, string json)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, address) { Content = Requests.Json(json) };
        request.Headers.Add("Idempotency-Key", "once-" + room.Id);
        return await room.Grader.SendAsync(request, Patience);
    }

    private static string Text(JsonElement item, string name) => item.GetProperty(name).GetString()!;

    private static string Sentence(JsonElement grade, string criterion) =>
        Text(grade.GetProperty("lines").EnumerateArray().Single(line => Text(line, "criterion") == criterion), "sentence");

    private static string With(Action<JsonObject> change)
    {
        var course = JsonNode.Parse(Classroom.Course)!.AsObject();
        change(course);
        return course.ToJsonString();
    }

    [GeneratedRegex(@"\{[^}]*\}")]
    private static partial Regex Parameter();

    public sealed class OnSqlite(SqliteService service) : AnonymousMarkingTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : AnonymousMarkingTests(service), IClassFixture<PostgreSqlService>;
}
