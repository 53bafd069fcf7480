using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Http;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Grace, extensions, attempts that count and empty reports, each graded by hand beside it; the same on both engines.</summary>
/// <remarks>The clock of the service stands at 09:26:53 UTC. The rubric gives 10 for the compound, takes 3 a day begun and 2 an attempt beyond the first.</remarks>
public abstract class FairRulesTests(RunningService service)
{
    private const string Rubric =
        """
        {
          "name": "By hand",
          "pointStep": 1,
          "rightCompound": { "points": 10 },
          "attempts": { "pointsPerAttempt": 2, "mostPoints": 6 },
          "lateness": { "pointsPerDay": 3, "mostPoints": 12 }
        }
        """;

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    // Due at 09:00:00, handed in at 09:26:53. Without grace 26 min 53 s late, one day begun: 10 - 3 = 7. With 26 minutes 53 s late: 7.
    // With 27 minutes in time: 10. Of 10 points 70 or 100 per cent.
    [Theory]
    [InlineData(0, 7, "It was handed in 0.45 hours late. Each day begun takes 3 points, but no more than 12 points are taken in all. For 1 day that is −3 points.")]
    [InlineData(26, 7, "It was handed in 0.01 hours late. Each day begun takes 3 points, but no more than 12 points are taken in all. For 1 day that is −3 points.")]
    [InlineData(27, 10, "It was handed in in time, so nothing is taken: 0 points.")]
    public async Task GraceIsNotLateAndLatenessIsCountedFromItsEnd(int grace, double points, string sentence)
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, Course(course => course["graceMinutes"] = grace));
        await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        await room.PublishAsync(await room.GradeAsync());

        var grade = (await room.Ann.JsonAtAsync($"{room.Address}/grades")).GetProperty("items")[0];
        var row = (await room.Grader.JsonAtAsync($"{room.Address}/gradebook")).GetProperty("students")[0];

        Assert.Equal((points, 10), (grade.GetProperty("total").GetDouble(), grade.GetProperty("maximum").GetDouble()));
        Assert.Equal(sentence, SentenceOf(grade, "lateness"));
        Assert.Equal((points * 10, points < 10), (row.GetProperty("percentage").GetDouble(), row.GetProperty("isLate").GetBoolean()));
        Assert.Equal(grace, (await room.Ann.JsonAtAsync(room.Address)).GetProperty("graceMinutes").GetInt32());
    }

    // Due at 09:00:00 and closed at 09:10:00; ben has until 10:00:00. Ann's is not taken, ben's is and is in time: 10 of 10.
    [Fact]
    public async Task StudentWithAnExtensionHandsInInTimeAfterTheOthersAreClosedOut()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, Course(course => course["closesAt"] = "2026-03-14T09:10:00Z"));
        using var put = await room.PutAsync(room.Instructor, $"{room.Address}/extensions", Extensions(("ben", "2026-03-14T11:00:00+01:00")));
        await put.JsonAsync(HttpStatusCode.OK);

        using var late = await room.Ann.PostAsync($"{room.Address}/reports", room.Report("ann", room.Answers["ann"]));
        var draft = await room.HandInAsync(room.Ben, room.Report("ben", room.Answers["ben"], isDraft: true));
        using var handedIn = await room.PutAsync(room.Ben, $"{room.Address}/reports/{draft.GetProperty("id").GetString()}", room.Report("ben", room.Answers["ben"]));
        await handedIn.JsonAsync(HttpStatusCode.OK);
        var grade = (await Classroom.AllAsync(room.Grader, $"{room.Address}/grades?grading={await room.GradeAsync()}")).Single();

        Assert.Contains("took reports until 2026-03-14T09:10:00Z", (string)(await late.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
        Assert.Equal(10, grade.GetProperty("total").GetDouble());
        Assert.Equal("2026-03-14T10:00:00Z", (await room.Ben.JsonAtAsync(room.Address)).GetProperty("extendedTo").GetString());
        Assert.False((await room.Ann.JsonAtAsync(room.Address)).TryGetProperty("extendedTo", out _));
        var kept = (await room.Grader.JsonAtAsync($"{room.Address}/extensions")).GetProperty("extensions");
        Assert.Equal("ben", Assert.Single(kept.EnumerateArray()).GetProperty("student").GetString());

        // A roster put again knows nothing of extensions and takes none.
        var csv = await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/roster");
        using var roster = await room.PutAsync(room.Instructor, $"{room.Address}/roster", csv, "text/csv");
        await roster.JsonAsync(HttpStatusCode.OK);
        Assert.Equal(kept.GetRawText(), (await room.Grader.JsonAtAsync($"{room.Address}/extensions")).GetProperty("extensions").GetRawText());

        // Nor one that corrects an identifier.
        using var corrected = await room.PutAsync(
            room.Instructor, $"{room.Address}/roster?dropsStudents=true", csv.Replace("\nben,", "\nbenjamin,", StringComparison.Ordinal), "text/csv");
        await corrected.JsonAsync(HttpStatusCode.OK);
        var moved = Assert.Single((await room.Grader.JsonAtAsync($"{room.Address}/extensions")).GetProperty("extensions").EnumerateArray());
        Assert.Equal(
            ("benjamin", new DateTime(2026, 3, 14, 10, 0, 0, DateTimeKind.Utc)),
            (moved.GetProperty("student").GetString(), moved.GetProperty("dueAt").GetDateTimeOffset().UtcDateTime));

        // Nor one that takes the correction back: what was changed meanwhile stands.
        await ExtendAsync(room, ("benjamin", "2026-03-14T11:00:00Z"));
        using var back = await room.PutAsync(room.Instructor, $"{room.Address}/roster?dropsStudents=true", csv, "text/csv");
        await back.JsonAsync(HttpStatusCode.OK);
        var newer = Assert.Single((await room.Grader.JsonAtAsync($"{room.Address}/extensions")).GetProperty("extensions").EnumerateArray());
        Assert.Equal(
            ("ben", new DateTime(2026, 3, 14, 11, 0, 0, DateTimeKind.Utc)),
            (newer.GetProperty("student").GetString(), newer.GetProperty("dueAt").GetDateTimeOffset().UtcDateTime));
    }

    // Due at 09:00:00 with 40 minutes of grace; ben has until 09:10:00, so until 09:50:00, and it is 09:26:53.
    [Fact]
    public async Task WhoStillHadGraceIsNamedWhenGradesArePublished()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, Course(course => course["graceMinutes"] = 40));
        await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        await ExtendAsync(room, ("ben", "2026-03-14T09:10:00Z"));
        var grading = await room.GradeAsync();

        using var early = await room.PutAsync(room.Instructor, $"{room.Address}/publication", $$"""{ "grading": "{{grading}}" }""");
        using var published = await room.PutAsync(room.Instructor, $"{room.Address}/publication", $$"""{ "grading": "{{grading}}", "beforeDue": true }""");
        using var another = await room.PutAsync(room.Instructor, $"{room.Address}/publication", $$"""{ "grading": "{{await room.GradeAsync()}}" }""");

        Assert.StartsWith(
            "Reports can be handed in in time until 2026-03-14T09:50:00Z, and 5 of 6 unknowns have none yet. ",
            (string)(await early.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!,
            StringComparison.Ordinal);
        await another.JsonAsync(HttpStatusCode.OK);
        Assert.Contains(
            "Still had longer, and hand in no more: ben.",
            (await published.JsonAsync(HttpStatusCode.OK)).GetProperty("warnings").EnumerateArray().Select(warning => warning.GetString()));
    }

    // Both handed in at 09:26:53, due at 09:00:00: 7 each. With 09:20:00 of his own ben is still late by a day begun: 7. With 09:30:00: 10.
    [Fact]
    public async Task ExtensionChangesTheGradeOfTheNextGradingAndNoOther()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, Course(_ => { }));
        await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        await room.HandInAsync(room.Ben, room.Report("ben", room.Answers["ben"]));
        var first = await room.GradeAsync();
        await ExtendAsync(room, ("ben", "2026-03-14T09:20:00Z"));
        var second = await room.GradeAsync();
        await ExtendAsync(room, ("ben", "2026-03-14T09:30:00Z"));
        var third = await room.GradeAsync();
        using var published = await room.PutAsync(room.Instructor, $"{room.Address}/publication", $$"""{ "grading": "{{third}}", "beforeDue": true }""");
        Assert.Contains(
            "Still had longer, and hand in no more: ben.",
            (await published.JsonAsync(HttpStatusCode.OK)).GetProperty("warnings").EnumerateArray().Select(warning => warning.GetString()));

        Assert.Equal([7, 7], await TotalsAsync(room, first));
        Assert.Equal([7, 7], await TotalsAsync(room, second));
        Assert.Equal([7, 10], await TotalsAsync(room, third));
    }

    [Theory]
    [InlineData("stranger", "2026-03-15T00:00:00Z", "/extensions/0/student", "not in the roster")]
    [InlineData("ben", "2026-03-14T09:00:00Z", "/extensions/0/dueAt", "an extension is later")]
    public async Task ExtensionThatIsNoneIsRefused(string student, string due, string place, string reason)
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, Course(_ => { }));

        using var put = await room.PutAsync(room.Instructor, $"{room.Address}/extensions", Extensions((student, due)));

        Assert.Contains(reason, (await put.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt(place), StringComparison.Ordinal);
    }

    [Fact]
    public async Task ExaminationStaysOpenForAllUntilTheLastHasHandedIn()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, Examination("10:00"));
        await ExtendAsync(room, ("ben", "2026-03-14T11:00:00Z"));
        using (var closed = await room.PutAsync(room.Instructor, room.Address, Examination("09:10")))
        {
            await closed.JsonAsync(HttpStatusCode.OK);
        }

        using var own = await room.Ben.PostAsync("/api/v1/identifications", "{}");
        using var others = await room.Ann.PostAsync("/api/v1/identifications", "{}");
        using var further = await room.PutAsync(
            room.Instructor, $"{room.Address}/extensions", Extensions(("ben", "2026-03-14T11:00:00Z"), ("s3", "2026-03-14T11:00:00Z")));

        // That somebody has longer is told to nobody else, and whoever may have asked the engine since is not let in again.
        await own.ProblemAsync(ProblemTypes.ExaminationOpen);
        var told = (string)(await others.ProblemAsync(ProblemTypes.ExaminationOpen))["detail"]!;
        Assert.Contains("until it is over for everybody", told, StringComparison.Ordinal);
        Assert.Contains("has closed", (string)(await further.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
    }

    // Closed at 09:10:00 for all but ben, who has until 11:00:00 and is taken off the roster at 09:26:53: it is over for everybody.
    [Fact]
    public async Task StudentPutBackAfterAnExaminationHasClosedReopensNothing()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, Examination("10:00"));
        await ExtendAsync(room, ("ben", "2026-03-14T11:00:00Z"));
        using (var closed = await room.PutAsync(room.Instructor, room.Address, Examination("09:10")))
        {
            await closed.JsonAsync(HttpStatusCode.OK);
        }

        var csv = await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/roster");
        foreach (var roster in new[] { string.Join('\n', csv.Split('\n').Where(line => !line.StartsWith("ben,", StringComparison.Ordinal))), csv })
        {
            using var put = await room.PutAsync(room.Instructor, $"{room.Address}/roster?dropsStudents=true", roster, "text/csv");
            await put.JsonAsync(HttpStatusCode.OK);
        }

        using var late = await room.Ben.PostAsync($"{room.Address}/reports", room.Report("ben", room.Answers["ben"]));
        using var own = await room.Ben.PostAsync("/api/v1/identifications", Requests.Propanone);

        Assert.Contains("took reports until 2026-03-14T09:10:00Z", (string)(await late.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
        Assert.True(own.IsSuccessStatusCode, own.StatusCode.ToString());
        Assert.Empty((await room.Grader.JsonAtAsync($"{room.Address}/extensions")).GetProperty("extensions").EnumerateArray());
    }

    // Reports within the grace are taken, so the course can't close before.
    [Fact]
    public async Task CourseClosesOnceReportsAreLate()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        using var made = await room.Instructor.PostAsync(
            Classroom.Courses, Course(course => (course["graceMinutes"], course["closesAt"]) = (30, "2026-03-14T09:29:00Z")));
        using var later = await room.Instructor.PostAsync(
            Classroom.Courses, Course(course => (course["graceMinutes"], course["closesAt"]) = (30, "2026-03-14T09:30:00Z")));

        Assert.NotEmpty((await made.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/closesAt"));
        await later.JsonAsync(HttpStatusCode.Created);
    }

    // Ann is right and then wrong: 10, then 0 - 2, never below 0: 0. Ben is wrong and then right: 0, then 10 - 2 = 8. S3 is right
    // twice: 10, then 8. The last counts: 0, 8 and 8; the best: 10, 8 and 10. In per cent of 10 points ten times that.
    [Theory]
    [InlineData("last", 0, 8, 8)]
    [InlineData("best", 10, 8, 10)]
    public async Task LastOrBestAttemptCountsAsTheCourseSays(string counted, double ann, double ben, double s3)
    {
        await using var room = await Classroom.HandedOutAsync(
            service.Service, Course(course => (course["countedAttempt"], course["dueAt"]) = (counted, "2026-03-14T12:00:00Z")));
        foreach (var (student, isRight) in new[] { ("ann", true), ("ann", false), ("ben", false), ("ben", true), ("s3", true), ("s3", true) })
        {
            var client = student switch { "ann" => room.Ann, "ben" => room.Ben, _ => room.Grader };
            await room.HandInAsync(client, room.Report(student, isRight ? room.Answers[student] : Wrong(room.Answers[student])));
        }

        await room.PublishAsync(await room.GradeAsync());
        var book = (await room.Grader.JsonAtAsync($"{room.Address}/gradebook")).GetProperty("students");
        var grades = await Classroom.AllAsync(room.Grader, $"{room.Address}/grades");
        var own = (await Classroom.AllAsync(room.Ann, $"{room.Address}/grades")).ToDictionary(grade => grade.GetProperty("attempt").GetInt32());

        Assert.Equal([10 * ann, 10 * ben, 10 * s3], book.EnumerateArray().Take(3).Select(row => row.GetProperty("percentage").GetDouble()));
        Assert.Equal(counted == "best" ? 6 : 3, grades.Count);
        Assert.Equal(
            [("ann", ann), ("ben", ben), ("s3", s3)],
            grades.Where(grade => grade.GetProperty("counts").GetBoolean())
                .Select(grade => (grade.GetProperty("student").GetString()!, grade.GetProperty("total").GetDouble())).Order());
        Assert.Equal(counted == "best" ? [1, 2] : [2], own.Keys.Order());
        Assert.Equal(counted == "best" ? [true, false] : [true], own.OrderBy(grade => grade.Key).Select(grade => grade.Value.GetProperty("counts").GetBoolean()));
        Assert.Equal(counted, (await room.Ann.JsonAtAsync(room.Address)).GetProperty("countedAttempt").GetString());
    }

    // Six compounds, two attempts: the second guess is right one time in six and leaves 10 - 2 = 8, so 1.33 on average: more than a
    // tenth of 10. With 5 taken it is 5 / 6 = 0.83.
    [Theory]
    [InlineData("best", 2, true)]
    [InlineData("best", 5, false)]
    [InlineData("last", 2, false)]
    public async Task StaffAreToldWhereGuessingPays(string counted, int each, bool isTold)
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, Course(course =>
            (course["countedAttempt"], course["rubric"]!["attempts"]!["pointsPerAttempt"]) = (counted, each)));

        var item = await room.Grader.JsonAtAsync(room.Address);
        var told = item.TryGetProperty("warnings", out var warnings) ? warnings.EnumerateArray().Select(warning => warning.GetString()!).ToList() : [];

        Assert.Equal(isTold, told.Exists(warning => warning.StartsWith("The best of 2 attempts counts", StringComparison.Ordinal)));
        Assert.False((await room.Ann.JsonAtAsync(room.Address)).TryGetProperty("warnings", out _));
    }

    // Two attempts are taken. The empty one is none, so that the first is attempt 1 and costs nothing: 10 of 10.
    [Theory]
    [InlineData("""{ "assignment": "CODE" }""")]
    [InlineData("""{ "assignment": "CODE", "observation": {}, "notes": "  ", "reasoning": " " }""")]
    public async Task EmptyReportIsNoAttempt(string report)
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, Course(course => course["dueAt"] = "2026-03-14T12:00:00Z"));
        using var empty = await room.Ann.PostAsync($"{room.Address}/reports", report.Replace("CODE", room.Codes["ann"], StringComparison.Ordinal));

        Assert.Contains("An empty report is no attempt", (await empty.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt(""), StringComparison.Ordinal);
        var first = await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        Assert.Equal(1, first.GetProperty("attempt").GetInt32());
        Assert.Equal([10.0], await TotalsAsync(room, await room.GradeAsync()));
    }

    private static string Course(Action<JsonObject> change)
    {
        var course = JsonNode.Parse(Classroom.Course)!.AsObject();
        course["rubric"] = JsonNode.Parse(Rubric);
        course["dueAt"] = "2026-03-14T09:00:00Z";
        change(course);
        return course.ToJsonString();
    }

    private static string Examination(string closes) =>
        Course(course => (course["isExamination"], course["closesAt"]) = (true, $"2026-03-14T{closes}:00Z"));

    private static string Extensions(params (string Student, string Due)[] extensions) => new JsonObject
    {
        ["extensions"] = new JsonArray([.. extensions.Select(each => new JsonObject { ["student"] = each.Student, ["dueAt"] = each.Due })]),
    }.ToJsonString();

    private static async Task ExtendAsync(Classroom room, params (string Student, string Due)[] extensions)
    {
        using var put = await room.PutAsync(room.Instructor, $"{room.Address}/extensions", Extensions(extensions));
        await put.JsonAsync(HttpStatusCode.OK);
    }

    private static string Wrong(string parent) => parent == "acetophenone" ? "hexanal" : "acetophenone";

    private static async Task<IEnumerable<double>> TotalsAsync(Classroom room, string grading) =>
        (await Classroom.AllAsync(room.Grader, $"{room.Address}/grades?grading={grading}"))
        .OrderBy(grade => grade.GetProperty("student").GetString(), StringComparer.Ordinal).Select(grade => grade.GetProperty("total").GetDouble());

    private static string SentenceOf(JsonElement grade, string criterion) => grade.GetProperty("lines").EnumerateArray()
        .Single(line => line.GetProperty("criterion").GetString() == criterion).GetProperty("sentence").GetString()!;

    public sealed class OnSqlite(SqliteService service) : FairRulesTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : FairRulesTests(service), IClassFixture<PostgreSqlService>;
}
