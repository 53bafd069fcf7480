using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Http;
using Derivid.Api.Tests.Teaching;
using Derivid.Core.Teaching;
using Derivid.Store;
using Derivid.Store.Auditing;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Curation;

/// <summary>The verification desk over HTTP, the same on both engines. The book is made up, and so is what it prints.</summary>
public abstract class VerificationTests(Func<Task<ITestDatabase>> newDatabase) : IAsyncLifetime
{
    private const string Desk = "/api/v1/verification";
    private const string Book = "made-up-book";

    private ITestDatabase? _database;
    private ServiceUnderTest? _service;
    private Curator? _author;
    private Curator? _reviewer;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    private Curator Author => _author!;

    private Curator Reviewer => _reviewer!;

    public async ValueTask InitializeAsync()
    {
        _database = await newDatabase();
        _service = new ServiceUnderTest(_database.ConnectionString);
        (await _service.StartAsync()).Dispose();
        _author = new Curator(await _service.ClientAsAsync(Role.Instructor));
        _reviewer = new Curator(await _service.ClientAsAsync(Role.Instructor));
    }

    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        _author!.Client.Dispose();
        _reviewer!.Client.Dispose();
        await _service!.DisposeAsync();
        await _database!.DisposeAsync();
    }

    [Fact]
    public async Task SheetIsReadAgreementsAndDifferencesAreReleasedAndCounted()
    {
        await AddBookAsync();
        var lines = await LinesAsync(Author, "kinds=oxime&limit=4");
        var (agreeing, differing, missing) = (Key(lines[0]), Key(lines[1]), Key(lines[2]));
        var before = await ListedAsync(2);
        using var response = await SendAsync(Author, "&locator=p.%2012", (agreeing, Printed(before, agreeing)), (differing, "301-302 dec."), (missing, "-"));
        var sent = await response.JsonAsync(HttpStatusCode.Created);

        Assert.Equal(["agrees", "differs", "notPrinted"], Verdicts(sent));
        Assert.Equal(response.Headers.Location!.ToString(), $"{Desk}/readings/{sent.GetProperty("id").GetString()}");
        Assert.Equal(sent.GetRawText(), (await Author.Client.JsonAtAsync(response.Headers.Location.ToString())).GetRawText());
        using var others = await Reviewer.Client.GetAsync(response.Headers.Location, Cancellation);
        await others.ProblemAsync(ProblemTypes.NotFound);

        // What is typed is done; the line after it is the first of the next sheet.
        Assert.Equal(Key(lines[3]), Key((await LinesAsync(Reviewer, "kinds=oxime&limit=1"))[0]));
        var proposal = sent.GetProperty("proposalId").GetString()!;
        var changes = (await Author.DifferencesAsync(proposal)).GetProperty("items").EnumerateArray().ToList();
        Assert.Contains(changes, change => Key(change) == agreeing
            && change.GetProperty("after").GetProperty("sourceKey").GetString() == Book
            && change.GetProperty("after").GetProperty("locator").GetString() == "p. 12");
        Assert.Contains(changes, change => Key(change) == differing && change.GetProperty("fields").EnumerateArray().Single().GetString() == "note");
        var added = Assert.Single(changes, change => change.GetProperty("type").GetString() == "added").GetProperty("after");
        Assert.Equal(
            (301.0, 302.0, true, "301-302 dec."),
            (added.GetProperty("lowCelsius").GetDouble(), added.GetProperty("highCelsius").GetDouble(), added.GetProperty("decomposes").GetBoolean(), added.GetProperty("asPrinted").GetString()));
        var validation = await Author.Client.JsonAtAsync($"{Curator.Proposals}/{proposal}/validation");
        Assert.DoesNotContain(validation.GetProperty("findings").EnumerateArray(), finding =>
            finding.GetProperty("isNew").GetBoolean()
            && (finding.GetProperty("severity").GetString() == "error" || finding.GetProperty("field").GetString() == "verification"));

        var version = await Author.ReleaseAsync(proposal, await Author.TagAsync(proposal), Reviewer);

        var after = await ListedAsync(version);
        Assert.Equal(Book, (string)after[agreeing]["sourceKey"]!);
        Assert.NotEqual("recalled", (string)after[agreeing]["verification"]!);
        var progress = await Author.Client.JsonAtAsync(Desk + "/progress");
        var source = Assert.Single(progress.GetProperty("sources").EnumerateArray());
        Assert.Equal((Book, 3, 1, 1, 1), (source.GetProperty("sourceKey").GetString(), source.GetProperty("read").GetInt32(),
            source.GetProperty("agrees").GetInt32(), source.GetProperty("differs").GetInt32(), source.GetProperty("notPrinted").GetInt32()));
        Assert.Equal(version, progress.GetProperty("tableVersion").GetInt32());
        var audit = await _service!.ClientWith(ServiceUnderTest.AdministratorKey).JsonAtAsync("/api/v1/audit?action=verification.read");
        Assert.Equal("verification/readings/" + sent.GetProperty("id").GetString(), audit.GetProperty("items")[0].GetProperty("resource").GetString());
    }

    [Fact]
    public async Task SheetTellsNothingOfWhatTheTableHas()
    {
        await AddBookAsync();
        var before = await TextsAsync();
        var lines = await LinesAsync(Author, "scope=all&limit=500");
        Assert.All(lines, line => Assert.Equal(
            [], line.EnumerateObject().Select(member => member.Name)
                .Except(["key", "parentKey", "name", "formula", "kindKey", "kind", "carbonylsCondensed", "form", "readersDiffer"])));
        Assert.All(before[^1].Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1), row => Assert.EndsWith(",no,,", row.TrimEnd('\r'), StringComparison.Ordinal));

        // Other figures, colours, remarks and states there leave every letter of it as it is.
        var rows = (await ListedAsync(2)).Values.Take(40).ToList();
        var (id, tag) = await Author.MakeAsync();
        foreach (var (i, row) in rows.Index())
        {
            (row["lowCelsius"], row["highCelsius"], row["asPrinted"], row["decomposes"], row["colourKey"], row["note"]) = (70 + i, 70 + i, $"{70 + i} dec.", true, "red", "other");
            row["verification"] = (string)row["verification"]! == "crossChecked" ? row["verification"]!.DeepClone() : "crossChecked";
            (_, tag) = await Curator.DoneAsync(Author.PutAsync(id, tag, "derivatives", (string)row["key"]!, row));
        }

        await Author.ReleaseAsync(id, tag, Reviewer);
        var after = await TextsAsync();
        Assert.Equal(before.Select(text => text.Replace("\"tableVersion\":2,", "", StringComparison.Ordinal)), after.Select(text => text.Replace("\"tableVersion\":3,", "", StringComparison.Ordinal)));

        async Task<List<string>> TextsAsync()
        {
            var texts = new List<string>();
            foreach (var order in new[] { "name", "boilingPoint", "molarMass", "locator" })
            {
                texts.Add(await Author.Client.GetStringAsync($"{Desk}/sheet?sourceKey={Book}&scope=all&limit=500&order={order}", Cancellation));
            }

            texts.Add(await CsvAsync(Author, "scope=all&limit=500"));
            return texts;
        }
    }

    [Fact]
    public async Task PagesFollowEachOtherWhateverIsTypedMeanwhile()
    {
        await AddBookAsync();
        var all = (await LinesAsync(Author, "kinds=oxime,semicarbazone&limit=12")).ConvertAll(Key);
        var first = await Author.Client.JsonAtAsync($"{Desk}/sheet?sourceKey={Book}&kinds=oxime,semicarbazone&limit=5");
        Assert.Equal(all[..5], Keys(first));
        using var sent = await SendAsync(Author, "", [.. all[..5].Select(key => (key, "-"))]);
        await sent.JsonAsync(HttpStatusCode.Created);
        var second = await Author.Client.JsonAtAsync(first.GetProperty("next").GetString()!);
        var begun = await Author.Client.JsonAtAsync($"{Desk}/sheet?sourceKey={Book}&kinds=oxime&from=Cyclohex&limit=1");
        using var nowhere = await Author.Client.GetAsync($"{Desk}/sheet?sourceKey={Book}&from=zzz", Cancellation);

        Assert.Equal(all[5..10], Keys(second));
        Assert.StartsWith("cyclohex", begun.GetProperty("items")[0].GetProperty("name").GetString(), StringComparison.OrdinalIgnoreCase);
        Assert.Contains("zzz", (await nowhere.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("?from"), StringComparison.Ordinal);
        Assert.Null((await sent.JsonAsync(HttpStatusCode.Created)).TryGetProperty("proposalId", out var proposal) ? proposal.GetString() : null);

        static List<string> Keys(JsonElement page) => [.. page.GetProperty("items").EnumerateArray().Select(Key)];
    }

    [Fact]
    public async Task AllThatIsWrongIsToldInOneRoundAndNothingIsKept()
    {
        await AddBookAsync();
        var keys = (await LinesAsync(Author, "kinds=oxime&limit=3")).ConvertAll(Key);
        using var json = await SendAsync(Author, "", (keys[0], "about a hundred"), (keys[1], "120-110"), ("no-such-line", "50"), (keys[2], "50"));
        var problem = await json.ProblemAsync(ProblemTypes.InvalidRequest);
        using var csv = await SendCsvAsync(Author, $"key,as_printed\n{keys[0]},\n{keys[1]},1 2 3\n,40\nno-such-line,50\n");
        var told = await csv.ProblemAsync(ProblemTypes.InvalidRequest);

        Assert.Equal(["/readings/" + keys[0], "/readings/" + keys[1], "/readings/no-such-line"], Places(problem));
        Assert.Equal(["line 3, as_printed", "line 4, key", "line 5, key"], Places(told));
        Assert.Equal(keys, (await LinesAsync(Author, "kinds=oxime&limit=3")).ConvertAll(Key));
        Assert.Equal(0, (await Author.Client.JsonAtAsync(Desk + "/progress")).GetProperty("sources").GetArrayLength());

        static IEnumerable<string> Places(JsonObject problem) => problem["errors"]!.AsObject().Select(error => error.Key).Order(StringComparer.Ordinal);
    }

    [Fact]
    public async Task WhatIsMostWorthCheckingIsListedBlindAndLaidOutInABook()
    {
        await AddBookAsync();
        var worth = await Author.Client.JsonAtAsync(Desk + "/worth-checking?limit=6");
        var lines = worth.GetProperty("lines").EnumerateArray().ToList();
        var gains = lines.ConvertAll(line => line.GetProperty("moreRight").GetDouble());

        Assert.Equal(Enumerable.Range(1, 6), lines.Select(line => line.GetProperty("rank").GetInt32()));
        Assert.Equal(gains.OrderDescending(), gains);
        Assert.All(lines, line => Assert.Equal(
            [], line.EnumerateObject().Select(member => member.Name)
                .Except(["rank", "key", "parentKey", "name", "formula", "kindKey", "kind", "carbonylsCondensed", "form", "moreRight"])));
        Assert.True(worth.GetProperty("compared").GetInt32() > worth.GetProperty("apart").GetInt32());
        Assert.Equal(lines.Select(Key).Order(), (await LinesAsync(Author, "first=6&limit=500")).Select(Key).Order());
        Assert.All(
            (await Author.Client.JsonAtAsync(Desk + "/worth-checking?kinds=oxime,semicarbazone")).GetProperty("lines").EnumerateArray(),
            line => Assert.True(line.GetProperty("kindKey").GetString() is "oxime" or "semicarbazone"));
        foreach (var (query, field) in new[] { ("limit=0", "?limit"), ("kinds=ester", "?kinds"), ("unknowns=mine", "?unknowns") })
        {
            using var refused = await Author.Client.GetAsync($"{Desk}/worth-checking?{query}", Cancellation);
            (await refused.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt(field);
        }

        // Of courses, those of one's own staff alone: to others it is as if there were none.
        var without = await Author.Client.GetStringAsync(Desk + "/worth-checking?unknowns=courses", Cancellation);
        await using var room = await Classroom.HandedOutAsync(_service!);
        Assert.Equal(without, await Author.Client.GetStringAsync(Desk + "/worth-checking?unknowns=courses", Cancellation));
        Assert.Empty(JsonDocument.Parse(without).RootElement.GetProperty("lines").EnumerateArray());
        var used = (await room.Instructor.JsonAtAsync(Desk + "/worth-checking?unknowns=courses&limit=1000")).GetProperty("lines").EnumerateArray().ToList();
        Assert.InRange(used.Count, 1, worth.GetProperty("unread").GetInt32() - 1);
    }

    [Fact]
    public async Task SourceThatNobodyCanReadIsRefused()
    {
        foreach (var source in new[] { "handbooks-recalled", "common-practice", "no-such-book" })
        {
            using var sheet = await Author.Client.GetAsync($"{Desk}/sheet?sourceKey={source}", Cancellation);
            using var sent = await Author.SendAsync(HttpMethod.Post, $"{Desk}/readings?sourceKey={source}", null, """{ "readings": { "x": "50" } }""");
            Assert.Contains(source, (await sheet.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("?sourceKey"), StringComparison.Ordinal);
            Assert.Contains(source, (await sent.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("?sourceKey"), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task SheetComesBackFilledInAsASpreadsheetWritesIt()
    {
        await AddBookAsync();
        var rows = (await CsvAsync(Author, "kinds=oxime&limit=3")).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        var keys = rows.Skip(1).Select(row => row.Split(',')[0]).ToList();
        Assert.Equal("key,name,formula,kind,carbonyls_condensed,form,readers_differ,as_printed,colour", rows[0]);

        // Semicolons, a byte order mark, capitals, columns moved, a decimal comma, a line left empty.
        using var response = await SendCsvAsync(Author, $"\uFEFFKey;Colour;As_Printed;\n{keys[0]};Yellow;301,5-302 dec;\n{keys[1]};;;\n{keys[2]};;–;\n");
        var sent = await response.JsonAsync(HttpStatusCode.Created);

        Assert.Equal(["differs", "notPrinted"], Verdicts(sent));
        var line = sent.GetProperty("lines")[0];
        Assert.Equal((keys[0], "301,5-302 dec", "yellow"), (Key(line), line.GetProperty("asPrinted").GetString(), line.GetProperty("colourKey").GetString()));
        Assert.NotEqual(0, line.GetProperty("listed").GetArrayLength());
    }

    [Fact]
    public async Task SentTwiceUnderOneKeyItIsKeptOnce()
    {
        await AddBookAsync();
        var key = Key((await LinesAsync(Author, "limit=1"))[0]);
        var body = new JsonObject { ["readings"] = new JsonObject { [key] = "301" } }.ToJsonString();
        using var first = await Author.SendAsync(HttpMethod.Post, $"{Desk}/readings?sourceKey={Book}", null, body, "twice");
        var made = await first.JsonAsync(HttpStatusCode.Created);
        using var second = await Author.SendAsync(HttpMethod.Post, $"{Desk}/readings?sourceKey={Book}", null, body, "twice");
        using var other = await Author.SendAsync(HttpMethod.Post, $"{Desk}/readings?sourceKey={Book}", null, body.Replace("301", "302", StringComparison.Ordinal), "twice");

        Assert.Equal(made.GetRawText(), (await second.JsonAsync(HttpStatusCode.OK)).GetRawText());
        await other.ProblemAsync(ProblemTypes.IdempotencyKeyReused);
        Assert.Equal(2, (await Author.Client.JsonAtAsync(Curator.Proposals)).GetProperty("items").GetArrayLength());
    }

    [Fact]
    public async Task WhatAGradedClassUsesTakesTwoPeopleAndAThirdWhereTheyDiffer()
    {
        await AddBookAsync();
        await using var room = await Classroom.HandedOutAsync(_service!);
        var third = new Curator(await _service!.ClientAsAsync(Role.Instructor));
        var used = (await LinesAsync(Author, "kinds=semicarbazone&limit=500")).Where(line => line.GetProperty("parentKey").GetString() is "cyclohexanone" or "benzaldehyde").Select(Key).ToList();
        var (one, two) = (used[0], used[1]);
        Assert.Equal(["awaitsSecondReader", "awaitsSecondReader"], Verdicts(await SentAsync(Author, (one, "301"), (two, "301"))));
        Assert.DoesNotContain(one, (await LinesAsync(Author, "kinds=semicarbazone&limit=500")).ConvertAll(Key));
        var second = await SentAsync(Reviewer, (one, "301"), (two, "302"));

        Assert.Equal(["differs", "readersDiffer"], Verdicts(second));
        Assert.Contains((await LinesAsync(third, "kinds=semicarbazone&limit=500")), line => Key(line) == two && line.GetProperty("readersDiffer").GetBoolean());
        Assert.DoesNotContain((await LinesAsync(third, "kinds=semicarbazone&limit=500")), line => Key(line) == one);
        Assert.Equal(["differs"], Verdicts(await SentAsync(third, (two, "302"))));
        var source = (await Author.Client.JsonAtAsync(Desk + "/progress")).GetProperty("sources")[0];
        Assert.Equal((2, 2, 0), (source.GetProperty("read").GetInt32(), source.GetProperty("differs").GetInt32(), source.GetProperty("readersDiffer").GetInt32()));
        third.Client.Dispose();
    }

    [Fact]
    public async Task ClassHandedOutWhileASheetWaitsToBeKeptTakesTwoPeopleToo()
    {
        await AddBookAsync();
        await using var room = await Classroom.HandedOutAsync(_service!);
        var used = (await LinesAsync(Author, "kinds=semicarbazone&limit=500")).First(line => line.GetProperty("parentKey").GetString() == "cyclohexanone");
        var audit = _service!.Services.GetRequiredService<AuditTrail>();
        var actor = (await Author.Client.JsonAtAsync("/api/v1/keys/current")).GetProperty("actor").GetString()!;
        await audit.WriteAsync(AuditOrigin.Service, (context, token) => HandedOutAsync(context, 0, token), Cancellation);

        // Both turns of the sender are taken, so that the sheet waits, and is kept after the class has its unknowns.
        var (begun, over, last) = (new TaskCompletionSource(), new TaskCompletionSource(), new TaskCompletionSource());
        var handingOut = audit.WriteAsync(
            new AuditOrigin(actor, null, null),
            async (context, token) =>
            {
                begun.TrySetResult();
                await over.Task;
                return await HandedOutAsync(context, 1, token);
            },
            Cancellation);
        await begun.Task;
        var other = audit.WriteAsync(
            new AuditOrigin(actor, null, null),
            async (_, _) =>
            {
                await last.Task;
                return new Audited<bool>(true);
            },
            Cancellation);
        var sending = SentAsync(Author, (Key(used), "301"));
        while (audit.Waiting == 0)
        {
            await Task.Delay(10, Cancellation);
        }

        over.SetResult();
        await handingOut;
        last.SetResult();
        await other;

        Assert.Equal(["awaitsSecondReader"], Verdicts(await sending));

        static async Task<Audited<bool>> HandedOutAsync(DerividContext context, int number, CancellationToken token)
        {
            await context.Courses.ExecuteUpdateAsync(course => course.SetProperty(row => row.HandOutNumber, number), token);
            return new Audited<bool>(true);
        }
    }

    [Fact]
    public async Task SheetsGatherInADraftOfOnesOwnAndSoDoesItsSource()
    {
        var (id, tag) = await Author.MakeAsync("A made-up book, and what it prints");
        await Curator.DoneAsync(Author.PutAsync(id, tag, "sources", Book, BookRecord()));
        var keys = (await LinesAsync(Author, $"kinds=oxime&limit=2&proposal={id}")).ConvertAll(Key);
        foreach (var key in keys)
        {
            using var sent = await SendAsync(Author, $"&proposal={id}", (key, "301"));
            Assert.Equal(id, (await sent.JsonAsync(HttpStatusCode.Created)).GetProperty("proposalId").GetString());
        }

        // Typed again: a slip of the pen leaves nothing behind.
        using var again = await SendAsync(Author, $"&proposal={id}", (keys[0], "299"));
        await again.JsonAsync(HttpStatusCode.Created);
        var added = (await Author.DifferencesAsync(id)).GetProperty("items").EnumerateArray()
            .Where(change => change.GetProperty("type").GetString() == "added" && change.GetProperty("table").GetString() == "derivatives")
            .Select(change => change.GetProperty("after").GetProperty("asPrinted").GetString());
        Assert.Equal(["299", "301"], added.Order());
        await Author.ReleaseAsync(id, await Author.TagAsync(id), Reviewer);
        using var late = await SendAsync(Author, $"&proposal={id}", (keys[0], "301"));
        using var nowhere = await SendAsync(Author, "&proposal=nothing", (keys[0], "301"));
        await late.ProblemAsync(ProblemTypes.WrongStep);
        await nowhere.ProblemAsync(ProblemTypes.NotFound);
    }

    [Fact]
    public async Task ReadingsOfAProposalGivenUpCountNoMore()
    {
        await AddBookAsync();
        var key = Key((await LinesAsync(Author, "limit=1"))[0]);
        var proposal = (await SentAsync(Author, (key, "301"))).GetProperty("proposalId").GetString()!;
        Assert.NotEqual(key, Key((await LinesAsync(Author, "limit=1"))[0]));
        await Curator.DoneAsync(Author.StepAsync(proposal, await Author.TagAsync(proposal), "withdrawal"));

        Assert.Equal(key, Key((await LinesAsync(Author, "limit=1"))[0]));
        Assert.Equal(0, (await Author.Client.JsonAtAsync(Desk + "/progress")).GetProperty("sources").GetArrayLength());
    }

    private static string Key(JsonElement item) => item.GetProperty("key").GetString()!;

    private static IEnumerable<string?> Verdicts(JsonElement sent) => sent.GetProperty("lines").EnumerateArray().Select(line => line.GetProperty("verdict").GetString());

    private static string Printed(Dictionary<string, JsonObject> rows, string key) => (string)rows[key]["asPrinted"]!;

    private static JsonObject BookRecord() => new()
    {
        ["key"] = Book,
        ["citation"] = "A book made up for this test; it prints what the test says",
        ["grade"] = "compiled",
        ["family"] = Book,
        ["howRead"] = "pageRead",
    };

    private async Task AddBookAsync()
    {
        var (id, tag) = await Author.MakeAsync("A made-up book");
        (_, tag) = await Curator.DoneAsync(Author.PutAsync(id, tag, "sources", Book, BookRecord()));
        await Author.ReleaseAsync(id, tag, Reviewer);
    }

    private async Task<Dictionary<string, JsonObject>> ListedAsync(int version) =>
        JsonNode.Parse(await Author.Client.GetStringAsync($"/api/v1/table-versions/{version}/tables/derivatives.json", Cancellation))!
            .AsArray().ToDictionary(row => (string)row!["key"]!, row => row!.DeepClone().AsObject());

    private static async Task<List<JsonElement>> LinesAsync(Curator curator, string query) =>
        [.. (await curator.Client.JsonAtAsync($"{Desk}/sheet?sourceKey={Book}&{query}")).GetProperty("items").EnumerateArray()];

    private static async Task<JsonElement> SentAsync(Curator curator, params (string Key, string Printed)[] readings)
    {
        using var response = await SendAsync(curator, "", readings);
        return await response.JsonAsync(HttpStatusCode.Created);
    }

    private static Task<HttpResponseMessage> SendAsync(Curator curator, string query, params (string Key, string Printed)[] readings) => curator.SendAsync(
        HttpMethod.Post, $"{Desk}/readings?sourceKey={Book}{query}", null,
        new JsonObject { ["readings"] = new JsonObject(readings.Select(reading => KeyValuePair.Create(reading.Key, (JsonNode?)reading.Printed))) }.ToJsonString());

    private static async Task<HttpResponseMessage> SendCsvAsync(Curator curator, string text)
    {
        using var content = new ByteArrayContent(Encoding.UTF8.GetBytes(text)) { Headers = { ContentType = MediaTypeHeaderValue.Parse("text/csv") } };
        return await curator.Client.PostAsync($"{Desk}/readings?sourceKey={Book}", content, Cancellation);
    }

    private static async Task<string> CsvAsync(Curator curator, string query)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, $"{Desk}/sheet?sourceKey={Book}&{query}") { Headers = { Accept = { new("text/csv") } } };
        using var response = await curator.Client.SendAsync(request, Cancellation);
        return await response.Content.ReadAsStringAsync(Cancellation);
    }

    public sealed class OnSqlite() : VerificationTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : VerificationTests(async () => await server.NewDatabaseAsync());
}
