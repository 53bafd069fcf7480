using System.IO.Compression;
using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Http;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Students who share their unknowns and hand in one report; the same on both engines.</summary>
/// <remarks>
/// The clock of the service stands at 09:26:53 UTC, and reports are due at 09:00:00. The rubric gives 10 for the compound, takes 3 a day
/// begun and 2 an attempt beyond the first.
/// </remarks>
public abstract class GroupTests(RunningService service)
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

    // Ann and ben, s3 and s4 (the Stranger is s3), three, two and two more, and two who work alone.
    private static readonly (string Student, string? Group)[] Class =
    [
        ("ann", "A"), ("ben", "A"), ("s3", "B"), ("s4", "B"), ("s5", "C"), ("s6", "C"), ("s7", "C"), ("s8", null), ("s9", "D"), ("t1", "D"),
        ("t2", null), ("t3", "E"), ("t4", "E"),
    ];

    // What a report has that tells whose it is.
    private static readonly string[] Naming = ["student", "group", "members", "assignment"];

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    // Ten reports, of each unknown the best counts:
    //  1 A, by ann, right: ben has until 10:00, so the group is in time: 10.
    //  2 A, by ben, wrong, the second: 0 - 2, never below 0: 0. So ann and ben have 10.
    //  3 B, by s3, wrong, late by a day begun: 0 - 3: 0.
    //  4 B, for s4, right, the second, late: 10 - 2 - 3 = 5. So s3 and s4 have 5.
    //  5 C, for s5, right, late: 10 - 3 = 7. Of it s6 is given 4 of 10 for the compound: 4 - 3 = 1. So s5 and s7 have 7, s6 has 1.
    //  6 s8, alone, right, late: 7.
    //  7 D, for s9, right, late although t1 has until 09:20: 7.
    //  8 D, for t1, right, the second, late: 10 - 2 - 3 = 5. Of it t1 has no points taken for lateness: 10 - 2 = 8. So s9 has 7 by the
    //    first, t1 has 8 by the second.
    //  9 t2, alone, right, late: 7.
    // 10 t2, wrong, the second, late: 0 - 2 - 3: 0. So t2 has 7.
    // E hands in nothing: 0 each. In per cent of 10 points ten times that.
    [Fact]
    public async Task TenReportsAreGradedByHandAndCountForEveryMember()
    {
        await using var room = await RoomAsync(course => course["countedAttempt"] = "best");
        await ExtendAsync(room, ("ben", "2026-03-14T10:00:00Z"), ("t1", "2026-03-14T09:20:00Z"));
        var reports = new List<string>();
        foreach (var (student, isRight) in new[]
        {
            ("ann", true), ("ben", false), ("s3", false), ("s4", true), ("s5", true), ("s8", true), ("s9", true), ("t1", true), ("t2", true), ("t2", false),
        })
        {
            var client = student switch { "ann" => room.Ann, "ben" => room.Ben, "s3" => room.Stranger, _ => room.Grader };
            var report = await room.HandInAsync(client, room.Report(student, isRight ? room.Answers[student] : Wrong(room.Answers[student])));
            reports.Add(report.GetProperty("id").GetString()!);
        }

        var grading = await room.GradeAsync();
        await ModerateAsync(room, reports[4], """{ "student": "s6", "criterion": "rightCompound", "points": 4, "reason": "Left early" }""");
        await ModerateAsync(room, reports[7], """{ "student": "t1", "criterion": "lateness", "points": 0, "reason": "Was ill" }""");
        await room.PublishAsync(grading);

        var rows = await Classroom.AllAsync(room.Grader, $"{room.Address}/grades?limit=1");
        var points = rows.Select(row => (1 + reports.IndexOf(Text(row, "report")), Text(row, "student"), row.GetProperty("total").GetDouble())).Order();
        var counting = rows.Where(row => row.GetProperty("counts").GetBoolean())
            .ToDictionary(row => Text(row, "student"), row => row.GetProperty("attempt").GetInt32());
        var book = (await room.Grader.JsonAtAsync($"{room.Address}/gradebook")).GetProperty("students").EnumerateArray().ToDictionary(row => Text(row, "student"));

        Assert.Equal(
            [
                (1, "ann", 10), (1, "ben", 10), (2, "ann", 0), (2, "ben", 0),
                (3, "s3", 0), (3, "s4", 0), (4, "s3", 5), (4, "s4", 5),
                (5, "s5", 7), (5, "s6", 1), (5, "s7", 7),
                (6, "s8", 7),
                (7, "s9", 7), (7, "t1", 7), (8, "s9", 5), (8, "t1", 8),
                (9, "t2", 7), (10, "t2", 0),
            ],
            points);
        Assert.Equal(
            [("ann", 1), ("ben", 1), ("s3", 2), ("s4", 2), ("s5", 1), ("s6", 1), ("s7", 1), ("s8", 1), ("s9", 1), ("t1", 2), ("t2", 1)],
            counting.Select(pair => (pair.Key, pair.Value)).Order());
        Assert.Equal(
            [("ann", 100), ("ben", 100), ("s3", 50), ("s4", 50), ("s5", 70), ("s6", 10), ("s7", 70), ("s8", 70), ("s9", 70), ("t1", 80), ("t2", 70), ("t3", 0), ("t4", 0)],
            book.Values.Select(row => (Text(row, "student"), row.GetProperty("percentage").GetDouble())));
        Assert.Equal(["t3", "t4"], book.Values.Where(row => row.GetProperty("isMissing").GetBoolean()).Select(row => Text(row, "student")));
        Assert.False(book["ann"].GetProperty("isLate").GetBoolean());

        // Each reads their own line, and nobody that of another member.
        var own = (await Classroom.AllAsync(room.Ben, $"{room.Address}/grades")).Select(row => (Text(row, "student"), row.GetProperty("total").GetDouble()));
        Assert.Equal([("ben", 10), ("ben", 0)], own);
        Assert.Contains("Left early", book["s6"].GetProperty("feedback").GetString(), StringComparison.Ordinal);
        Assert.DoesNotContain("Left early", book["s5"].GetProperty("feedback").GetString(), StringComparison.Ordinal);

        // A learning system gets everybody, too.
        using var zip = new ZipArchive(new MemoryStream(await room.Grader.GetByteArrayAsync(
            $"{room.Address}/gradebook/oneroster.zip?classSourcedId=c&categorySourcedId=g&academicSessionSourcedId=t&schoolSourcedId=s", Patience)));
        using var results = new StreamReader(zip.GetEntry("results.csv")!.Open());
        Assert.Equal(1 + Class.Length, (await results.ReadToEndAsync(Patience)).TrimEnd().Split("\r\n").Length);
    }

    [Fact]
    public async Task GroupSharesItsUnknownAndHasOneVial()
    {
        await using var room = await RoomAsync();

        Assert.Equal(7, room.Codes.Values.Distinct().Count());
        Assert.All(Class.Where(each => each.Group is not null).GroupBy(each => each.Group), group =>
            Assert.Single(group.Select(each => (room.Codes[each.Student], room.Answers[each.Student])).Distinct()));
        var labels = await room.Instructor.GetStringAsync($"{room.Address}/labels", Patience);
        var filling = await room.Grader.JsonAtAsync($"{room.Address}/filling-list");
        var rows = await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/assignments");

        Assert.Equal(7, labels.Split("<li>").Length - 1);
        Assert.Contains("<span>C: s5, s6, s7</span>", labels, StringComparison.Ordinal);
        Assert.Contains("<span>s8</span>", labels, StringComparison.Ordinal);
        Assert.Equal(7, filling.GetProperty("items").EnumerateArray().Sum(item => item.GetProperty("vials").GetInt32()));
        Assert.Contains($"{room.Codes["ben"]},ben,1,A\r\n", rows, StringComparison.Ordinal);
        Assert.Equal("A", Text(Assert.Single(await Classroom.AllAsync(room.Ben, $"{room.Address}/assignments")), "group"));
    }

    // What any member writes is the draft of all; whoever reads it is told nobody else's identifier, and to others it isn't there.
    [Fact]
    public async Task GroupWritesOneReportAndNobodyElseReadsIt()
    {
        await using var room = await RoomAsync();
        var draft = await room.HandInAsync(room.Ann, room.Report("ann", "acetone", isDraft: true));
        var address = $"{room.Address}/reports/{Text(draft, "id")}";
        using var second = await room.Ben.PostAsync($"{room.Address}/reports", room.Report("ben", "acetone", isDraft: true));
        var read = await room.Ben.JsonAtAsync(address);
        using var stranger = await room.Stranger.GetAsync(address, Patience);
        using var nothing = await room.Stranger.GetAsync($"{room.Address}/reports/{new string('0', 32)}", Patience);
        using var changing = await ChangeAsync(room.Stranger, address, room.Report("ann", "acetone"));
        using var foreign = await room.Stranger.PostAsync($"{room.Address}/reports", room.Report("ann", "acetone"));
        using var ranking = await room.Stranger.GetAsync($"{address}/ranking", Patience);
        using var handedIn = await room.PutAsync(room.Ben, address, room.Report("ben", room.Answers["ben"]));
        var whole = await handedIn.JsonAsync(HttpStatusCode.OK);
        var staffs = await room.Grader.JsonAtAsync(address);

        Assert.Contains("is open", (string)(await second.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
        Assert.Equal(("ben", "A", true, room.Codes["ann"]), (Text(read, "student"), Text(read, "group"), read.GetProperty("isDraft").GetBoolean(), Text(read, "assignment")));
        Assert.DoesNotContain("\"ann\"", read.GetRawText(), StringComparison.Ordinal);
        Assert.DoesNotContain("\"ann\"", whole.GetRawText(), StringComparison.Ordinal);
        Assert.False(read.TryGetProperty("members", out _));
        await stranger.ProblemAsync(ProblemTypes.NotFound);
        Assert.Equal(
            (string)(await nothing.ProblemAsync(ProblemTypes.NotFound))["detail"]!,
            ((string)(await stranger.ProblemAsync(ProblemTypes.NotFound))["detail"]!).Replace(Text(draft, "id"), new string('0', 32), StringComparison.Ordinal));
        await changing.ProblemAsync(ProblemTypes.NotFound);
        await ranking.ProblemAsync(ProblemTypes.NotFound);
        Assert.Contains("is yours", (await foreign.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/assignment"), StringComparison.Ordinal);
        Assert.Empty(await Classroom.AllAsync(room.Stranger, $"{room.Address}/reports"));
        Assert.Equal(["ann", "ben"], staffs.GetProperty("members").EnumerateArray().Select(member => member.GetString()));
        Assert.Equal(("ann", false), (Text(staffs, "student"), staffs.GetProperty("isDraft").GetBoolean()));
        Assert.Equal("2026-03-14T09:26:53Z", Text(Assert.Single(await Classroom.AllAsync(room.Ann, $"{room.Address}/reports")), "handedInAt"));
    }

    // A draft of the first hand-out is of those who shared its unknown then: ann's new partner reads nothing of it, ben goes on reading it.
    [Fact]
    public async Task WhoJoinsAGroupReadsNothingThatItWroteBefore()
    {
        await using var room = await RoomAsync();
        var draft = await room.HandInAsync(room.Ann, room.Report("ann", "acetone", isDraft: true));
        var address = $"{room.Address}/reports/{Text(draft, "id")}";
        await PutRosterAsync(room, [("ann", "A"), ("ben", "B"), ("s3", "A"), ("s4", "B"), .. Class.Skip(4)]);

        // Until unknowns are handed out anew all is as it was.
        Assert.Equal(room.Codes["ann"], Text(Assert.Single(await Classroom.AllAsync(room.Ben, $"{room.Address}/assignments")), "code"));
        await room.Ben.JsonAtAsync(address);
        await room.HandOutAsync("another seed, long enough too");

        Assert.Equal(room.Codes["ann"], room.Codes["s3"]);
        Assert.Equal(room.Codes["ben"], room.Codes["s4"]);
        using var joined = await room.Stranger.GetAsync(address, Patience);
        await joined.ProblemAsync(ProblemTypes.NotFound);
        await room.Ben.JsonAtAsync(address);
        await room.Ann.JsonAtAsync(address);
        Assert.Empty(await Classroom.AllAsync(room.Stranger, $"{room.Address}/reports"));
    }

    // One attempt for the group: whoever comes first has used it, and the other is told so.
    [Fact]
    public async Task OfTwoMembersWhoHandInAtOnceOneIsTaken()
    {
        await using var room = await RoomAsync(course => course["mostAttempts"] = 1);

        var answers = await Task.WhenAll(
            room.Ann.PostAsync($"{room.Address}/reports", room.Report("ann", "acetone")),
            room.Ben.PostAsync($"{room.Address}/reports", room.Report("ben", "2-butanone")));

        var refused = Assert.Single(answers, answer => answer.StatusCode != HttpStatusCode.Created);
        Assert.Contains("no attempt is left", (string)(await refused.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
        Assert.Single(await Classroom.AllAsync(room.Grader, $"{room.Address}/reports"));
        foreach (var answer in answers)
        {
            answer.Dispose();
        }
    }

    [Fact]
    public async Task ReportHeldOpenOverANewHandOutToOtherGroupsIsRefused()
    {
        await using var room = await RoomAsync();
        var draft = await room.HandInAsync(room.Ann, room.Report("ann", "acetone", isDraft: true));
        var address = $"{room.Address}/reports/{Text(draft, "id")}";
        using var tagged = await room.Ben.GetAsync(address, Patience);
        var release = new TaskCompletionSource();
        using var making = new HttpRequestMessage(HttpMethod.Post, $"{room.Address}/reports");
        using var changing = new HttpRequestMessage(HttpMethod.Put, address);
        changing.Headers.IfMatch.Add(tagged.Headers.ETag!);
        var made = await service.Service.Held.SendAsync(room.Stranger, making, room.Report("s3", "acetone"), release.Task);
        var changed = await service.Service.Held.SendAsync(room.Ben, changing, room.Report("ben", "acetone"), release.Task);

        await PutRosterAsync(room, [("ann", "A"), ("ben", "B"), ("s3", "A"), ("s4", "B"), .. Class.Skip(4)]);
        await room.HandOutAsync("another seed, long enough too");
        release.SetResult();

        using var first = await made;
        using var second = await changed;
        Assert.Contains("No unknown with the code", (await first.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/assignment"), StringComparison.Ordinal);
        Assert.Contains("No unknown with the code", (await second.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/assignment"), StringComparison.Ordinal);
        Assert.Empty(await Classroom.AllAsync(room.Grader, $"{room.Address}/reports"));
    }

    // Closed at 09:10:00; ben has until 10:00:00, and so has ann, until he falls out of the roster. What they handed in stays the group's.
    [Fact]
    public async Task LatestExtensionOfItsMembersIsTheGroupsAndWhoLeavesTakesTheirsAlong()
    {
        await using var room = await RoomAsync(course => course["closesAt"] = "2026-03-14T09:10:00Z");
        await ExtendAsync(room, ("ben", "2026-03-14T10:00:00Z"));
        var report = await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        Assert.Equal("2026-03-14T10:00:00Z", Text(await room.Ann.JsonAtAsync(room.Address), "extendedTo"));

        var without = new JsonObject { ["students"] = Students([.. Class.Where(each => each.Student != "ben")]) }.ToJsonString();
        using (var refused = await room.PutAsync(room.Instructor, $"{room.Address}/roster", without))
        {
            Assert.Contains(
                "Unknowns are handed out to them, with 1 report handed in.",
                (await refused.ProblemAsync(ProblemTypes.RosterDropsStudents)).MessageAt("/students"), StringComparison.Ordinal);
        }

        using (var dropped = await room.PutAsync(room.Instructor, $"{room.Address}/roster?dropsStudents=true", without))
        {
            await dropped.JsonAsync(HttpStatusCode.OK);
        }

        using var late = await room.Ann.PostAsync($"{room.Address}/reports", room.Report("ann", room.Answers["ann"]));
        using var gone = await room.Ben.GetAsync($"{room.Address}/reports", Patience);
        var own = Assert.Single(await Classroom.AllAsync(room.Ann, $"{room.Address}/reports"));

        Assert.Contains("took reports until 2026-03-14T09:10:00Z", (string)(await late.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
        await gone.ProblemAsync(ProblemTypes.NotFound);
        Assert.Equal(Text(report, "id"), Text(own, "id"));

        // Without ben's extension it is late by a day begun: 10 - 3 = 7.
        var grading = await room.GradeAsync();
        Assert.Equal(
            [7.0, 7.0],
            (await Classroom.AllAsync(room.Grader, $"{room.Address}/grades?grading={grading}")).Select(row => row.GetProperty("total").GetDouble()));
        Assert.Equal(
            [("ann", 70)],
            (await room.Grader.JsonAtAsync($"{room.Address}/gradebook?grading={grading}")).GetProperty("students").EnumerateArray()
                .Where(row => row.GetProperty("percentage").GetDouble() > 0).Select(row => (Text(row, "student"), row.GetProperty("percentage").GetDouble())));
    }

    // The first of the group leaves: its reports are still kept under them, and the others go on.
    [Fact]
    public async Task GroupGoesOnWhenItsFirstMemberLeaves()
    {
        await using var room = await RoomAsync();
        await room.HandInAsync(room.Ann, room.Report("ann", Wrong(room.Answers["ann"])));
        await PutRosterAsync(room, [.. Class.Where(each => each.Student != "ann")]);

        var second = await room.HandInAsync(room.Ben, room.Report("ben", room.Answers["ben"]));
        var grading = await room.GradeAsync("""{ "students": ["ben"] }""");
        var book = (await room.Grader.JsonAtAsync($"{room.Address}/gradebook?grading={grading}")).GetProperty("students")[0];

        // Right, the second, late: 10 - 2 - 3 = 5.
        Assert.Equal(2, second.GetProperty("attempt").GetInt32());
        Assert.Equal(("ben", 50), (Text(book, "student"), book.GetProperty("percentage").GetDouble()));
        Assert.Equal(2, (await Classroom.AllAsync(room.Ben, $"{room.Address}/reports")).Count);
    }

    [Fact]
    public async Task GroupMarkedAnonymouslyHasOneCodeAndNoNames()
    {
        await using var room = await RoomAsync(course => course["isMarkedAnonymously"] = true);
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        await room.HandInAsync(room.Ben, room.Report("ben", room.Answers["ben"]));
        await room.HandInAsync(room.Stranger, room.Report("s3", room.Answers["s3"]));
        var grading = await room.GradeAsync();
        var marked = await Classroom.AllAsync(room.Grader, $"{room.Address}/grades?grading={grading}&limit=1");
        var reports = await Classroom.AllAsync(room.Grader, $"{room.Address}/reports");
        var overview = (await room.Grader.JsonAtAsync($"{room.Address}/overview")).GetRawText();
        using var single = await room.Grader.PostAsync(
            $"{room.Address}/reports/{Text(marked[0], "report")}/moderations", """{ "student": "ben", "criterion": "rightCompound", "points": 0, "reason": "No" }""");

        Assert.Equal(2, marked.Count);
        Assert.Equal(2, reports.Select(report => Text(report, "markingCode")).Distinct().Count());
        Assert.Equal([2, 1], reports.GroupBy(report => Text(report, "markingCode")).Select(group => group.Count()).OrderDescending());
        Assert.All(reports, report => Assert.All(Naming, name => Assert.False(report.TryGetProperty(name, out _), name)));
        Assert.DoesNotContain("\"ben\"", overview, StringComparison.Ordinal);
        Assert.DoesNotContain(" + ", overview, StringComparison.Ordinal);
        Assert.Contains("nobody is told who they are", (string)(await single.ProblemAsync(ProblemTypes.Withheld))["detail"]!, StringComparison.Ordinal);

        await room.PublishAsync(grading);
        var told = await Classroom.AllAsync(room.Grader, $"{room.Address}/grades");
        Assert.Equal(["ann", "ben", "s3", "s4"], told.Select(grade => Text(grade, "student")).Order(StringComparer.Ordinal));
        Assert.Equal(
            marked.Select(grade => (Text(grade, "markingCode"), grade.GetProperty("total").GetDouble())).Order(),
            told.Select(grade => (Text(grade, "markingCode"), grade.GetProperty("total").GetDouble())).Distinct().Order());
    }

    // Two reports of one group say the same, and are no copies; those of two groups that do are named by all their members.
    [Fact]
    public async Task MembersOfAGroupAreNoCopiesOfOneAnother()
    {
        await using var room = await RoomAsync();
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        await room.HandInAsync(room.Ben, room.Report("ben", "acetone"));
        var alone = (await room.Grader.JsonAtAsync($"{room.Address}/overview")).GetProperty("signals");
        await room.HandInAsync(room.Stranger, room.Report("s3", "acetone"));

        var signals = (await room.Grader.JsonAtAsync($"{room.Address}/overview")).GetProperty("signals");

        Assert.DoesNotContain(alone.EnumerateArray(), signal => Text(signal, "kind") == "identicalReadings");
        var copied = Assert.Single(signals.EnumerateArray(), signal => Text(signal, "kind") == "identicalReadings");
        Assert.Equal(["ann + ben", "s3 + s4"], copied.GetProperty("studentKeys").EnumerateArray().Select(key => key.GetString()));
    }

    [Fact]
    public async Task PracticeTellsEveryMemberOnceOneHasHandedIn()
    {
        await using var room = await RoomAsync(course => course["isPractice"] = true);
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));

        Assert.Equal(room.Answers["ben"], Text(Assert.Single(await Classroom.AllAsync(room.Ben, $"{room.Address}/reports")), "handedOutParent"));
        Assert.Empty(await Classroom.AllAsync(room.Stranger, $"{room.Address}/reports"));
    }

    [Theory]
    [InlineData("student,group\na,Night\nb,night\n", "differ in upper and lower case only")]
    [InlineData("student,group\na,Two  spaces\nb,X\n", "can't be the name of a group")]
    public async Task GroupsThatCouldBeTakenForOneAnotherAreRefused(string csv, string reason)
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();

        using var put = await room.PutAsync(room.Instructor, $"{room.Address}/roster", csv, "text/csv");

        Assert.Contains(reason, (await put.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt(""), StringComparison.Ordinal);
    }

    [Fact]
    public async Task GroupsComeWithTheRosterAreToldOfAndComeBackAsTheyWere()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();
        const string Csv = "student,bench,place,neighbours,actor,group\r\na,,,,,X\r\nb,,,,,X\r\nc,,,,,\r\n";

        using var put = await room.PutAsync(room.Instructor, $"{room.Address}/roster", Csv, "text/csv");
        var taken = await put.JsonAsync(HttpStatusCode.OK);
        var back = await Classroom.CsvAtAsync(room.Instructor, $"{room.Address}/roster");
        await room.HandOutAsync();
        using var moved = await room.PutAsync(room.Instructor, $"{room.Address}/roster", Csv.Replace("c,,,,,", "c,,,,,X", StringComparison.Ordinal), "text/csv");
        var remarks = (await moved.JsonAsync(HttpStatusCode.OK)).GetProperty("remarks").EnumerateArray().Select(remark => remark.GetString()!).ToList();

        Assert.StartsWith("1 group of 2 students", taken.GetProperty("remarks")[0].GetString(), StringComparison.Ordinal);
        Assert.Equal(Csv, back);
        Assert.Contains(remarks, remark => remark.EndsWith("In other groups from the next hand-out on: c.", StringComparison.Ordinal));
        Assert.NotEqual(room.Codes["a"], room.Codes["c"]);
        await room.HandOutAsync("another seed, long enough too");
        Assert.Single(room.Codes.Values.Distinct());
    }

    [Fact]
    public async Task WhatIsForAMemberIsForOneOfTheGroup()
    {
        await using var room = await RoomAsync();
        var report = Text(await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"])), "id");
        await room.GradeAsync();
        var address = $"{room.Address}/reports/{report}/moderations";
        await ModerateAsync(room, report, """{ "student": "ben", "criterion": "rightCompound", "points": 4, "reason": "Left early" }""");

        using var foreign = await room.Grader.PostAsync(address, """{ "student": "s3", "criterion": "rightCompound", "points": 4, "reason": "No" }""");
        using var groups = await room.Grader.PostAsync(address, """{ "criterion": "rightCompound", "takesBack": true }""");
        using var own = await room.Grader.PostAsync(address, """{ "student": "ben", "criterion": "rightCompound", "takesBack": true }""");

        Assert.Contains("none of those whose report it is", (await foreign.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/student"), StringComparison.Ordinal);
        Assert.NotEmpty((await groups.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/takesBack"));
        Assert.Equal("ben", Text(await own.JsonAsync(HttpStatusCode.Created), "student"));
    }

    private async Task<Classroom> RoomAsync(Action<JsonObject>? change = null)
    {
        var course = JsonNode.Parse(Classroom.Course)!.AsObject();
        course["rubric"] = JsonNode.Parse(Rubric);
        course["dueAt"] = "2026-03-14T09:00:00Z";
        change?.Invoke(course);
        var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync(course.ToJsonString());
        await PutRosterAsync(room, Class);
        await room.EnrolAsync("ann", room.AnnActor);
        await room.EnrolAsync("ben", room.BenActor);
        await room.EnrolAsync("s3", await Classroom.ActorAsync(room.Stranger));
        await room.HandOutAsync();
        return room;
    }

    private static async Task PutRosterAsync(Classroom room, (string Student, string? Group)[] students)
    {
        using var put = await room.PutAsync(
            room.Instructor, $"{room.Address}/roster?dropsStudents=true", new JsonObject { ["students"] = Students(students) }.ToJsonString());
        await put.JsonAsync(HttpStatusCode.OK);
    }

    private static JsonArray Students((string Student, string? Group)[] students) =>
        [.. students.Select((each, place) => new JsonObject { ["student"] = each.Student, ["bench"] = "1", ["place"] = place, ["group"] = each.Group })];

    private static async Task ExtendAsync(Classroom room, params (string Student, string Due)[] extensions)
    {
        using var put = await room.PutAsync(room.Instructor, $"{room.Address}/extensions", new JsonObject
        {
            ["extensions"] = new JsonArray([.. extensions.Select(each => new JsonObject { ["student"] = each.Student, ["dueAt"] = each.Due })]),
        }.ToJsonString());
        await put.JsonAsync(HttpStatusCode.OK);
    }

    private static async Task ModerateAsync(Classroom room, string report, string moderation)
    {
        using var made = await room.Grader.PostAsync($"{room.Address}/reports/{report}/moderations", moderation);
        await made.JsonAsync(HttpStatusCode.Created);
    }

    // With whatever ETag: whoever can't read it knows none.
    private static async Task<HttpResponseMessage> ChangeAsync(HttpClient client, string address, string json)
    {
        using var request = new HttpRequestMessage(HttpMethod.Put, address) { Content = Requests.Json(json) };
        request.Headers.IfMatch.ParseAdd("\"1\"");
        return await client.SendAsync(request, Patience);
    }

    private static string Wrong(string parent) => parent == "acetophenone" ? "hexanal" : "acetophenone";

    private static string Text(JsonElement element, string name) => element.GetProperty(name).GetString()!;

    public sealed class OnSqlite(SqliteService service) : GroupTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : GroupTests(service), IClassFixture<PostgreSqlService>;
}
