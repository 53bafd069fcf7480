using System.Diagnostics;
using System.Net.Http.Headers;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Derivid.Store;
using Derivid.Testing;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Derivid.Api.Tests.Teaching;

/// <summary>An unknown's answer cannot be got by a student.</summary>
/// <remarks>
/// What is inside the vials is exchanged behind the service's back, and everything a student can ask is asked before and
/// after: were anything to depend on the answer, by any route, the two would differ.
/// </remarks>
[Collection(nameof(Alone))]
public sealed partial class IdentitySecrecyTests(SqliteService service)
{
    private static readonly string[] Accepts = ["application/json", "text/csv", "text/html", "application/x-ndjson", "*/*"];

    private static readonly string[] Queries = ["", "?identities=true", "?student=ann", "?limit=500"];

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task EverythingAStudentCanAskIsAnsweredAlikeWhateverIsInside()
    {
        await using var room = await RoomAsync(service.Service);
        var before = await AskEverythingAsync(room);
        await ExchangeIdentitiesAsync(room);
        var after = await AskEverythingAsync(room);

        Assert.True(before.Count > 300, $"{before.Count} questions");
        AssertAlike(before, after);
    }

    // Ann has handed in and Ben has a draft: hers is told to her, his to nobody, and hers not to him.
    [Fact]
    public async Task PracticeTellsWhoeverHasHandedInWhatTheirUnknownWasAndNobodyElse()
    {
        await using var room = await RoomAsync(service.Service, isPractice: true);
        var before = await AskEverythingAsync(room);
        await ExchangeIdentitiesAsync(room);
        var after = await AskEverythingAsync(room);
        var told = before.Keys.Where(question => before[question] != after[question]).ToList();

        Assert.Equal(before.Keys, after.Keys);
        Assert.NotEmpty(told);
        Assert.All(told, question => Assert.Matches($"^ann (get|GET) .*{room.Address}/reports(/[0-9a-f]+)?([?].*)?$", question));
        Assert.All(told, question => Assert.Equal(
            before[question].Replace(room.Answers["ann"], room.Answers["ben"], StringComparison.Ordinal),
            after[question].Replace(room.Answers["ann"], room.Answers["ben"], StringComparison.Ordinal)));
    }

    [Fact]
    public async Task ReportsAreTakenAlikeWhateverIsInside()
    {
        await using var room = await RoomAsync(service.Service);
        var before = await ReportAsync(room);
        await ExchangeIdentitiesAsync(room);
        var after = await ReportAsync(room);

        Assert.Equal(before, after);
    }

    [Fact]
    public async Task ReleasedGradesNameNoCompoundTheStudentDidNotName()
    {
        await using var room = await RoomAsync(service.Service);
        await room.PublishAsync(await room.GradeAsync());
        var json = (await room.Ann.JsonAtAsync($"{room.Address}/grades")).GetRawText();
        var csv = await Classroom.CsvAtAsync(room.Ann, $"{room.Address}/grades");

        // Ann claimed another compound than hers.
        Assert.DoesNotContain(room.Answers["ann"], json, StringComparison.Ordinal);
        Assert.DoesNotContain(room.Answers["ann"], csv, StringComparison.Ordinal);
        Assert.DoesNotContain("\"student\":\"ben\"", json, StringComparison.Ordinal);
    }

    [Fact]
    public async Task LogsAndAuditHoldNoAnswerAndNoSeed()
    {
        const string Seed = "a seed that must not be logged";
        await using var database = new SqliteDatabase();
        await using var alone = new ServiceUnderTest(database.ConnectionString) { Logged = LogLevel.Trace };
        (await alone.StartAsync()).Dispose();
        await using var room = await RoomAsync(alone, Seed);
        await room.PublishAsync(await room.GradeAsync());
        using var administrator = alone.ClientWith(ServiceUnderTest.AdministratorKey);
        var audit = (await administrator.JsonAtAsync("/api/v1/audit?limit=500")).GetRawText();
        var log = string.Join('\n', alone.Log.Lines);

        Assert.Contains($"courses/{room.Id}/hand-outs/1", audit, StringComparison.Ordinal);
        Assert.NotEmpty(log);
        Assert.All(
            [Seed, .. room.Answers.Values.Distinct()],
            secret => Assert.DoesNotContain(secret, audit + log, StringComparison.Ordinal));
    }

    [Fact]
    public async Task PublishedExamplesForStudentsHoldNoAnswer()
    {
        using var response = await service.Client.GetAsync("/swagger/v1/swagger.json", Patience);
        var document = JsonNode.Parse(await response.Content.ReadAsStringAsync(Patience))!;
        var forStudents = document["paths"]!.AsObject()
            .Where(path => path.Key.StartsWith("/api/v1/courses", StringComparison.Ordinal))
            .SelectMany(path => path.Value!.AsObject())
            .Where(operation => ((string?)operation.Value!["description"])!.EndsWith("Needs the role student.", StringComparison.Ordinal))
            .ToList();

        Assert.NotEmpty(forStudents);
        Assert.All(forStudents, operation =>
            Assert.DoesNotContain("\"parent\":\"", operation.Value!["responses"]!.ToJsonString(), StringComparison.Ordinal));
    }

    [Fact]
    public async Task TimeToTakeAReportDoesNotDependOnTheClaim()
    {
        await using var room = await RoomAsync(service.Service);
        var told = new List<string>();

        // What depends on the claim shows every time; what a busy machine does, not three times running.
        for (var attempt = 0; attempt < 3; attempt++)
        {
            var (right, wrong) = (new List<double>(), new List<double>());
            for (var round = 0; round < 120; round++)
            {
                // In turn, so that whatever else the machine does falls on both alike. A claim is tried out on the open draft.
                (round % 2 == 0 ? right : wrong).Add(await TimedAsync(
                    room, round % 2 == 0 ? room.Answers["ben"] : room.Answers["ann"]));
            }

            // The first rounds warm up. Noise: the spread of the middle half of each.
            var (first, second) = (Middle(right[10..]), Middle(wrong[10..]));
            if (Math.Abs(first.Median - second.Median) < Math.Max(first.Spread, second.Spread))
            {
                return;
            }

            told.Add($"right {first.Median:0.00} ms (±{first.Spread:0.00}), wrong {second.Median:0.00} ms (±{second.Spread:0.00})");
        }

        Assert.Fail(string.Join("; ", told));
    }

    private static void AssertAlike(SortedDictionary<string, string> before, SortedDictionary<string, string> after)
    {
        Assert.Equal(before.Keys, after.Keys);
        Assert.All(before, one => Assert.True(one.Value == after[one.Key], $"{one.Key}\n{one.Value}\n{after[one.Key]}"));
    }

    private static (double Median, double Spread) Middle(List<double> values)
    {
        values.Sort();
        return (values[values.Count / 2], values[values.Count * 3 / 4] - values[values.Count / 4]);
    }

    private static async Task<double> TimedAsync(Classroom room, string claim)
    {
        var address = await DraftAddressAsync(room);
        using var current = await room.Ben.GetAsync(address, Patience);
        using var request = new HttpRequestMessage(HttpMethod.Put, address)
        {
            Content = Requests.Json(room.Report("ben", claim, isDraft: true)),
        };
        request.Headers.IfMatch.Add(current.Headers.ETag!);
        var started = Stopwatch.GetTimestamp();
        using var response = await room.Ben.SendAsync(request, Patience);
        var elapsed = Stopwatch.GetElapsedTime(started).TotalMilliseconds;
        Assert.True(response.IsSuccessStatusCode);
        return elapsed;
    }

    private static async Task<string> DraftAddressAsync(Classroom room)
    {
        var items = (await room.Ben.JsonAtAsync($"{room.Address}/reports")).GetProperty("items");
        return $"{room.Address}/reports/{items[0].GetProperty("id").GetString()}";
    }

    /// <summary>A room where ann has handed in a wrong claim and ben has a draft, rankings shown.</summary>
    private static async Task<Classroom> RoomAsync(ServiceUnderTest service, string seed = Classroom.Seed, bool isPractice = false)
    {
        var room = await Classroom.OpenAsync(service);
        await room.MakeAsync(Classroom.Course.Replace(
            "\"mostAttempts\": 2",
            $"\"mostAttempts\": 20, \"showsRanking\": true, \"isPractice\": {(isPractice ? "true" : "false")}",
            StringComparison.Ordinal));
        await room.PutRosterAsync(4);
        await room.GroupAsync(("ann", "A"), ("s3", "A"), ("ben", "B"), ("s4", "B"));
        await room.HandOutAsync(seed);
        await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ben"], "90-91"));
        await room.HandInAsync(room.Ben, room.Report("ben", "acetone", isDraft: true));
        return room;
    }

    private static async Task<List<string>> ReportAsync(Classroom room)
    {
        var answers = new List<string>();
        foreach (var claim in room.Answers.Values.Distinct().Order())
        {
            var report = await room.HandInAsync(room.Ann, room.Report("ann", claim));
            answers.Add(Settled(report.GetRawText(), room));
            var id = report.GetProperty("id").GetString();
            answers.Add(Settled((await room.Ann.JsonAtAsync($"{room.Address}/reports/{id}/ranking")).GetRawText(), room));
        }

        return answers;
    }

    /// <summary>Every endpoint of the running service as every sort of student, every address filled in.</summary>
    private async Task<SortedDictionary<string, string>> AskEverythingAsync(Classroom room)
    {
        string[] reports =
        [
            (await room.Grader.JsonAtAsync($"{room.Address}/reports")).GetProperty("items")[0].GetProperty("id").GetString()!,
            (await DraftAddressAsync(room)).Split('/')[^1],
        ];
        using var anybody = service.Service.ClientWith(null);
        var answers = new SortedDictionary<string, string>(StringComparer.Ordinal);
        foreach (var (name, client) in new[] { ("ann", room.Ann), ("ben", room.Ben), ("stranger", room.Stranger), ("anybody", anybody) })
        {
            foreach (var (method, address, accept) in Questions(room.Id, reports))
            {
                answers[$"{name} {method} {accept} {address}"] = Settled(await AskAsync(client, method, address, accept), room);
            }
        }

        return answers;
    }

    // Writes are asked without a body: what they say of that must not depend on the answer either.
    private IEnumerable<(string Method, string Address, string Accept)> Questions(string course, string[] reports) => (
        from endpoint in service.Service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
        from method in endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? ["GET"]
        let path = "/" + endpoint.RoutePattern.RawText!.Trim('/')
        where path.StartsWith("/api/v1/", StringComparison.Ordinal)
        where method == "GET" || path.StartsWith("/api/v1/courses", StringComparison.Ordinal)
        from report in reports
        from accept in method == "GET" ? Accepts : ["*/*"]
        from query in method == "GET" ? Queries : [""]
        select (method, Filled(path, course, report) + query, accept)).Distinct();

    private static async Task<string> AskAsync(HttpClient client, string method, string address, string accept)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), address);
        request.Headers.Accept.Add(MediaTypeWithQualityHeaderValue.Parse(accept));
        using var response = await client.SendAsync(request, Patience);
        var headers = response.Headers.Concat(response.Content.Headers)
            .Where(header => header.Key is not ("Date" or "Transfer-Encoding" or "Content-Length"))
            .Select(header => $"{header.Key}: {string.Join(',', header.Value)}")
            .Order();
        return $"{(int)response.StatusCode}\n{string.Join('\n', headers)}\n{await response.Content.ReadAsStringAsync(Patience)}";
    }

    private static string Filled(string path, string course, string report) => Parameter().Replace(
        path,
        parameter => parameter.Value switch
        {
            "{reportId}" => report,
            "{number}" => "1",
            "{id}" when path.StartsWith("/api/v1/courses", StringComparison.Ordinal) => course,
            _ => "propanone",
        });

    // What a request is called, and ids made by chance, differ from one request to the next.
    private static string Settled(string text, Classroom room) =>
        MadeByChance().Replace(text.Replace(room.Id, "COURSE", StringComparison.Ordinal), "*");

    private static async Task ExchangeIdentitiesAsync(Classroom room)
    {
        var contexts = room.Service.Services.GetRequiredService<IDbContextFactory<DerividContext>>();
        await using var context = await contexts.CreateDbContextAsync(Patience);
        var (ann, ben) = (room.Answers["ann"], room.Answers["ben"]);
        var changed = await context.Assignments.Where(row => row.CourseId == room.Id).ExecuteUpdateAsync(
            row => row.SetProperty(
                assignment => assignment.ParentKey, assignment => assignment.ParentKey == ann ? ben : ann),
            Patience);
        Assert.Equal(room.Codes.Count, changed);
    }

    [GeneratedRegex(@"\{[^}]*\}")]
    private static partial Regex Parameter();

    [GeneratedRegex("\"traceId\":\"[^\"]*\"|(?<![0-9a-f])[0-9a-f]{32}(?![0-9a-f])|\"attempt\":[0-9]+")]
    private static partial Regex MadeByChance();
}
