using System.Net;
using System.Text.Json;
using Derivid.Api.Curation;
using Derivid.Api.Http;
using Derivid.Core;
using Derivid.Core.Teaching;
using Derivid.Store.Curation;
using Derivid.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Curation;

/// <summary>A proposal on its way to a version, over HTTP; the same on both engines.</summary>
public abstract class CurationTests(Func<Task<ITestDatabase>> newDatabase) : IAsyncLifetime
{
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
    public async Task WhatIsWrongWithAProposalIsWorkedOutOnceForEachRevision()
    {
        var checks = _service!.Services.GetRequiredService<ProposalChecks>();
        var (id, _) = await Author.MakeAsync();

        var first = await CheckedAsync();
        var again = await CheckedAsync();
        var record = await Author.RecordAsync("derivatives", 0);
        record["sourceKey"] = "nowhere";
        await Curator.DoneAsync(Author.PutAsync(id, await Author.TagAsync(id), "derivatives", (string)record["key"]!, record));
        var later = await CheckedAsync();

        Assert.Same(first, again);
        Assert.Equal((0, 0, 1), (first.Changes, first.Errors, first.Revision));
        Assert.Equal((1, 2), (later.Changes, later.Revision));
        Assert.Contains(later.Findings, each => each is { IsNew: true, Finding: { Field: "SourceKey", Value: "nowhere" } });
        Assert.Equal(later.Errors, (await Author.Client.JsonAtAsync($"{Curator.Proposals}/{id}/validation")).GetProperty("errors").GetInt32());

        // Who has gone is not waited for, and one at a time is worked on.
        using (await checks.TurnAsync(Cancellation))
        {
            using var gone = new CancellationTokenSource();
            var (other, _) = await Author.MakeAsync();
            var waiting = checks.OfAsync((await _service.Services.GetRequiredService<Proposals>().FindAsync(other, Cancellation))!, gone.Token);
            Assert.False(waiting.IsCompleted);
            await gone.CancelAsync();
            await Assert.ThrowsAnyAsync<OperationCanceledException>(() => waiting);
        }

        async Task<CheckedProposal> CheckedAsync()
        {
            var proposal = (await _service.Services.GetRequiredService<Proposals>().FindAsync(id, Cancellation))!;
            Assert.True((await checks.OfAsync(proposal, Cancellation)).Succeeded(out var found, out _));
            return found;
        }
    }

    [Fact]
    public async Task ReviewedChangeIsServedAsTheNextVersionAndComparedWithTheOld()
    {
        var record = await Author.RecordAsync("derivatives", 0);
        var key = (string)record["key"]!;
        record["note"] = "Outside the usual span of the kind; looked up again";
        var (id, tag) = await Author.MakeAsync();
        (_, tag) = await Curator.DoneAsync(Author.PutAsync(id, tag, "derivatives", key, record));
        var constant = await Author.RecordAsync("parent-constants", 0);
        var constantKey = $"{constant["parentKey"]}:{JsonNamingPolicy.KebabCaseLower.ConvertName((string)constant["property"]!)}:{constant["sourceKey"]}:{constant["low"]}";
        (_, tag) = await Curator.DoneAsync(Author.PutAsync(id, tag, "parent-constants", constantKey, null));

        var proposed = (await Author.DifferencesAsync(id)).GetProperty("items");
        var version = await Author.ReleaseAsync(id, tag, Reviewer);

        Assert.Equal(2, version);
        Assert.Equal(["removed", "changed"], proposed.EnumerateArray().Select(item => item.GetProperty("type").GetString()));
        var differences = await Author.Client.JsonAtAsync("/api/v1/table-versions/1/differences/2");
        Assert.Equal(proposed.ToString(), differences.GetProperty("items").ToString());
        var changed = differences.GetProperty("items")[1];
        Assert.Equal((key, "note"), (changed.GetProperty("key").GetString(), changed.GetProperty("fields")[0].GetString()));
        Assert.NotEqual((string)record["note"]!, changed.GetProperty("before").TryGetProperty("note", out var note) ? note.GetString() : null);
        Assert.Equal((string)record["note"]!, changed.GetProperty("after").GetProperty("note").GetString());
        var served = await Author.Client.JsonAtAsync("/api/v1/table-versions/2");
        Assert.True(served.GetProperty("isCurrent").GetBoolean());
    }

    [Fact]
    public async Task SameIdempotencyKeyMakesOneProposalAndOneRemark()
    {
        const string Body = """{ "title": "Sent twice", "reason": "p. 12" }""";
        using var first = await SendAsync(Curator.Proposals, Body, "twice");
        var made = await first.JsonAsync(HttpStatusCode.Created);
        var id = made.GetProperty("id").GetString()!;
        using var second = await SendAsync(Curator.Proposals, Body, "twice");
        using var other = await SendAsync(Curator.Proposals, """{ "title": "Another" }""", "twice");

        Assert.Equal(made.GetRawText(), (await second.JsonAsync(HttpStatusCode.OK)).GetRawText());
        Assert.Equal((first.Headers.Location, first.Headers.ETag), (second.Headers.Location, second.Headers.ETag));
        await other.ProblemAsync(ProblemTypes.IdempotencyKeyReused);
        var listed = await Author.Client.JsonAtAsync(Curator.Proposals + "?limit=500");
        Assert.Equal(["Sent twice"], listed.GetProperty("items").EnumerateArray().Select(item => item.GetProperty("title").GetString()));

        var comments = $"{Curator.Proposals}/{id}/comments";
        using var remark = await SendAsync(comments, """{ "text": "Seen." }""", "remark");
        using var again = await SendAsync(comments, """{ "text": "Seen." }""", "remark");
        using var missing = await SendAsync(Curator.Proposals + "/nothing/comments", """{ "text": "Seen." }""", "nowhere");
        Assert.Equal((await remark.JsonAsync(HttpStatusCode.Created)).GetRawText(), (await again.JsonAsync(HttpStatusCode.OK)).GetRawText());
        await missing.ProblemAsync(ProblemTypes.NotFound);
        var said = await Author.Client.JsonAtAsync(comments);
        Assert.Equal(1, said.GetProperty("items").GetArrayLength());

        Task<HttpResponseMessage> SendAsync(string address, string body, string key) =>
            Author.SendAsync(HttpMethod.Post, address, null, body, key);
    }

    [Fact]
    public async Task RollBackRestoresByteEqualExports()
    {
        var before = await ExportsAsync(1);
        await Author.ReleaseNoteAsync("altered", Reviewer);
        var (id, tag) = await Author.MakeAsync("Back to version 1", restores: 1);

        var version = await Author.ReleaseAsync(id, tag, Reviewer);

        var after = await ExportsAsync(version);
        Assert.Equal(3, version);
        Assert.NotEqual(before[0], (await ExportsAsync(2))[0]);
        for (var i = 0; i < before.Count; i++)
        {
            Assert.True(before[i].AsSpan().SequenceEqual(after[i]), $"export {i} differs");
        }
    }

    [Fact]
    public async Task IdentificationReplaysToTheSameBytesAfterTenMoreVersions()
    {
        using var made = await Author.Client.PostAsync(Requests.Identifications, Requests.Propanone);
        var answer = await made.Content.ReadAsByteArrayAsync(Cancellation);
        var id = JsonDocument.Parse(answer).RootElement.GetProperty("id").GetString();
        for (var version = 2; version <= 11; version++)
        {
            Assert.Equal(version, await Author.ReleaseNoteAsync($"version {version}", Reviewer));
        }

        var replayed = await Author.Client.GetByteArrayAsync($"{Requests.Identifications}/{id}/replay", Cancellation);

        Assert.Equal(1, JsonDocument.Parse(replayed).RootElement.GetProperty("tableVersion").GetInt32());
        Assert.True(answer.AsSpan().SequenceEqual(replayed));
        using var again = await Author.Client.PostAsync(Requests.Identifications, Requests.Propanone);
        Assert.Equal(11, (await again.JsonAsync(HttpStatusCode.Created)).GetProperty("tableVersion").GetInt32());
    }

    [Fact]
    public async Task WriteNamesTheRevisionItIsMeantFor()
    {
        var record = await Author.RecordAsync("parents", 0);
        var key = (string)record["key"]!;
        var (id, tag) = await Author.MakeAsync();

        using var without = await Author.PutAsync(id, null, "parents", key, record);
        using var first = await Author.PutAsync(id, tag, "parents", key, record);
        using var late = await Author.PutAsync(id, tag, "parents", key, record);
        using var weak = await Author.PutAsync(id, "W/" + first.Headers.ETag, "parents", key, record);
        using var any = await Author.PutAsync(id, "*", "parents", key, record);

        await without.ProblemAsync(ProblemTypes.RevisionRequired);
        await first.JsonAsync(HttpStatusCode.OK);
        foreach (var refused in new[] { late, weak, any })
        {
            await refused.ProblemAsync(ProblemTypes.StaleRevision);
        }
    }

    [Fact]
    public async Task AuthorCannotReviewAndStepsComeInOrder()
    {
        var record = await Author.RecordAsync("parents", 0);
        record["note"] = "n";
        var (id, tag) = await Author.MakeAsync();
        using var empty = await Author.StepAsync(id, tag, "submission");
        (_, tag) = await Curator.DoneAsync(Author.PutAsync(id, tag, "parents", (string)record["key"]!, record));
        using var early = await Reviewer.StepAsync(id, tag, "release", "{}");
        (_, tag) = await Curator.DoneAsync(Author.StepAsync(id, tag, "submission"));
        using var frozen = await Author.PutAsync(id, tag, "parents", (string)record["key"]!, null);
        using var own = await Author.StepAsync(id, tag, "review", """{ "verdict": "approve" }""");
        (var back, tag) = await Curator.DoneAsync(Reviewer.StepAsync(id, tag, "review", """{ "verdict": "handBack", "note": "why?" }"""));
        (var gone, _) = await Curator.DoneAsync(Author.StepAsync(id, tag, "withdrawal"));

        await empty.ProblemAsync(ProblemTypes.NothingProposed);
        await early.ProblemAsync(ProblemTypes.WrongStep);
        await frozen.ProblemAsync(ProblemTypes.WrongStep);
        await own.ProblemAsync(ProblemTypes.SecondPersonNeeded);
        Assert.Equal(("draft", "why?"), (back.GetProperty("state").GetString(), back.GetProperty("reviewNote").GetString()));
        Assert.Equal("withdrawn", gone.GetProperty("state").GetString());
    }

    [Fact]
    public async Task SubmissionOfAnEarlierRevisionIsStaleEvenOfWhatIsEmptyNow()
    {
        var record = await Author.RecordAsync("parents", 0);
        var key = (string)record["key"]!;
        record["note"] = "n";
        var (id, tag) = await Author.MakeAsync();
        var (_, full) = await Curator.DoneAsync(Author.PutAsync(id, tag, "parents", key, record));
        (_, var emptied) = await Curator.DoneAsync(Author.PutAsync(id, full, "parents", key, await Author.RecordAsync("parents", 0)));

        using var stale = await Author.StepAsync(id, full, "submission");
        using var empty = await Author.StepAsync(id, emptied, "submission");
        await stale.ProblemAsync(ProblemTypes.StaleRevision);
        await empty.ProblemAsync(ProblemTypes.NothingProposed);
    }

    [Fact]
    public async Task ErrorStopsTheSubmissionAndClashIsAWarning()
    {
        var record = await Author.RecordAsync("derivatives", 0);
        var key = (string)record["key"]!;
        var (id, tag) = await Author.MakeAsync();
        record["sourceKey"] = "nowhere";
        (_, tag) = await Curator.DoneAsync(Author.PutAsync(id, tag, "derivatives", key, record));

        var validation = await Author.Client.JsonAtAsync($"{Curator.Proposals}/{id}/validation");
        using var refused = await Author.StepAsync(id, tag, "submission");

        var finding = validation.GetProperty("findings")[0];
        Assert.Equal(
            ("error", "derivatives", key, "sourceKey", "nowhere", true),
            (finding.GetProperty("severity").GetString(), finding.GetProperty("table").GetString(), finding.GetProperty("key").GetString(),
                finding.GetProperty("field").GetString(), finding.GetProperty("value").GetString(), finding.GetProperty("isNew").GetBoolean()));
        var problem = await refused.ProblemAsync(ProblemTypes.TableRulesBroken);
        Assert.True(problem["errors"]!.AsObject().ContainsKey($"/derivatives/{key}/sourceKey"));
    }

    [Fact]
    public async Task RecordOfAWrongFormIsRefused()
    {
        string[] bodies =
        [
            """{ "record": { "key": "x" } }""",
            """{ "record": 7 }""",
            "{}",
            """{ "record": null, "remove": false }""",
            """{ "remove": true, "record": { "key": "x", "name": "x", "rank": 0, "synonyms": [] } }""",
            """{ "record": { "key": "other", "name": "x", "rank": 0, "synonyms": [] } }""",
            """{ "record": { "key": "x", "name": null, "rank": 0, "synonyms": [] } }""",
            """{ "record": { "key": "x", "name": "x", "rank": 0.5, "synonyms": [] } }""",
        ];
        var (id, tag) = await Author.MakeAsync();
        foreach (var body in bodies)
        {
            using var response = await Author.SendAsync(HttpMethod.Put, $"{Curator.Proposals}/{id}/records/colours/x", tag, body);
            await response.ProblemAsync(ProblemTypes.InvalidRequest);
        }
    }

    [Fact]
    public async Task NoAddressOrHeaderMakesTheServiceFail()
    {
        string[] odd = ["%00", "a%00b", "%ED%A0%80", "%F0%9F%A7%AA", "..%2f", "%22", new string('a', 3000), "-1", "99999999999999999999"];
        var (id, _) = await Author.MakeAsync();
        string[] addresses =
        [
            .. odd.Select(text => "/proposals/" + text), .. odd.Select(text => $"/proposals/{text}/differences"),
            .. odd.Select(text => $"/proposals/{id}/differences?table={text}"), .. odd.Select(text => "/imports/" + text),
            .. odd.Select(text => "/imports/" + text + "/faults"), .. odd.Select(text => $"/table-versions/{text}/export.zip"),
            .. odd.Select(text => $"/table-versions/1/tables/{text}.csv"), .. odd.Select(text => $"/table-versions/1/differences/{text}"),
            .. odd.Select(text => "/proposals?cursor=" + text), .. odd.Select(text => "/proposals?state=" + text),
        ];
        foreach (var address in addresses)
        {
            using var read = await Author.Client.GetAsync("/api/v1" + address, Cancellation);
            Assert.True((int)read.StatusCode < 500, address + " " + read.StatusCode);
        }

        foreach (var text in odd)
        {
            using var put = await Author.SendAsync(HttpMethod.Put, $"{Curator.Proposals}/{id}/records/parents/{text}", "\"1\"", """{ "remove": true }""");
            using var tagged = await Author.SendAsync(HttpMethod.Post, $"{Curator.Proposals}/{id}/submission", text, null);
            Assert.True((int)put.StatusCode < 500 && (int)tagged.StatusCode < 500, text);
        }
    }

    [Fact]
    public async Task WholeKeyIsRefusedWhereverItWouldBeKept()
    {
        const string Secret = "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff";
        const string Key = "dvd_0f1e2d3c4b5a6978_" + Secret;
        var (id, tag) = await Author.MakeAsync();
        var proposal = $"{Curator.Proposals}/{id}";
        var parent = await Author.RecordAsync("parents", 0);
        parent["note"] = $"as {Key} has it";
        using var withReason = new HttpRequestMessage(HttpMethod.Post, Curator.Proposals) { Content = Requests.Json("""{ "title": "A page" }""") };
        withReason.Headers.Add("Derivid-Reason", "with " + Key);
        List<(string Place, HttpResponseMessage Response)> refused =
        [
            ("key", await Author.PutAsync(id, tag, "parents", Key, null)),
            ("key", await Author.PutAsync(id, tag, "parents", Key.Replace("_", "%5F", StringComparison.Ordinal), null)),
            ("key", await Author.SendAsync(HttpMethod.Delete, $"{proposal}/records/parents/{Key}", tag, null)),
            ("/record/note", await Author.PutAsync(id, tag, "parents", (string)parent["key"]!, parent)),
            ("/text", await Author.SendAsync(HttpMethod.Post, proposal + "/comments", null, $$"""{ "text": "{{Key.ToUpperInvariant().Replace("DVD", "dvd", StringComparison.Ordinal)}}" }""")),
            ("?", await Author.SendAsync(HttpMethod.Post, $"{proposal}/imports?table={Key}", tag, "[]")),
            ("", await Author.ImportAsync(id, tag, "table=parents", "key,name,smiles,note\nx,x,CC=O,\n\"" + Key + "\",y,CC=O,\n")),
            ("Derivid-Reason", await Author.Client.SendAsync(withReason, Cancellation)),
            ("Idempotency-Key", await Author.SendAsync(HttpMethod.Post, Curator.Proposals, null, """{ "title": "A page" }""", Key)),
        ];
        foreach (var (place, response) in refused)
        {
            var problem = await response.ProblemAsync(ProblemTypes.InvalidRequest);
            response.Dispose();
            Assert.Contains("revoke", problem.MessageAt(place), StringComparison.Ordinal);
            Assert.DoesNotContain(Secret, problem.ToJsonString(), StringComparison.OrdinalIgnoreCase);
        }

        using var administrator = _service!.ClientWith(ServiceUnderTest.AdministratorKey);
        Assert.DoesNotContain(Secret, await administrator.GetStringAsync("/api/v1/audit?limit=500", Cancellation), StringComparison.OrdinalIgnoreCase);
        Assert.Equal(tag, await Author.TagAsync(id));
    }

    [Fact]
    public async Task AddressThatNamesNoRecordIsRefused()
    {
        var (id, tag) = await Author.MakeAsync();
        foreach (var (list, key, told) in new[]
        {
            ("parents", "benzoic acid", "single hyphens"), ("parents", "a--b", "single hyphens"), ("parents", "-a", "single hyphens"),
            ("parents", "a:b", "single hyphens"), ("parents", "b\u00e9", "single hyphens"), ("parents", new string('a', 201), "single hyphens"),
            ("parent-constants", "propanone", "parent_key:property:source_key:low"), ("parent-constants", "propanone:colour:x:1", "property"),
            ("parent-constants", "propanone:melting-point:x:warm", "low"), ("spot-test-responses", "tollens:first", "order"),
        })
        {
            using var put = await Author.PutAsync(id, tag, list, key, null);
            using var taken = await Author.SendAsync(HttpMethod.Delete, $"{Curator.Proposals}/{id}/records/{list}/{Uri.EscapeDataString(key)}", tag, null);

            Assert.Contains(told, (await put.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("key"), StringComparison.Ordinal);
            Assert.Contains(told, (await taken.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("key"), StringComparison.Ordinal);
        }

        Assert.Equal(tag, await Author.TagAsync(id));
    }

    [Fact]
    public async Task StructureReplacedByAnImportIsTheFirstNewWarning()
    {
        var (id, tag) = await Author.MakeAsync();
        var job = await Author.ImportedAsync(
            id, tag, "table=parents&dryRun=false", "name,smiles\n3-methylbutan-2-one,CCCCC=O\n4-methylbenzaldehyde,Cc1ccc(C=O)cc1\n");

        var validation = await Author.Client.JsonAtAsync($"{Curator.Proposals}/{id}/validation");

        Assert.Equal(("succeeded", 1, 1), (job.GetProperty("state").GetString(), job.GetProperty("changed").GetInt32(), job.GetProperty("unchanged").GetInt32()));
        var first = validation.GetProperty("findings").EnumerateArray().First(finding => finding.GetProperty("isNew").GetBoolean());
        Assert.Equal(
            ("warning", "3-methylbutan-2-one", "smiles"),
            (first.GetProperty("severity").GetString(), first.GetProperty("key").GetString(), first.GetProperty("field").GetString()));
        Assert.Contains("C5H10O, a ketone; this is another compound, C5H10O, an aldehyde", first.GetProperty("allowed").GetString()!, StringComparison.Ordinal);
        Assert.Contains("CAS number 563-80-4", first.GetProperty("allowed").GetString()!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task QuotationMarkLeftOpenAndMemberSentTwiceAreToldSo()
    {
        var rows = string.Concat(Enumerable.Range(0, 3000).Select(i => $"a{i},CC=O\n"));
        var ofShort = await FaultsAsync("name,smiles\n\"2-pentanone,CCCC(C)=O\nb,CC=O\nc,CC=O\n");
        var ofLong = await FaultsAsync("name,smiles\nz,CC=O\n\"2-pentanone,CCCC(C)=O\n" + rows);
        var ofArray = await FaultsAsync("""[{ "name": "a", "smiles": "CC=O", "name": "b" }]""", "application/json");
        var ofObject = await FaultsAsync("""{ "parents": [], "parents": [] }""", "application/json", "dryRun=true");
        var (id, tag) = await Author.MakeAsync();
        using var other = await Author.ImportAsync(id, tag, "table=parents", "<a/>", "text/xml");

        Assert.Contains(ofShort, fault => fault.Line == 2 && fault.Allowed.Contains("isn't closed, and what follows to the end of the file, 2 lines,", StringComparison.Ordinal));
        Assert.Contains(ofLong, fault => fault.Line == 3 && fault.Allowed.Contains("end of the file, " + Figure.Count(3000, "line"), StringComparison.Ordinal));
        Assert.Contains("given twice", Assert.Single(ofArray).Allowed, StringComparison.Ordinal);
        Assert.Contains("stands twice", Assert.Single(ofObject).Allowed, StringComparison.Ordinal);
        var types = (string)(await other.ProblemAsync(ProblemTypes.UnsupportedMediaType))["detail"]!;
        Assert.All(["text/csv", "application/json", "application/zip"], type => Assert.Contains(type, types, StringComparison.Ordinal));

        async Task<List<(int Line, string Allowed)>> FaultsAsync(string text, string type = "text/csv", string query = "table=parents")
        {
            var (proposal, revision) = await Author.MakeAsync();
            var job = await Author.ImportedAsync(proposal, revision, query, text, type);
            var faults = await Author.Client.JsonAtAsync($"/api/v1/imports/{job.GetProperty("id").GetString()}/faults?limit=500");
            return [.. faults.GetProperty("items").EnumerateArray().Select(fault => (fault.GetProperty("line").GetInt32(), fault.GetProperty("allowed").GetString()!))];
        }
    }

    [Fact]
    public async Task CursorMadeUpToHarmIsRefused()
    {
        await Author.MakeAsync();
        await Author.MakeAsync();
        var page = await Author.Client.JsonAtAsync($"{Curator.Proposals}?limit=1");
        var cursor = page.GetProperty("next").GetString()!.Split("cursor=")[1];
        var plain = System.Text.Encoding.UTF8.GetString(System.Buffers.Text.Base64Url.DecodeFromChars(cursor));
        foreach (var made in new[] { plain + "\0", plain[..31] + "\0\0", plain[..12] + "9999999999999999999aa" })
        {
            var text = System.Buffers.Text.Base64Url.EncodeToString(System.Text.Encoding.UTF8.GetBytes(made));
            using var refused = await Author.Client.GetAsync($"{Curator.Proposals}?limit=1&cursor={text}", Cancellation);
            await refused.ProblemAsync(ProblemTypes.InvalidRequest);
        }
    }

    [Fact]
    public async Task RemarksAreKeptInOrderAndProposalsListed()
    {
        var (id, tag) = await Author.MakeAsync("with remarks");
        using var first = await Author.Client.PostAsync($"{Curator.Proposals}/{id}/comments", """{ "text": "one" }""");
        using var second = await Reviewer.Client.PostAsync($"{Curator.Proposals}/{id}/comments", """{ "text": "two" }""");
        using var nowhere = await Reviewer.Client.PostAsync($"{Curator.Proposals}/none/comments", """{ "text": "two" }""");
        var remarks = (await Author.Client.JsonAtAsync($"{Curator.Proposals}/{id}/comments")).GetProperty("items");
        var page = await Author.Client.JsonAtAsync($"{Curator.Proposals}?state=draft&limit=1");

        Assert.Equal(["one", "two"], remarks.EnumerateArray().Select(item => item.GetProperty("text").GetString()));
        Assert.Equal(tag, await Author.TagAsync(id));
        await nowhere.ProblemAsync(ProblemTypes.NotFound);
        Assert.Equal(1, page.GetProperty("items").GetArrayLength());
    }

    [Fact]
    public async Task StructureAndCoverageHelpTheCurator()
    {
        using var known = await Author.Client.PostAsync("/api/v1/structures", """{ "smiles": "O=C(C)C", "name": "aceton" }""");
        using var wrong = await Author.Client.PostAsync("/api/v1/structures", """{ "smiles": "C(" }""");
        var structure = await known.JsonAsync(HttpStatusCode.OK);
        var coverage = await Author.Client.JsonAtAsync("/api/v1/coverage");

        Assert.Equal(("C3H6O", 58.08, "ketone"), (structure.GetProperty("formula").GetString(),
            structure.GetProperty("molarMass").GetDouble(), structure.GetProperty("kind").GetString()));
        Assert.Contains(structure.GetProperty("duplicates").EnumerateArray(), item => item.GetProperty("parent").GetString() == "propanone");
        await wrong.ProblemAsync(ProblemTypes.InvalidRequest);
        Assert.True(coverage.GetProperty("neverCrossChecked").GetArrayLength() > 0);
        Assert.True(coverage.GetProperty("inseparablePairsInAll").GetInt32() > 0);
    }

    private async Task<List<byte[]>> ExportsAsync(int version) =>
    [
        await Author.Client.GetByteArrayAsync($"/api/v1/table-versions/{version}/export.zip", Cancellation),
        await Author.Client.GetByteArrayAsync($"/api/v1/table-versions/{version}/export.json", Cancellation),
        await Author.Client.GetByteArrayAsync($"/api/v1/table-versions/{version}/tables/derivatives.csv", Cancellation),
        await Author.Client.GetByteArrayAsync($"/api/v1/table-versions/{version}/tables/parents.json", Cancellation),
    ];

    public sealed class OnSqlite() : CurationTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : CurationTests(async () => await server.NewDatabaseAsync());
}
