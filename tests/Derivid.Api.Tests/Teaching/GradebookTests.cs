using System.Globalization;
using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Text.RegularExpressions;
using CsvHelper;
using Derivid.Api.Http;
using Derivid.Api.Teaching;
using Derivid.Contracts;

namespace Derivid.Api.Tests.Teaching;

/// <summary>The gradebook of a class and its OneRoster files; the same on both engines.</summary>
public abstract class GradebookTests(RunningService service)
{
    private const string Ids = "classSourcedId=class-1&categorySourcedId=lab%2Fgrades&academicSessionSourcedId=2026.1&schoolSourcedId=dep@uni";

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task EverybodyOfTheRosterIsInItAndWhoHandedInNothingIsToldHowItCounts(bool countsZero)
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        await room.HandInAsync(room.Ben, room.Report("ben", "acetone"));
        var grading = await room.GradeAsync(countsZero ? "{}" : """{ "missingCountsZero": false }""");
        var grades = (await Classroom.AllAsync(room.Grader, $"{room.Address}/grades?grading={grading}"))
            .ToDictionary(grade => grade.GetProperty("student").GetString()!);

        var book = await room.Grader.JsonAtAsync($"{room.Address}/gradebook?grading={grading}");
        var rows = Rows(await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/gradebook?grading={grading}"));

        Assert.Equal(["ann", "ben", "s3", "s4", "s5", "s6"], rows.Select(row => row["student"]));
        Assert.Equal(["student", "status", "percentage", "late", "missing", "feedback"], rows[0].Keys);
        Assert.Equal(countsZero, book.GetProperty("missingCountsZero").GetBoolean());
        Assert.False(book.GetProperty("isPublished").GetBoolean());
        foreach (var student in new[] { "ann", "ben" })
        {
            var row = rows.Single(row => row["student"] == student);
            var (total, maximum) = (grades[student].GetProperty("total").GetDecimal(), grades[student].GetProperty("maximum").GetDecimal());
            Assert.Equal(
                Math.Round(100 * total / maximum, 2, MidpointRounding.AwayFromZero),
                decimal.Parse(row["percentage"], CultureInfo.InvariantCulture));
            Assert.Equal(("fully graded", "false", "false"), (row["status"], row["late"], row["missing"]));
            Assert.StartsWith($"Unknown 1 ({room.Codes[student]}): attempt 1 counts, with ", row["feedback"], StringComparison.Ordinal);

            // The first figure is the total; those of the lines add up to it.
            var points = Regex.Matches(row["feedback"], "([−0-9.]+) (of [0-9.]+ )?points?[.]")
                .Select(match => decimal.Parse(match.Groups[1].Value.Replace('−', '-'), CultureInfo.InvariantCulture)).ToList();
            Assert.Equal((total, total), (points[0], points.Skip(1).Sum()));
        }

        Assert.All(rows.Skip(2), row =>
        {
            Assert.Equal(("not submitted", countsZero ? "0" : "", "true"), (row["status"], row["percentage"], row["missing"]));
            Assert.Equal(
                $"Unknown 1 ({room.Codes[row["student"]]}): nothing was handed in; it {(countsZero ? "counts as 0" : "is left out")}.",
                row["feedback"]);
        });
    }

    // The first attempt is ahead while the second waits for a hand; 20 of 20 against 4 + 6 of 20 at the end.
    [Fact]
    public async Task WhereTheBestAttemptCountsNobodyIsFullyGradedWhileAnotherWaits()
    {
        await using var room = await Classroom.HandedOutAsync(
            service.Service, Classroom.Course.Replace("\"mostAttempts\": 2", "\"mostAttempts\": 2, \"countedAttempt\": \"best\"", StringComparison.Ordinal));
        var wrong = room.Answers["ann"] == "propanone" ? "acetophenone" : "acetone";
        var right = await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        var other = await room.HandInAsync(room.Ann, room.Report("ann", wrong));
        var grading = await room.GradeAsync(
            """{ "rubric": { "name": "By hand", "farthestCelsius": 500, "rightCompound": { "points": 10 }, "rangeWidth": { "points": 4 }, "writtenReasoning": { "points": 6 } } }""");
        var statuses = new List<string>();
        foreach (var report in new[] { right, other })
        {
            using var marked = await room.Grader.PostAsync(
                $"{room.Address}/reports/{report.GetProperty("id").GetString()}/moderations",
                """{ "criterion": "writtenReasoning", "points": 6, "reason": "Argues well." }""");
            await marked.JsonAsync(HttpStatusCode.Created);
            statuses.Add(Rows(await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/gradebook?grading={grading}"))[0]["status"]);
        }

        Assert.Equal(["partially graded", "fully graded"], statuses);
    }

    [Fact]
    public async Task FeedbackIsWhatTheStudentReadsAndInOneLine()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        var wrong = room.Answers["ann"] == "propanone" ? "acetophenone" : "acetone";
        var report = await room.HandInAsync(room.Ann, room.Report("ann", wrong));
        var grading = await room.GradeAsync();
        using var comment = await room.Grader.PostAsync(
            $"{room.Address}/reports/{report.GetProperty("id").GetString()}/moderations", """{ "reason": "=Well  argued." }""");
        await comment.JsonAsync(HttpStatusCode.Created);
        await room.PublishAsync(grading);

        var read = (await room.Ann.JsonAtAsync($"{room.Address}/grades")).GetProperty("items")[0];
        var feedback = Rows(await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/gradebook"))[0]["feedback"];

        Assert.All(
            read.GetProperty("lines").EnumerateArray(),
            line => Assert.Contains(line.GetProperty("sentence").GetString()!, feedback, StringComparison.Ordinal));
        Assert.EndsWith(" =Well argued.", feedback, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', feedback);
        Assert.DoesNotContain(room.Answers["ann"], feedback, StringComparison.Ordinal);
        using var own = await room.Ann.GetAsync($"{room.Address}/gradebook", Patience);
        await own.ProblemAsync(ProblemTypes.ScopeMissing);
    }

    // 1EdTech OneRoster CSV Binding 1.2 (final release of 6 June 2022), tables of manifest.csv, lineItems.csv and results.csv, as
    // https://www.imsglobal.org/spec/oneroster/v1p2/bind/csv publishes them; typed here apart from the service's own lists.
    [Fact]
    public async Task OneRosterFilesHaveTheColumnsOfTheStandardAndIdsThatStay()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        var grading = await room.GradeAsync();
        using var early = await room.Grader.GetAsync($"{room.Address}/gradebook/oneroster.zip?{Ids}", Patience);
        await early.ProblemAsync(ProblemTypes.CourseStateForbids);
        await room.PublishAsync(grading);

        var files = await FilesAsync(room);
        var book = (await room.Grader.JsonAtAsync($"{room.Address}/gradebook")).GetProperty("students");
        await room.PublishAsync(await room.GradeAsync("""{ "missingCountsZero": false }"""));
        var again = await FilesAsync(room);

        Assert.Equal(["manifest.csv", "lineItems.csv", "results.csv"], files.Keys);
        Assert.Equal(
            "sourcedId,status,dateLastModified,title,description,assignDate,dueDate,classSourcedId,categorySourcedId,academicSessionSourcedId,resultValueMin,resultValueMax,schoolSourcedId",
            files["lineItems.csv"].Split("\r\n")[0]);
        Assert.Equal(
            "sourcedId,status,dateLastModified,lineItemSourcedId,studentSourcedId,scoreStatus,score,scoreDate,comment,textScore,classSourcedId,inProgress,incomplete,late,missing",
            files["results.csv"].Split("\r\n")[0]);
        Assert.Equal(
            """
            propertyName,value
            manifest.version,1.0
            oneroster.version,1.2
            file.academicSessions,absent
            file.categories,absent
            file.classes,absent
            file.classResources,absent
            file.courses,absent
            file.courseResources,absent
            file.demographics,absent
            file.enrollments,absent
            file.lineItemLearningObjectiveIds,absent
            file.lineItems,delta
            file.lineItemScoreScales,absent
            file.orgs,absent
            file.resources,absent
            file.resultLearningObjectiveIds,absent
            file.results,delta
            file.resultScoreScales,absent
            file.roles,absent
            file.scoreScales,absent
            file.userProfiles,absent
            file.userResources,absent
            file.users,absent
            source.systemName,Derivid

            """.ReplaceLineEndings("\r\n"),
            files["manifest.csv"]);
        var item = Assert.Single(Rows(files["lineItems.csv"]));
        Assert.Equal(
            [room.Id, "active", "2026-03-14T09:26:53.000Z", "Organic practical", "", "2026-03-14", "2026-03-14", "class-1", "lab/grades", "2026.1", "0", "100", "dep@uni"],
            item.Values);
        var results = Rows(files["results.csv"]);
        Assert.Equal(["ann", "ben", "s3", "s4", "s5", "s6"], results.Select(row => row["studentSourcedId"]));
        Assert.Equal(["fully graded", .. Enumerable.Repeat("not submitted", 5)], results.Select(row => row["scoreStatus"]));
        Assert.Equal(book[0].GetProperty("percentage").GetRawText(), results[0]["score"]);
        Assert.Equal(book.EnumerateArray().Select(row => row.GetProperty("feedback").GetString()), results.Select(row => row["comment"]));
        Assert.All(results, row => Assert.Equal((room.Id, "active", "class-1", "2026-03-14"), (row["lineItemSourcedId"], row["status"], row["classSourcedId"], row["scoreDate"])));
        Assert.Equal(["0", ""], new[] { results, Rows(again["results.csv"]) }.Select(rows => rows[1]["score"]));
        Assert.Equal(results.Select(row => row["sourcedId"]), Rows(again["results.csv"]).Select(row => row["sourcedId"]));
        Assert.Equal(item["sourcedId"], Assert.Single(Rows(again["lineItems.csv"]))["sourcedId"]);
    }

    [Fact]
    public async Task IdsThatTheStandardDoesNotTakeAreRefusedByName()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();
        using var put = await room.PutAsync(
            room.Instructor, $"{room.Address}/roster", $"student,actor\r\nann,{room.AnnActor}\r\nmüller 12,\r\n", "text/csv");
        await put.JsonAsync(HttpStatusCode.OK);
        await room.HandOutAsync();
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        await room.PublishAsync(await room.GradeAsync());

        using var student = await room.Grader.GetAsync($"{room.Address}/gradebook/oneroster.zip?{Ids}", Patience);
        using var reference = await room.Grader.GetAsync($"{room.Address}/gradebook/oneroster.zip?{Ids.Replace("class-1", "class%201", StringComparison.Ordinal)}", Patience);
        using var missing = await room.Grader.GetAsync($"{room.Address}/gradebook/oneroster.zip?classSourcedId=c", Patience);

        Assert.Contains("müller 12", (string)(await student.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
        Assert.Contains("no sourcedId", (await reference.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("?classSourcedId"), StringComparison.Ordinal);
        Assert.Equal(
            ["?academicSessionSourcedId", "?categorySourcedId", "?schoolSourcedId"],
            (await missing.ProblemAsync(ProblemTypes.InvalidRequest))["errors"]!.AsObject().Select(error => error.Key));
    }

    private static async Task<Dictionary<string, string>> FilesAsync(Classroom room)
    {
        using var response = await room.Grader.GetAsync($"{room.Address}/gradebook/oneroster.zip?{Ids}", Patience);
        Assert.True(response.IsSuccessStatusCode, await response.Content.ReadAsStringAsync(Patience));
        Assert.Equal(new MediaTypeHeaderValue("application/zip"), response.Content.Headers.ContentType);
        await using var archive = new ZipArchive(await response.Content.ReadAsStreamAsync(Patience));
        var files = new Dictionary<string, string>();
        foreach (var entry in archive.Entries)
        {
            using var reader = new StreamReader(await entry.OpenAsync(Patience));
            files[entry.FullName] = await reader.ReadToEndAsync(Patience);
        }

        return files;
    }

    private static List<Dictionary<string, string>> Rows(string csv)
    {
        using var reader = new CsvReader(new StringReader(csv), CultureInfo.InvariantCulture);
        reader.Read();
        reader.ReadHeader();
        var rows = new List<Dictionary<string, string>>();
        while (reader.Read())
        {
            rows.Add(reader.HeaderRecord!.ToDictionary(name => name, name => reader[name]!));
        }

        return rows;
    }

    public sealed class OnSqlite(SqliteService service) : GradebookTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : GradebookTests(service), IClassFixture<PostgreSqlService>;
}

/// <summary>The arithmetic of a gradebook, by hand.</summary>
public sealed class GradebookRowTests
{
    // 20 of 34 and 30 of 34: 58.8235... and 88.2352..., their mean 73.5294... 20 of 34 and nothing: 29.4117...; left out: 58.8235...
    // 1 of 16 and 1 of 8: 6.25 and 12.5, their mean 9.375, to two decimals with halves up 9.38.
    [Theory]
    [InlineData("20/34 30/34", 73.53, GradebookStatus.FullyGraded)]
    [InlineData("20/34 zero", 29.41, GradebookStatus.FullyGraded)]
    [InlineData("20/34 left", 58.82, GradebookStatus.PartiallyGraded)]
    [InlineData("1/16 1/8", 9.38, GradebookStatus.FullyGraded)]
    [InlineData("zero zero", 0.0, GradebookStatus.NotSubmitted)]
    [InlineData("left left", null, GradebookStatus.NotSubmitted)]
    [InlineData("in zero", 0.0, GradebookStatus.Submitted)]
    [InlineData("in left", null, GradebookStatus.Submitted)]
    [InlineData("in 34/34", 100.0, GradebookStatus.PartiallyGraded)]
    [InlineData("", null, GradebookStatus.NoUnknown)]
    public void PercentageIsTheMeanOfTheUnknownsThatCount(string unknowns, double? percentage, GradebookStatus status)
    {
        var row = Gradebooks.Row("ann", isPractice: false, [.. unknowns.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Marked)]);

        Assert.Equal((percentage, status), (row.Percentage, row.Status));
    }

    private static MarkedUnknown Marked(string text) => text switch
    {
        "zero" => new MarkedUnknown(false, 0, true, false, ""),
        "left" => new MarkedUnknown(false, null, false, false, ""),
        "in" => new MarkedUnknown(true, null, false, false, ""),
        _ => new MarkedUnknown(true, 100 * decimal.Parse(text.Split('/')[0], CultureInfo.InvariantCulture) / decimal.Parse(text.Split('/')[1], CultureInfo.InvariantCulture), true, false, ""),
    };
}
