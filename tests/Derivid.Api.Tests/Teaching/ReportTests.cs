using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Http;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Reports, grades and the class as a whole; the same on both engines.</summary>
public abstract class ReportTests(RunningService service)
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task DraftIsChangedHandedInAndThenStays()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        var draft = await room.HandInAsync(room.Ann, room.Report("ann", "acetone", isDraft: true));
        var address = $"{room.Address}/reports/{draft.GetProperty("id").GetString()}";
        Assert.False(draft.TryGetProperty("handedInAt", out _));
        using var second = await room.Ann.PostAsync($"{room.Address}/reports", room.Report("ann", "acetone"));
        await second.ProblemAsync(ProblemTypes.CourseStateForbids);
        Assert.Empty((await room.Grader.JsonAtAsync($"{room.Address}/reports")).GetProperty("items").EnumerateArray());

        using var handedIn = await room.PutAsync(room.Ann, address, room.Report("ann", "butanone", "116-117"));
        using var late = await room.PutAsync(room.Ann, address, room.Report("ann", "acetone"));

        var report = await handedIn.JsonAsync(HttpStatusCode.OK);
        Assert.Equal("butanone", report.GetProperty("claimedParent").GetString());
        Assert.Equal("2026-03-14T09:26:53Z", report.GetProperty("handedInAt").GetString());
        Assert.Contains("handed in and stays", (string)(await late.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
        Assert.Single((await room.Grader.JsonAtAsync($"{room.Address}/reports")).GetProperty("items").EnumerateArray());
        var next = await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        Assert.Equal(2, next.GetProperty("attempt").GetInt32());
        using var third = await room.Ann.PostAsync($"{room.Address}/reports", room.Report("ann", "acetone"));
        Assert.Contains("no attempt is left", (string)(await third.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task FaultsOfAReportAreNamedAndSomebodyElsesCodeIsAsIfNeverHandedOut()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        var report = JsonNode.Parse(room.Report("ann", "propanoen"))!.AsObject();
        report["observation"]!["tableVersion"] = 1;
        report["observation"]!["derivatives"]![0]!["kind"] = "hydrazide";
        using var faulty = await room.Ann.PostAsync($"{room.Address}/reports", report.ToJsonString());
        using var foreign = await room.Ann.PostAsync($"{room.Address}/reports", room.Report("ben", "acetone"));
        using var never = await room.Ann.PostAsync(
            $"{room.Address}/reports", room.Report("ann", "acetone").Replace(room.Codes["ann"], "DY44-4449", StringComparison.Ordinal));
        using var typo = await room.Ann.PostAsync(
            $"{room.Address}/reports", room.Report("ann", "acetone").Replace(room.Codes["ann"], "DY44-4447", StringComparison.Ordinal));

        var problem = await faulty.ProblemAsync(ProblemTypes.InvalidRequest);
        Assert.Equal(
            ["/claimedParent", "/observation/derivatives/0/kind", "/observation/tableVersion"],
            problem["errors"]!.AsObject().Select(error => error.Key));
        Assert.Equal(
            (await foreign.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/assignment").Replace(room.Codes["ben"], "", StringComparison.Ordinal),
            (await never.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/assignment").Replace("DY44-4449", "", StringComparison.Ordinal));
        Assert.Contains("a character is wrong", (await typo.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/assignment"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task RankingIsShownWhereTheCourseAllowsAndKnowsTheShelfOnly()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        var report = await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        var address = $"{room.Address}/reports/{report.GetProperty("id").GetString()}/ranking";
        using var withheld = await room.Ann.GetAsync(address, Patience);
        using var foreign = await room.Ben.GetAsync(address, Patience);
        var seen = await room.Grader.JsonAtAsync(address);

        await withheld.ProblemAsync(ProblemTypes.Withheld);
        await foreign.ProblemAsync(ProblemTypes.NotFound);
        Assert.Equal(6, seen.GetProperty("candidatesConsidered").GetInt32());
        Assert.Equal("propanone", seen.LeadingParent());
        var open = JsonNode.Parse(Classroom.Course)!.AsObject();
        open["showsRanking"] = true;
        using var changed = await room.PutAsync(room.Instructor, room.Address, open.ToJsonString());
        await changed.JsonAsync(HttpStatusCode.OK);
        Assert.Equal(seen.GetRawText(), (await room.Ann.JsonAtAsync(address)).GetRawText());
    }

    [Fact]
    public async Task ReportOfADerivativeThatDidNotFormIsRankedAndGraded()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        var failed = JsonNode.Parse(room.Report("ann", room.Answers["ann"]))!.AsObject();
        failed["observation"] = JsonNode.Parse("""{ "derivatives": [{ "kind": "2,4-DNPH", "precipitate": "none" }] }""");
        var contradictory = failed.DeepClone();
        contradictory["observation"]!["derivatives"]![0]!["meltingRange"] = "125-127";
        using var refused = await room.Ann.PostAsync($"{room.Address}/reports", contradictory.ToJsonString());
        var report = await room.HandInAsync(room.Ann, failed.ToJsonString());

        var ranking = await room.Grader.JsonAtAsync(
            $"{room.Address}/reports/{report.GetProperty("id").GetString()}/ranking");
        var grading = await room.GradeAsync();
        var grades = await room.Grader.JsonAtAsync($"{room.Address}/grades?grading={grading}");

        Assert.Contains(
            "\"none\"",
            (await refused.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/observation/derivatives/0/meltingRange"),
            StringComparison.Ordinal);
        Assert.Equal(
            "precipitate", ranking.GetProperty("candidates")[0].GetProperty("evidence")[0].GetProperty("kind").GetString());
        Assert.Equal(
            "ann",
            grades.GetProperty("items").EnumerateArray().Single(item => item.TryGetProperty("total", out _)).GetProperty("student").GetString());
    }

    [Fact]
    public async Task CourseTakesNoReportsAfterItClosedOrReleasedGrades()
    {
        var closed = JsonNode.Parse(Classroom.Course)!.AsObject();
        closed["dueAt"] = "2026-03-13T09:26:53Z";
        closed["closesAt"] = "2026-03-14T09:26:53Z";
        await using var room = await Classroom.HandedOutAsync(service.Service, closed.ToJsonString());
        using var late = await room.Ann.PostAsync($"{room.Address}/reports", room.Report("ann", "acetone"));

        Assert.Contains(
            "took reports until 2026-03-14T09:26:53Z",
            (string)(await late.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!,
            StringComparison.Ordinal);
        using var nothing = await room.Grader.PostAsync($"{room.Address}/grades", "{}");
        await nothing.ProblemAsync(ProblemTypes.CourseStateForbids);
    }

    [Fact]
    public async Task GradesCarryPointsAndSentencesAndReachStudentsOnceReleased()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        await room.HandInAsync(room.Ben, room.Report("ben", room.Answers["ann"]));
        using var early = await room.Ann.GetAsync($"{room.Address}/grades", Patience);
        var grading = await room.GradeAsync();
        using var unpublished = await room.Ann.GetAsync($"{room.Address}/grades", Patience);
        using var named = await room.Ann.GetAsync($"{room.Address}/grades?grading={grading}", Patience);
        var seen = await room.Grader.JsonAtAsync($"{room.Address}/grades?grading={grading}");
        await room.PublishAsync(grading);
        var own = await room.Ann.JsonAtAsync($"{room.Address}/grades");
        using var report = await room.Ann.PostAsync($"{room.Address}/reports", room.Report("ann", "acetone"));

        await early.ProblemAsync(ProblemTypes.Withheld);
        await unpublished.ProblemAsync(ProblemTypes.Withheld);
        await named.ProblemAsync(ProblemTypes.ScopeMissing);
        await report.ProblemAsync(ProblemTypes.CourseStateForbids);
        var ann = seen.GetProperty("items").EnumerateArray().Single(item => item.GetProperty("student").GetString() == "ann");
        var ben = seen.GetProperty("items").EnumerateArray().Single(item => item.GetProperty("student").GetString() == "ben");
        Assert.Equal(10, Points(ann, "rightCompound"));
        Assert.Equal(0, Points(ben, "rightCompound"));
        Assert.Equal(34, ann.GetProperty("maximum").GetDouble());
        Assert.Equal(
            ann.GetProperty("total").GetDouble(),
            ann.GetProperty("lines").EnumerateArray().Sum(line => line.GetProperty("points").GetDouble()));
        var mine = Assert.Single(own.GetProperty("items").EnumerateArray());
        Assert.Equal("ann", mine.GetProperty("student").GetString());
        Assert.Equal(ann.GetProperty("total").GetDouble(), mine.GetProperty("total").GetDouble());
        Assert.EndsWith(
            ", which is what you were given. 10 of 10 points.",
            mine.GetProperty("lines")[0].GetProperty("sentence").GetString(),
            StringComparison.Ordinal);
        var csv = await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/grades");
        Assert.Contains("right_compound,right_compound_why", csv.Split('\n')[0], StringComparison.Ordinal);
        Assert.Equal(3, csv.TrimEnd().Split("\r\n").Length);
    }

    [Fact]
    public async Task RepeatedGradingChangesNothingAndAnotherRubricIsComparedLineByLine()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        await room.HandInAsync(room.Ben, room.Report("ben", "acetone", "120-126"));
        var first = await room.GradeAsync(idempotencyKey: "friday");
        var again = await room.GradeAsync(idempotencyKey: "friday");
        var before = await room.Grader.JsonAtAsync($"{room.Address}/grades?grading={first}");
        var second = await room.GradeAsync();
        var some = await room.GradeAsync("""{ "students": ["ben"] }""");
        var strict = await room.GradeAsync(
            """{ "rubric": { "name": "Strict", "rightCompound": { "points": 10 }, "rangeWidth": { "points": 5, "zeroSpanCelsius": 3 } } }""");
        var same = await room.Grader.JsonAtAsync($"{room.Address}/gradings/{first}/comparison/{second}");
        var compared = await room.Grader.JsonAtAsync($"{room.Address}/gradings/{first}/comparison/{strict}");

        Assert.Equal(first, again);
        Assert.Equal(
            new[] { first, second, some, strict }.Order(),
            (await Classroom.AllAsync(room.Grader, $"{room.Address}/gradings?limit=1")).Select(row => row.GetProperty("id").GetString()));
        Assert.NotEqual(first, second);
        Assert.Equal(before.GetRawText(), (await room.Grader.JsonAtAsync($"{room.Address}/grades?grading={second}")).GetRawText());
        Assert.Single((await room.Grader.JsonAtAsync($"{room.Address}/grades?grading={some}")).GetProperty("items").EnumerateArray());
        Assert.Equal((2, 0), (same.GetProperty("compared").GetInt32(), same.GetProperty("changed").GetInt32()));
        Assert.Equal(2, compared.GetProperty("changed").GetInt32());
        var change = compared.GetProperty("items")[0];
        Assert.Equal("The rubric was Usual and is now Strict.", change.GetProperty("causes")[0].GetString());
        Assert.Contains(change.GetProperty("changes").EnumerateArray(), line => line.GetProperty("criterion").GetString() == "rangeWidth");
    }

    [Fact]
    public async Task UnknownReportsStudentsAndGradingsAreNamed()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        using var response = await room.Grader.PostAsync(
            $"{room.Address}/grades", """{ "reports": ["0000000000000000"], "students": ["ben"] }""");
        using var missing = await room.Grader.GetAsync($"{room.Address}/gradings/0000000000000000", Patience);
        using var published = await room.PutAsync(room.Instructor, $"{room.Address}/publication", """{ "grading": "0000000000000000" }""");

        var problem = await response.ProblemAsync(ProblemTypes.InvalidRequest);
        Assert.Equal(["/reports/0", "/students/0"], problem["errors"]!.AsObject().Select(error => error.Key));
        await missing.ProblemAsync(ProblemTypes.NotFound);
        await published.ProblemAsync(ProblemTypes.NotFound);
    }

    [Fact]
    public async Task NoHourAndNoAttemptGivenAfterMarksWereSeenLetsReportsInAgain()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        using var drafted = await room.Ben.PostAsync($"{room.Address}/reports", room.Report("ben", "acetone", isDraft: true));
        var draft = (await drafted.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString();
        await room.PublishAsync(await room.GradeAsync());
        var longer = JsonNode.Parse(Classroom.Course)!.AsObject();
        (longer["dueAt"], longer["closesAt"], longer["mostAttempts"]) = ("2027-03-14T12:00:00Z", "2027-03-15T12:00:00Z", 20);

        using var changed = await room.PutAsync(room.Instructor, room.Address, longer.ToJsonString());
        using var again = await room.Ann.PostAsync($"{room.Address}/reports", room.Report("ann", room.Answers["ann"]));
        using var late = await room.PutAsync(room.Ben, $"{room.Address}/reports/{draft}", room.Report("ben", room.Answers["ben"]));
        using var anew = await room.Instructor.PostAsync($"{room.Address}/hand-outs", "{}");
        var grade = Assert.Single((await room.Ann.JsonAtAsync($"{room.Address}/grades")).GetProperty("items").EnumerateArray());

        Assert.Equal("2027-03-15T12:00:00Z", (await changed.JsonAsync(HttpStatusCode.OK)).GetProperty("closesAt").GetString());
        await again.ProblemAsync(ProblemTypes.CourseStateForbids);
        await late.ProblemAsync(ProblemTypes.CourseStateForbids);
        await anew.ProblemAsync(ProblemTypes.CourseStateForbids);
        Assert.Equal(1, grade.GetProperty("attempt").GetInt32());
    }

    [Fact]
    public async Task PublicationTellsWhoseReportsAreNotInTheGrading()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        var early = await room.GradeAsync();
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        await room.HandInAsync(room.Ben, room.Report("ben", "acetone"));
        using var published = await PublishedAsync(early);
        using var all = await PublishedAsync(await room.GradeAsync());

        Assert.Equal(
            ["Not in this grading are reports that count, of ann, ben: their students see no grade for them, or that of an earlier attempt. Grade again and publish that grading."],
            (await published.JsonAsync(HttpStatusCode.OK)).GetProperty("warnings").EnumerateArray().Select(warning => warning.GetString()));
        Assert.False((await all.JsonAsync(HttpStatusCode.OK)).TryGetProperty("warnings", out _));
        Assert.Single((await room.Ben.JsonAtAsync($"{room.Address}/grades")).GetProperty("items").EnumerateArray());

        Task<HttpResponseMessage> PublishedAsync(string grading) =>
            room.PutAsync(room.Instructor, $"{room.Address}/publication", $$"""{ "grading": "{{grading}}", "beforeDue": true }""");
    }

    [Fact]
    public async Task WhatTheCourseOffersIsOfTheGradesBasisAndCompared()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        var rubric = """{ "rubric": { "name": "Width", "farthestCelsius": 500, "rangeWidth": { "points": 4 } } }""";
        var before = await room.GradeAsync(rubric);
        var narrower = JsonNode.Parse(Classroom.Course)!.AsObject();
        narrower["derivativeKinds"] = new JsonArray("semicarbazone");
        using var changed = await room.PutAsync(room.Instructor, room.Address, narrower.ToJsonString());
        var after = await room.GradeAsync(rubric);
        using var back = await room.PutAsync(room.Instructor, room.Address, Classroom.Course);
        var again = await room.GradeAsync(rubric);

        var lost = (await room.Grader.JsonAtAsync($"{room.Address}/gradings/{before}/comparison/{after}")).GetProperty("items")[0];
        var same = await room.Grader.JsonAtAsync($"{room.Address}/gradings/{before}/comparison/{again}");
        await room.PublishAsync(after);
        var own = (await room.Ann.JsonAtAsync($"{room.Address}/grades")).GetProperty("items")[0];

        Assert.Equal((4, 0), (lost.GetProperty("totalBefore").GetDouble(), lost.GetProperty("totalAfter").GetDouble()));
        Assert.Equal(
            "The list of what the course offers was 2-4-dinitrophenylhydrazone, iodoform, semicarbazone, tollens and is now iodoform, semicarbazone, tollens.",
            Assert.Single(lost.GetProperty("causes").EnumerateArray()).GetString());
        Assert.Equal(0, same.GetProperty("changed").GetInt32());
        Assert.Equal(Core.Teaching.Grading.Grader.MarkingRules, own.GetProperty("markingRules").GetInt32());
        Assert.Contains(
            "2,4-dinitrophenylhydrazone is no derivative that this course offers, so it earns nothing.",
            own.GetProperty("lines")[0].GetProperty("sentence").GetString(),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task ClassIsSeenAsAWhole()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        foreach (var student in room.Codes.Keys)
        {
            await room.HandInAsync(room.Grader, room.Report(student, "acetone"));
        }

        var overview = await room.Grader.JsonAtAsync($"{room.Address}/overview");
        var graded = await room.Grader.JsonAtAsync($"{room.Address}/overview?grading={await room.GradeAsync()}");

        Assert.Equal(6, overview.GetProperty("reports").GetInt32());
        Assert.Equal(6, overview.GetProperty("byCompound").GetArrayLength());
        Assert.Empty(overview.GetProperty("items").EnumerateArray());
        Assert.Equal("identicalReadings", overview.GetProperty("signals").EnumerateArray().Last().GetProperty("kind").GetString());
        Assert.Equal(6, graded.GetProperty("items").EnumerateArray().Count(item => item.GetProperty("kind").GetString() == "compound"));
        Assert.Equal(1, graded.GetProperty("items").EnumerateArray()
            .Single(item => item.GetProperty("key").GetString() == "propanone").GetProperty("shareRight").GetDouble());
    }

    private static double Points(JsonElement grade, string criterion) =>
        grade.GetProperty("lines").EnumerateArray()
            .Single(line => line.GetProperty("criterion").GetString() == criterion).GetProperty("points").GetDouble();

    public sealed class OnSqlite(SqliteService service) : ReportTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : ReportTests(service), IClassFixture<PostgreSqlService>;
}
