using System.Net;
using System.Text.Json;
using Derivid.Api.Http;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Grades changed by hand; the same on both engines.</summary>
public abstract class ModerationTests(RunningService service)
{
    private const string ByHand =
        """{ "rubric": { "name": "By hand", "farthestCelsius": 500, "rightCompound": { "points": 10 }, "rangeWidth": { "points": 4 }, "writtenReasoning": { "points": 6 } } }""";

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task LineIsChangedWithAReasonThatTheStudentReadsAfterPublication()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        var report = await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ben"]));
        var address = $"{room.Address}/reports/{report.GetProperty("id").GetString()}/moderations";
        using var early = await room.Grader.PostAsync(address, """{ "criterion": "rightCompound", "points": 5, "reason": "why" }""");
        var grading = await room.GradeAsync(ByHand);
        var before = await GradeAsync(room.Grader, room, grading);

        var made = await MadeAsync(room, address, """{ "criterion": "rightCompound", "points": 5, "reason": "The vials were swapped." }""");
        await MadeAsync(room, address, """{ "criterion": "writtenReasoning", "points": 4.5, "reason": "Argues well." }""");
        await MadeAsync(room, address, """{ "reason": "See me about the vials." }""");
        var after = await GradeAsync(room.Grader, room, grading);
        await room.PublishAsync(grading);
        var own = await GradeAsync(room.Ann, room, null);
        var csv = await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/grades");

        await early.ProblemAsync(ProblemTypes.CourseStateForbids);
        Assert.Equal(0, made.GetProperty("computed").GetDouble());

        // 0 + 4 of 14; the reasoning counts once it is marked: 5 + 4 + 4.5 of 20.
        Assert.Equal((4, 14), (before.GetProperty("total").GetDouble(), before.GetProperty("maximum").GetDouble()));
        Assert.Equal((13.5, 20), (after.GetProperty("total").GetDouble(), after.GetProperty("maximum").GetDouble()));
        Assert.Equal((13.5, 20), (own.GetProperty("total").GetDouble(), own.GetProperty("maximum").GetDouble()));
        Assert.Equal("See me about the vials.", own.GetProperty("comment").GetString());
        var line = own.GetProperty("lines").EnumerateArray().First();
        Assert.Equal("The vials were swapped.", line.GetProperty("moderation").GetProperty("reason").GetString());
        Assert.Equal(0, line.GetProperty("moderation").GetProperty("computed").GetDouble());
        Assert.EndsWith(", which is not what you were given. 0 of 10 points.", line.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.DoesNotContain("not marked yet", after.GetRawText() + own.GetRawText() + csv, StringComparison.Ordinal);
        Assert.Contains("This is marked by hand: 4.5 of 6 points. Argues well.", csv, StringComparison.Ordinal);
        Assert.Contains("of 10 points are given by hand in place of 0 points: The vials were swapped.", csv, StringComparison.Ordinal);
        Assert.Contains(",See me about the vials.,", csv, StringComparison.Ordinal);
    }

    [Fact]
    public async Task HistoryIsKeptAndGradingAgainKeepsWhatHoldsAndSaysWhatToLookAt()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        var report = await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        var id = report.GetProperty("id").GetString();
        var address = $"{room.Address}/reports/{id}/moderations";
        await room.GradeAsync(ByHand);
        await MadeAsync(room, address, """{ "criterion": "rangeWidth", "points": 1, "reason": "first" }""");
        await MadeAsync(room, address, """{ "criterion": "rangeWidth", "points": 2, "reason": "second" }""");

        var again = await room.GradeAsync(
            """{ "rubric": { "name": "Stricter", "farthestCelsius": 500, "rangeWidth": { "points": 4, "fullSpanCelsius": 0.5, "zeroSpanCelsius": 1 } } }""");
        var regraded = (await GradeAsync(room.Grader, room, again)).GetProperty("lines")[0];
        await MadeAsync(room, address, """{ "criterion": "rangeWidth", "takesBack": true }""");
        var back = (await GradeAsync(room.Grader, room, again)).GetProperty("lines")[0];
        var history = await Classroom.AllAsync(room.Grader, $"{room.Address}/moderations?report={id}&limit=2");

        Assert.Equal(2, regraded.GetProperty("points").GetDouble());
        Assert.True(regraded.GetProperty("moderation").GetProperty("isOutdated").GetBoolean());
        Assert.Equal(0, back.GetProperty("points").GetDouble());
        Assert.False(back.TryGetProperty("moderation", out _));
        Assert.Equal(
            ["first", "second", null],
            history.Select(item => item.TryGetProperty("reason", out var reason) ? reason.GetString() : null));
        Assert.Equal([4d, 4, 0], history.Select(item => item.GetProperty("computed").GetDouble()));
        Assert.All(history, item => Assert.StartsWith("key:", item.GetProperty("by").GetString(), StringComparison.Ordinal));
        Assert.Equal(3, (await Classroom.AllAsync(room.Instructor, $"{room.Address}/moderations")).Count);
        Assert.Empty(await Classroom.AllAsync(room.Instructor, $"{room.Address}/moderations?report=0123"));
    }

    [Fact]
    public async Task ChangeOfAGradingToComeIsNotSeenInTheOnePublished()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        var report = await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        var address = $"{room.Address}/reports/{report.GetProperty("id").GetString()}/moderations";
        var first = await room.GradeAsync(ByHand);
        await MadeAsync(room, address, """{ "criterion": "rangeWidth", "points": 1, "reason": "before" }""");
        await room.PublishAsync(first);
        var next = await room.GradeAsync(
            """{ "rubric": { "name": "Stricter", "farthestCelsius": 500, "rightCompound": { "points": 10 }, "rangeWidth": { "points": 4, "fullSpanCelsius": 0.5, "zeroSpanCelsius": 1 } } }""");

        var made = await MadeAsync(room, address, $$"""{ "criterion": "rangeWidth", "points": 3, "reason": "to come", "grading": "{{next}}" }""");
        await MadeAsync(room, address, $$"""{ "reason": "to come too", "grading": "{{next}}" }""");
        var seen = await GradeAsync(room.Ann, room, null);
        var coming = await GradeAsync(room.Grader, room, next);
        using var beforehand = await room.Ann.GetAsync($"{room.Address}/grades?grading={next}", Patience);

        // A change of the published one is seen at once, and holds in the one to come, where it is the last word.
        var late = await MadeAsync(room, address, """{ "criterion": "rightCompound", "points": 6, "reason": "published" }""");
        var seenAtOnce = await GradeAsync(room.Ann, room, null);
        await room.PublishAsync(next);
        var replaced = await GradeAsync(room.Ann, room, null);

        Assert.Equal(next, made.GetProperty("grading").GetString());
        Assert.Equal(first, late.GetProperty("grading").GetString());
        Assert.DoesNotContain("to come", seen.GetRawText(), StringComparison.Ordinal);
        Assert.Equal((11, 14), (seen.GetProperty("total").GetDouble(), seen.GetProperty("maximum").GetDouble()));
        Assert.Equal(13, coming.GetProperty("total").GetDouble());
        await beforehand.ProblemAsync(ProblemTypes.ScopeMissing);
        Assert.Equal(7, seenAtOnce.GetProperty("total").GetDouble());
        Assert.Equal(9, replaced.GetProperty("total").GetDouble());
        Assert.Equal("to come too", replaced.GetProperty("comment").GetString());
        Assert.All(
            replaced.GetProperty("lines").EnumerateArray().Where(line => line.TryGetProperty("moderation", out _)),
            line => Assert.False(line.GetProperty("moderation").GetProperty("isOutdated").GetBoolean()));
    }

    [Fact]
    public async Task NobodyChangesOverSomebodyElsesChangeUnseen()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        var report = await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        var address = $"{room.Address}/reports/{report.GetProperty("id").GetString()}/moderations";
        await room.GradeAsync(ByHand);

        var theirs = await MadeAsync(room, address, """{ "criterion": "rangeWidth", "points": 1, "reason": "theirs", "lastSeen": "none" }""");
        using var unseen = await room.Grader.PostAsync(address, """{ "criterion": "rangeWidth", "points": 2, "reason": "mine", "lastSeen": "none" }""");
        await MadeAsync(room, address, $$"""{ "criterion": "rangeWidth", "points": 2, "reason": "mine", "lastSeen": "{{theirs.GetProperty("id").GetString()}}" }""");
        await MadeAsync(room, address, """{ "criterion": "rangeWidth", "points": 3, "reason": "not asked" }""");
        var last = (await Classroom.AllAsync(room.Grader, $"{room.Address}/moderations"))[^1].GetProperty("id").GetString();
        var tries = await Task.WhenAll(Enumerable.Range(0, 6).Select(n => room.Grader.PostAsync(
            address, $$"""{ "criterion": "rangeWidth", "points": 4, "reason": "at once {{n}}", "lastSeen": "{{last}}" }""")));

        await unseen.ProblemAsync(ProblemTypes.StaleRevision);
        Assert.Single(tries, response => response.StatusCode == HttpStatusCode.Created);
        Assert.Equal(5, tries.Count(response => response.StatusCode == HttpStatusCode.PreconditionFailed));
        Assert.Equal(4, (await Classroom.AllAsync(room.Grader, $"{room.Address}/moderations")).Count);
        Array.ForEach(tries, response => response.Dispose());
    }

    [Theory]
    [InlineData("""{ "criterion": "rangeWidth", "points": 4.5, "reason": "r" }""", "/points", "4.5 is not allowed here; from 0 to 4 are.")]
    [InlineData("""{ "criterion": "writtenReasoning", "points": -1, "reason": "r" }""", "/points", "from 0 to 6 are.")]
    [InlineData("""{ "criterion": "rangeWidth", "points": 4 }""", "/reason", "the student is told why")]
    [InlineData("""{ "criterion": "rangeWidth", "points": 4, "reason": "  " }""", "/reason", "the student is told why")]
    [InlineData("""{ "criterion": "lateness", "points": 0, "reason": "r" }""", "/criterion", "allowed: rightCompound, rangeWidth, writtenReasoning.")]
    [InlineData("""{ "points": 4, "reason": "r" }""", "/points", "Belong to a criterion")]
    [InlineData("""{ "criterion": "rangeWidth", "reason": "r" }""", "/points", "say takesBack")]
    [InlineData("""{ "criterion": "rangeWidth", "points": 1, "reason": "r", "takesBack": true }""", "/points", "leave out one")]
    [InlineData("""{ }""", "/reason", "the student is told why")]
    [InlineData("""{ "reason": "  " }""", "/reason", "the student is told why")]
    [InlineData("""{ "criterion": "colour" }""", "/criterion", "colour")]
    [InlineData("""{ "criterion": "rangeWidth", "takesBack": true }""", "/takesBack", "Nothing is given here")]
    [InlineData("""{ "takesBack": true }""", "/takesBack", "Nothing is given here")]
    public async Task WhatCannotBeGivenIsNamed(string request, string place, string part)
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, others: 0);
        var report = await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        await room.GradeAsync(ByHand);

        using var refused = await room.Grader.PostAsync(
            $"{room.Address}/reports/{report.GetProperty("id").GetString()}/moderations", request);

        Assert.Contains(part, (await refused.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt(place), StringComparison.Ordinal);
        Assert.Empty(await Classroom.AllAsync(room.Grader, $"{room.Address}/moderations"));
    }

    [Fact]
    public async Task SentTwiceCountsOnceAndOtherReportsAreAsIfNotThere()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        var report = await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        var address = $"{room.Address}/reports/{report.GetProperty("id").GetString()}/moderations";
        await room.GradeAsync(ByHand);

        var first = await SendAsync(room, address, HttpStatusCode.Created);
        var second = await SendAsync(room, address, HttpStatusCode.OK);
        using var elsewhere = await room.Grader.PostAsync($"{room.Address}/reports/0123456789abcdef/moderations", """{ "reason": "r" }""");
        using var student = await room.Ann.PostAsync(address, """{ "reason": "r" }""");

        Assert.Equal(first.GetRawText(), second.GetRawText());
        Assert.Single(await Classroom.AllAsync(room.Grader, $"{room.Address}/moderations"));
        await elsewhere.ProblemAsync(ProblemTypes.NotFound);
        await student.ProblemAsync(ProblemTypes.ScopeMissing);
    }

    private static async Task<JsonElement> SendAsync(Classroom room, string address, HttpStatusCode expected)
    {
        using var message = new HttpRequestMessage(HttpMethod.Post, address)
        {
            Content = Requests.Json("""{ "criterion": "rangeWidth", "points": 1, "reason": "once" }"""),
        };
        message.Headers.Add("Idempotency-Key", "by hand");
        using var response = await room.Grader.SendAsync(message, Patience);
        return await response.JsonAsync(expected);
    }

    private static async Task<JsonElement> MadeAsync(Classroom room, string address, string request)
    {
        using var made = await room.Grader.PostAsync(address, request);
        return await made.JsonAsync(HttpStatusCode.Created);
    }

    private static async Task<JsonElement> GradeAsync(HttpClient client, Classroom room, string? grading) =>
        (await client.JsonAtAsync($"{room.Address}/grades{(grading is null ? "" : $"?grading={grading}")}"))
            .GetProperty("items").EnumerateArray().Single(item => item.GetProperty("student").GetString() == "ann" && item.TryGetProperty("total", out _));

    public sealed class OnSqlite(SqliteService service) : ModerationTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : ModerationTests(service), IClassFixture<PostgreSqlService>;
}
