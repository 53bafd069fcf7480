using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Api.Teaching;
using Derivid.Core.Teaching.Grading;
using Derivid.Store;
using Derivid.Store.Auditing;
using Derivid.Store.Teaching;
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
        var (first, second) = (await room.GradeAsync(), await room.GradeAsync("""{ "rubric": { "name": "Other", "rightCompound": { "points": 8 }, "lateness": { "pointsPerDay": 3, "mostPoints": 12 } } }"""));
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
                await changed.ProblemAsync(ProblemTypes.Withheld);
            }

            Assert.Empty(await Classroom.AllAsync(room.Grader, $"{room.Address}/moderations?report={id}"));
        }

        // Their student is told what is the case.
        using var late = await room.PutAsync(room.Ann, $"{room.Address}/reports/{Text(own[0], "id")}", room.Report(Ann, "acetone"));
        await late.ProblemAsync(ProblemTypes.CourseStateForbids);
    }

    // What staff wrote for a student they would know again in marking, and with it the student's code.
    [Fact]
    public async Task StudentsAloneWriteReportsUntilGradesArePublished()
    {
        await using var room = await RoomAsync();
        using var administrator = service.Service.ClientWith(ServiceUnderTest.AdministratorKey);
        var draft = await room.HandInAsync(room.Ben, Said(room.Report(Ben, "acetone", isDraft: true), "Of Ben once more."));
        var address = $"{room.Address}/reports/{Text(draft, "id")}";
        foreach (var staff in (HttpClient[])[room.Grader, room.Instructor, administrator])
        {
            foreach (var isDraft in (bool[])[true, false])
            {
                using var made = await staff.PostAsync($"{room.Address}/reports", room.Report("corinna.v", "acetone", isDraft: isDraft));
                await made.ProblemAsync(ProblemTypes.Withheld);
                using var request = new HttpRequestMessage(HttpMethod.Put, address) { Content = Requests.Json(room.Report(Ben, "acetone", isDraft: isDraft)) };
                request.Headers.IfMatch.Add(new EntityTagHeaderValue("\"1\""));
                using var changed = await staff.SendAsync(request, Patience);
                await changed.ProblemAsync(ProblemTypes.Withheld);
            }

            using var read = await staff.GetAsync(address, Patience);
            await read.ProblemAsync(ProblemTypes.NotFound);
        }

        using var handedIn = await room.PutAsync(room.Ben, address, Said(room.Report(Ben, "acetone"), "Of Ben once more."));
        await handedIn.JsonAsync(HttpStatusCode.OK);
        Assert.Equal(
            ["Of Ann once more.", "Of Ann.", "Of Ben once more.", "Of Ben."],
            (await Classroom.AllAsync(room.Grader, $"{room.Address}/reports")).Select(report => Text(report, "reasoning")).Order(StringComparer.Ordinal));
    }

    // By several deductions, or several due dates, each report's hour is found to the second.
    [Theory]
    [InlineData("""{ "pointsPerDay": 2, "mostPoints": 12 }""")]
    [InlineData("""{ "pointsPerDay": 3, "mostPoints": 12, "graceHours": 0.4 }""")]
    [InlineData("null")]
    public async Task LatenessIsCountedAsItWasOnceAReportIsHandedInUntilGradesArePublished(string other)
    {
        var rubric = JsonNode.Parse(Course)!["rubric"]!.AsObject();
        rubric["lateness"] = JsonNode.Parse(other);
        if (rubric["lateness"] is null)
        {
            rubric.Remove("lateness");
        }

        string[] counted =
        [
            Changed(course => course["dueAt"] = "2026-03-14T09:20:00Z"), Changed(course => course.Remove("dueAt")),
            Changed(course => course["graceMinutes"] = 20), Changed(course => course["rubric"] = rubric.DeepClone()),
        ];
        await using var room = await RoomAsync();
        foreach (var course in counted)
        {
            using var changed = await room.PutAsync(room.Instructor, room.Address, course);
            Assert.Contains("dueAt, graceMinutes", (string)(await changed.ProblemAsync(ProblemTypes.Withheld))["detail"]!, StringComparison.Ordinal);
        }

        using var graded = await room.Grader.PostAsync($"{room.Address}/grades", new JsonObject { ["rubric"] = rubric.DeepClone() }.ToJsonString());
        Assert.Contains("lateness of its own rubric", (string)(await graded.ProblemAsync(ProblemTypes.Withheld))["detail"]!, StringComparison.Ordinal);
        Assert.Empty(await Classroom.AllAsync(room.Grader, $"{room.Address}/gradings"));

        // All else changes, also for one student.
        using var named = await room.PutAsync(room.Instructor, room.Address, Changed(course => course["name"] = "Another name"));
        await named.JsonAsync(HttpStatusCode.OK);
        using var longer = await room.PutAsync(room.Instructor, $"{room.Address}/extensions", $$"""{ "extensions": [{ "student": "{{Ben}}", "dueAt": "2026-03-15T09:00:00Z" }] }""");
        await longer.JsonAsync(HttpStatusCode.OK);
        await room.PublishAsync(await room.GradeAsync());
        rubric["name"] = "Afterwards";
        await room.GradeAsync(new JsonObject { ["rubric"] = rubric.DeepClone() }.ToJsonString());
        using var after = await room.PutAsync(room.Instructor, room.Address, counted[0]);
        await after.JsonAsync(HttpStatusCode.OK);
    }

    [Fact]
    public async Task LatenessIsCountedOtherwiseWhileNothingIsHandedIn()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, Course);
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone", isDraft: true));
        using var changed = await room.PutAsync(room.Instructor, room.Address, Changed(course => course["dueAt"] = "2026-03-14T09:20:00Z"));

        Assert.Equal("2026-03-14T09:20:00Z", Text(await changed.JsonAsync(HttpStatusCode.OK), "dueAt"));
    }

    // Whoever's key a roster names as a student's reads that student's reports under their name, and nothing is revoked.
    [Fact]
    public async Task NoRosterMakesAStudentSomebodyElseUntilGradesArePublished()
    {
        await using var room = await RoomAsync();
        using var administrator = service.Service.ClientWith(ServiceUnderTest.AdministratorKey);
        var stranger = await Classroom.ActorAsync(room.Stranger);
        (string, string?)[][] refused = [[(Ann, stranger), (Ben, room.BenActor)], [(Ann, room.BenActor), (Ben, room.AnnActor)], [(Ann, null), (Ben, room.AnnActor)], [(Ann, null), ("corinna.v", room.AnnActor)], [(Ben, room.BenActor), ("emil.n", room.AnnActor)]];
        foreach (var students in refused)
        {
            using var put = await PutRosterAsync(room, students);
            Assert.Contains("a new key of the course", (string)(await put.ProblemAsync(ProblemTypes.Withheld))["detail"]!, StringComparison.Ordinal);
        }

        // Nor does one that drops her first; she comes back by a key of the course. Who never had a key or sign-in is named as ever.
        using var dropped = await PutRosterAsync(room, (Ben, room.BenActor));
        await dropped.JsonAsync(HttpStatusCode.OK);
        using var swapped = await PutRosterAsync(room, (Ann, stranger), (Ben, room.BenActor));
        await swapped.ProblemAsync(ProblemTypes.Withheld);
        using var back = await PutRosterAsync(room, (Ann, null), (Ben, null), ("corinna.v", stranger));
        await back.JsonAsync(HttpStatusCode.OK);
        var (first, second) = (await GiveAsync(), await GiveAsync());
        using var lost = service.Service.ClientWith(first);
        using var none = await lost.GetAsync($"{room.Address}/reports", Patience);
        using var own = service.Service.ClientWith(second);
        var given = await Classroom.AllAsync(administrator, $"/api/v1/audit?resource=courses/{room.Id}/students/{Ann}");
        var revoked = await Classroom.AllAsync(administrator, $"/api/v1/audit?action=key.revoke&resource=keys/{first.Split('_')[1]}");

        Assert.Equal(HttpStatusCode.Unauthorized, none.StatusCode);
        Assert.Equal(["Of Ann once more.", "Of Ann."], (await Classroom.AllAsync(own, $"{room.Address}/reports")).Select(report => Text(report, "reasoning")).Order(StringComparer.Ordinal));
        Assert.Empty(await Classroom.AllAsync(room.Stranger, $"{room.Address}/reports"));
        var instructor = await Classroom.ActorAsync(room.Instructor);
        Assert.Equal([("course.key", instructor), ("course.key", instructor)], given.Select(entry => (Text(entry, "action"), Text(entry, "actor"))));
        Assert.Equal(instructor, Text(Assert.Single(revoked), "actor"));
        await room.PublishAsync(await room.GradeAsync());
        using var after = await PutRosterAsync(room, (Ann, room.AnnActor), (Ben, room.BenActor));
        await after.JsonAsync(HttpStatusCode.OK);

        async Task<string> GiveAsync()
        {
            using var current = await room.Instructor.GetAsync(room.Address, Patience);
            using var request = new HttpRequestMessage(HttpMethod.Post, $"{room.Address}/keys") { Content = Requests.Json($$"""{ "students": ["{{Ann}}"] }""") };
            request.Headers.IfMatch.Add(current.Headers.ETag!);
            using var keys = await room.Instructor.SendAsync(request, Patience);
            return Text((await keys.JsonAsync(HttpStatusCode.OK)).GetProperty("keys").EnumerateArray().Single(), "key");
        }
    }

    [Fact]
    public async Task FirstPublicationHoldsEveryReportThatCounts()
    {
        await using var room = await RoomAsync();
        var called = Text((await Classroom.AllAsync(room.Grader, $"{room.Address}/reports"))[0], "id");
        var one = await room.GradeAsync($$"""{ "reports": ["{{called}}"] }""");
        using var refused = await room.PutAsync(room.Instructor, $"{room.Address}/publication", $$"""{ "grading": "{{one}}" }""");
        var problem = await refused.ProblemAsync(ProblemTypes.CourseStateForbids);
        var before = await Classroom.AllAsync(room.Grader, $"{room.Address}/reports");
        await room.PublishAsync(await room.GradeAsync());
        await room.PublishAsync(one);

        Assert.Contains("2 reports that count are missing", (string)problem["detail"]!, StringComparison.Ordinal);
        Assert.All(before, report => Assert.False(report.TryGetProperty("student", out _)));
    }

    // A report's revision tells how often it was written, and the audit log has as many entries of its id.
    [Fact]
    public async Task RevisionsOfReportsAreToldToTheirStudentsAlone()
    {
        await using var room = await RoomAsync();
        var called = Text((await Classroom.AllAsync(room.Grader, $"{room.Address}/reports"))[0], "id");
        var id = Text((await Classroom.AllAsync(room.Ben, $"{room.Address}/reports"))[0], "id");
        using var blind = await room.Grader.GetAsync($"{room.Address}/reports/{called}", Patience);
        using var ranking = await room.Grader.GetAsync($"{room.Address}/reports/{called}/ranking", Patience);
        using var own = await room.Ben.GetAsync($"{room.Address}/reports/{id}", Patience);

        Assert.All((HttpResponseMessage[])[blind, ranking], response => Assert.Equal((HttpStatusCode.OK, null), (response.StatusCode, response.Headers.ETag)));
        Assert.Equal("\"1\"", own.Headers.ETag!.Tag);
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

    // Whoever has longer would be found by what differs though nothing counts otherwise.
    [Fact]
    public async Task ComparisonTellsNoLatenessThatCostsTheSame()
    {
        await using var room = await RoomAsync();
        var first = await room.GradeAsync();
        await ExtendAsync("2026-03-14T09:10:00Z");
        var same = await ChangesAsync();
        await ExtendAsync("2026-03-15T09:00:00Z");
        var other = await ChangesAsync();
        await room.PublishAsync(await room.GradeAsync());
        await ExtendAsync("2026-03-14T09:10:00Z");
        var told = await ChangesAsync();

        Assert.Empty(same);
        Assert.Single(other);
        Assert.Equal(Ben, Text(Assert.Single(told), "student"));

        async Task ExtendAsync(string until)
        {
            using var put = await room.PutAsync(room.Instructor, $"{room.Address}/extensions", $$"""{ "extensions": [{ "student": "{{Ben}}", "dueAt": "{{until}}" }] }""");
            await put.JsonAsync(HttpStatusCode.OK);
        }

        async Task<List<JsonElement>> ChangesAsync()
        {
            var comparison = await room.Grader.JsonAtAsync($"{room.Address}/gradings/{first}/comparison/{await room.GradeAsync()}");
            var items = comparison.GetProperty("items").EnumerateArray().ToList();
            Assert.Equal(items.Count, comparison.GetProperty("changed").GetInt32());
            return items;
        }
    }

    // Readings that go with a bench would be known by moving students from bench to bench and looking again.
    [Fact]
    public async Task ClassIsSeenWithoutBenchesWhereverStudentsSit()
    {
        await using var room = await RoomAsync();
        var services = service.Service.Services;
        Assert.True((await services.GetRequiredService<TableSnapshots>().FindAsync(null, Patience)).Succeeded(out var table, out _));

        Assert.All(await BenchesAsync(isBlind: true), Assert.Null);
        Assert.All(await BenchesAsync(isBlind: false), bench => Assert.Equal(Bench, bench));

        async Task<IEnumerable<string?>> BenchesAsync(bool isBlind)
        {
            var course = (await services.GetRequiredService<Courses>().FindAsync(room.Id, Patience))!;
            var names = new MarkedNames(new MarkingCodes(new byte[MarkingCodes.SecretLength]), isBlind);
            var reports = await services.GetRequiredService<ClassReports>().ReadAsync(course, null, table, names, Patience);
            Assert.Equal(2, reports.Count);
            return reports.Select(report => report.Bench);
        }
    }

    // What a report is called to whoever marks it and its id, beside which its hour stands, never stand in one place.
    [Fact]
    public async Task AuditLogTellsOfNoReportThatItWasChangedByHandUntilGradesArePublished()
    {
        await using var room = await RoomAsync();
        using var administrator = service.Service.ClientWith(ServiceUnderTest.AdministratorKey);
        var id = Text((await Classroom.AllAsync(room.Ben, $"{room.Address}/reports"))[0], "id");
        var grading = await room.GradeAsync();
        var called = Text((await Classroom.AllAsync(room.Grader, $"{room.Address}/reports"))[0], "id");
        using var moderated = await administrator.PostAsync($"{room.Address}/reports/{called}/moderations", """{ "reason": "Seen" }""");
        var made = Text(await moderated.JsonAsync(HttpStatusCode.Created), "id");

        // As it was written before entries named the moderation.
        var (earlier, actor) = ($"courses/{room.Id}/reports/{id}", await Classroom.ActorAsync(room.Grader));
        await service.Service.Services.GetRequiredService<AuditTrail>().WriteAsync(
            new AuditOrigin(actor, null, null), (_, _) => Task.FromResult(new Audited<int>(0, new AuditedAct("report.moderate", earlier))), Patience);
        var before = await OfCourseAsync("action=report.moderate");
        var found = await OfCourseAsync($"action=report.moderate&resource={earlier}");
        await room.PublishAsync(grading);

        Assert.Equal([$"courses/{room.Id}/moderations/{made}", $"courses/{room.Id}/reports/withheld"], before);
        Assert.Empty(found);
        Assert.Equal([$"courses/{room.Id}/moderations/{made}", earlier], await OfCourseAsync("action=report.moderate"));
        Assert.Equal([earlier], await OfCourseAsync($"action=report.moderate&resource={earlier}"));

        async Task<List<string>> OfCourseAsync(string query) =>
            [.. (await Classroom.AllAsync(administrator, $"/api/v1/audit?limit=500&order=oldestFirst&{query}"))
                .Select(entry => Text(entry, "resource")).Where(resource => resource.StartsWith($"courses/{room.Id}/", StringComparison.Ordinal))];
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
        Assert.False(before.TryGetProperty("traceId", out _));
        Assert.True(after.TryGetProperty("traceId", out _));
        Assert.DoesNotContain(ofBen, entry => Text(entry, "action").StartsWith("report.", StringComparison.Ordinal));
        Assert.Equal(room.BenActor, Text(after, "actor"));
        Assert.Contains(await Classroom.AllAsync(administrator, byBen), entry => Text(entry, "action") == "report.hand-in");
    }

    // What staff did is nobody's report, whatever it is called: nobody hides in the log behind a course marked anonymously.
    [Fact]
    public async Task AuditLogNeverWithholdsWhatStaffDid()
    {
        await using var room = await RoomAsync();
        using var administrator = service.Service.ClientWith(ServiceUnderTest.AdministratorKey);
        var (actor, resource) = (await Classroom.ActorAsync(room.Grader), $"courses/{room.Id}/reports/0123456789abcdef");
        await service.Service.Services.GetRequiredService<AuditTrail>().WriteAsync(
            new AuditOrigin(actor, null, null), (_, _) => Task.FromResult(new Audited<int>(0, new AuditedAct("report.hand-in", resource))), Patience);

        Assert.Equal(actor, Text(Assert.Single(await Classroom.AllAsync(administrator, $"/api/v1/audit?resource={resource}")), "actor"));
        Assert.Single(await Classroom.AllAsync(administrator, $"/api/v1/audit?action=report.hand-in&actor={Uri.EscapeDataString(actor)}"));
    }

    [Fact]
    public async Task AuditLogOfACourseDeletedBeforeItsGradesWerePublishedStaysWithheld()
    {
        await using var room = await RoomAsync();
        var id = Text((await Classroom.AllAsync(room.Ben, $"{room.Address}/reports"))[0], "id");
        using var closed = await room.PutAsync(room.Instructor, room.Address, Changed(course => course["closesAt"] = "2026-03-14T09:20:00Z"));
        await closed.JsonAsync(HttpStatusCode.OK);
        await DeleteAsync(room);

        Assert.Equal("withheld", Text(await HandInOfAsync(room, id), "actor"));
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
            warning => warning.GetString()!.StartsWith("Marked anonymously: some unknowns were given to only 1 of the 6 students.", StringComparison.Ordinal));
    }

    [Fact]
    public async Task SecretGoesWithTheCourse()
    {
        await using var room = await RoomAsync();
        await room.PublishAsync(await room.GradeAsync());
        var id = Text((await Classroom.AllAsync(room.Ben, $"{room.Address}/reports"))[0], "id");
        Assert.Equal(1, await SecretsAsync());
        await DeleteAsync(room);

        Assert.Equal(0, await SecretsAsync());

        // What was told stays told.
        Assert.Equal(room.BenActor, Text(await HandInOfAsync(room, id), "actor"));

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

    private static async Task DeleteAsync(Classroom room)
    {
        using var archived = await room.PutAsync(room.Instructor, $"{room.Address}/archive", """{ "isArchived": true }""");
        await archived.JsonAsync(HttpStatusCode.OK);
        using var current = await room.Instructor.GetAsync(room.Address, Patience);
        using var request = new HttpRequestMessage(HttpMethod.Delete, room.Address);
        request.Headers.IfMatch.Add(current.Headers.ETag!);
        using var deleted = await room.Instructor.SendAsync(request, Patience);
        await deleted.JsonAsync(HttpStatusCode.OK);
    }

    private async Task<JsonElement> HandInOfAsync(Classroom room, string id)
    {
        using var administrator = service.Service.ClientWith(ServiceUnderTest.AdministratorKey);
        return Assert.Single(await Classroom.AllAsync(administrator, $"/api/v1/audit?resource=courses/{room.Id}/reports/{id}"));
    }

    private static Task<HttpResponseMessage> PutRosterAsync(Classroom room, params (string Student, string? Actor)[] students) =>
        room.PutAsync(
            room.Instructor,
            $"{room.Address}/roster?dropsStudents=true",
            new JsonObject { ["students"] = new JsonArray([.. students.Select(each => new JsonObject { ["student"] = each.Student, ["actor"] = each.Actor })]) }.ToJsonString());

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

    private static string With(Action<JsonObject> change) => With(Classroom.Course, change);

    private static string Changed(Action<JsonObject> change) => With(Course, change);

    private static string With(string described, Action<JsonObject> change)
    {
        var course = JsonNode.Parse(described)!.AsObject();
        change(course);
        return course.ToJsonString();
    }

    [GeneratedRegex(@"\{[^}]*\}")]
    private static partial Regex Parameter();

    public sealed class OnSqlite(SqliteService service) : AnonymousMarkingTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : AnonymousMarkingTests(service), IClassFixture<PostgreSqlService>;
}
