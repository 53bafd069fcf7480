using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Core.Curation;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Api.Tests.Curation;

/// <summary>Files on their way into a proposal, over HTTP; the same on both engines.</summary>
public abstract class ImportTests(Func<Task<ITestDatabase>> newDatabase) : IAsyncLifetime
{
    private const string Header =
        "key,parent_key,kind_key,carbonyls_condensed,form,low_celsius,high_celsius,is_unusual,decomposes,colour_key,source_key,locator,as_printed,corrected,verification,note";

    private ITestDatabase? _database;
    private ServiceUnderTest? _service;
    private Curator? _author;
    private Curator? _reviewer;
    private string? _recalled;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    private Curator Author => _author!;

    public async ValueTask InitializeAsync()
    {
        _database = await newDatabase();
        _service = new ServiceUnderTest(_database.ConnectionString);
        (await _service.StartAsync()).Dispose();
        _author = new Curator(await _service.ClientAsAsync(Role.Instructor));
        _reviewer = new Curator(await _service.ClientAsAsync(Role.Instructor));
        var sources = await _author.Client.JsonAtAsync("/api/v1/table-versions/1/tables/sources.json");
        _recalled = sources.EnumerateArray().First(s => s.GetProperty("howRead").GetString() == "memory").GetProperty("key").GetString();
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
    public async Task EveryExportReadsBackAsNoChangeAtAll()
    {
        foreach (var kind in TableLayout.Standard.Kinds)
        {
            foreach (var (ending, media) in new[] { ("csv", "text/csv"), ("json", "application/json") })
            {
                var text = await Author.Client.GetStringAsync($"/api/v1/table-versions/1/tables/{kind.TableName}.{ending}", Cancellation);
                var (id, tag) = await Author.MakeAsync();

                var job = await Author.ImportedAsync(id, tag, $"table={kind.TableName}&whole=true&dryRun=false", text, media);

                Assert.Equal("succeeded", job.GetProperty("state").GetString());
                Assert.Equal((0, 0, 0), (job.GetProperty("added").GetInt32(), job.GetProperty("changed").GetInt32(), job.GetProperty("removed").GetInt32()));
                Assert.True(job.GetProperty("unchanged").GetInt32() > 0, kind.TableName);
                Assert.Equal(0, (await Author.DifferencesAsync(id)).GetProperty("items").GetArrayLength());
            }
        }
    }

    [Fact]
    public async Task FormulaIsNeutralisedOnTheWayOutAndReadsBackToTheLetter()
    {
        (string Note, string Cell)[] notes =
        [
            ("=1+1", "'=1+1"), ("+49 1", "'+49 1"), ("-x", "'-x"), ("@a", "'@a"), ("'quoted", "''quoted"), ("'=x", "''=x"),
            ("-95.4", "-95.4"), ("plain, \"with\" marks; and more", "\"plain, \"\"with\"\" marks; and more\""),
        ];
        var (id, tag) = await Author.MakeAsync();
        foreach (var (index, (note, _)) in notes.Index())
        {
            var record = await Author.RecordAsync("parents", index);
            record["note"] = note;
            (_, tag) = await Curator.DoneAsync(Author.PutAsync(id, tag, "parents", (string)record["key"]!, record));
        }

        var version = await Author.ReleaseAsync(id, tag, _reviewer!);

        var csv = await Author.Client.GetStringAsync($"/api/v1/table-versions/{version}/tables/parents.csv", Cancellation);
        Assert.All(notes, note => Assert.Contains("," + note.Cell + "\n", csv, StringComparison.Ordinal));
        (id, tag) = await Author.MakeAsync();
        var job = await Author.ImportedAsync(id, tag, "table=parents&whole=true&dryRun=false", csv);
        Assert.Equal((0, 0, 0), (job.GetProperty("changed").GetInt32(), job.GetProperty("removed").GetInt32(), job.GetProperty("faults").GetInt32()));
    }

    [Fact]
    public async Task DryRunChangesNothingAndTheRealOneTakesAllRows()
    {
        var csv = $"{Header}\nzz-1,propanone,semicarbazone,1,,187,188,,no,,{_recalled},p. 1,187-188,unstated,recalled,\n"
            + $"zz-2,propanone,oxime,1,,59,59,,no,,{_recalled},,59,unstated,recalled,\n";
        var (id, tag) = await Author.MakeAsync();

        var dry = await Author.ImportedAsync(id, tag, "table=derivatives", csv);
        var afterDry = await Author.DifferencesAsync(id);
        var real = await Author.ImportedAsync(id, tag, "table=derivatives&dryRun=false", csv);
        var differences = (await Author.DifferencesAsync(id)).GetProperty("items");

        Assert.Equal(("succeeded", true, 2, 100), (dry.GetProperty("state").GetString(), dry.GetProperty("dryRun").GetBoolean(), dry.GetProperty("added").GetInt32(), dry.GetProperty("percent").GetInt32()));
        Assert.Equal(0, afterDry.GetProperty("items").GetArrayLength());
        Assert.Equal(("succeeded", 2), (real.GetProperty("state").GetString(), real.GetProperty("rows").GetInt32()));
        Assert.Equal(["zz-1", "zz-2"], differences.EnumerateArray().Select(item => item.GetProperty("key").GetString()));
        Assert.NotEqual(tag, await Author.TagAsync(id));
    }

    [Fact]
    public async Task SameIdempotencyKeyStartsOneImportEvenAfterItsRowsWereTaken()
    {
        var csv = Encoding.UTF8.GetBytes($"{Header}\nzz-1,propanone,semicarbazone,1,,187,188,,no,,{_recalled},p. 1,187-188,unstated,recalled,\n");
        var (id, tag) = await Author.MakeAsync();
        using var first = await SendAsync("table=derivatives&dryRun=false", csv);
        var started = await first.JsonAsync(HttpStatusCode.Accepted);
        var ended = await Author.EndedAsync(started.GetProperty("id").GetString()!);
        using var second = await SendAsync("table=derivatives&dryRun=false", csv);
        using var otherQuery = await SendAsync("table=derivatives&dryRun=true", csv);
        using var otherFile = await SendAsync("table=derivatives&dryRun=false", [.. csv, (byte)'\n']);

        Assert.Equal("succeeded", ended.GetProperty("state").GetString());
        Assert.Equal(ended.GetRawText(), (await second.JsonAsync(HttpStatusCode.Accepted)).GetRawText());
        Assert.Equal(first.Headers.Location, second.Headers.Location);
        await otherQuery.ProblemAsync(ProblemTypes.IdempotencyKeyReused);
        await otherFile.ProblemAsync(ProblemTypes.IdempotencyKeyReused);

        Task<HttpResponseMessage> SendAsync(string query, byte[] file) => Author.ImportAsync(id, tag, query, file, idempotencyKey: "page 1");
    }

    [Fact]
    public async Task EveryBadRowIsReportedWithLineColumnValueAndWhatIsAllowed()
    {
        var csv = $"{Header}\n"
            + $"zz-1,propanone,semicarbazone,1,,187,188,,no,,{_recalled},,187-188,unstated,recalled,\n"
            + $"zz-2,nobody,semicarbazone,1,,190,188,,maybe,,{_recalled},,190-188,unstated,seen,\n"
            + "a,b\n"
            + $"zz-1,propanone,oxime,1,,warm,59,,no,,{_recalled},,59,unstated,recalled,\n"
            + $"zz-4,propanone,oxime,1,,59,59,,no,mauve,nowhere,,59,unstated,recalled,\n";
        var (id, tag) = await Author.MakeAsync();

        var job = await Author.ImportedAsync(id, tag, "table=derivatives&dryRun=false", csv);
        var faults = (await Author.Client.JsonAtAsync($"/api/v1/imports/{job.GetProperty("id").GetString()}/faults")).GetProperty("items")
            .EnumerateArray().Select(f => $"{f.GetProperty("line")} {f.GetProperty("column").GetString()} {f.GetProperty("value").GetString()}").ToList();

        Assert.Equal(("failed", 5), (job.GetProperty("state").GetString(), job.GetProperty("rows").GetInt32()));
        Assert.Equal(
            [
                "3 as_printed 190-188", "3 decomposes maybe", "3 low_celsius 190", "3 parent_key nobody", "3 verification seen", "4  a b",
                "5 key zz-1", "5 low_celsius warm", "6 colour_key mauve", "6 source_key nowhere",
            ],
            faults.Order(StringComparer.Ordinal));
        Assert.Equal((faults.Count, 4), (job.GetProperty("faults").GetInt32(), job.GetProperty("rowsAtFault").GetInt32()));
        Assert.Equal(0, (await Author.DifferencesAsync(id)).GetProperty("items").GetArrayLength());
    }

    [Fact]
    public async Task HabitsOfSpreadsheetsAreTolerated()
    {
        var columns = Header.Split(',').Reverse().ToList();
        string Row(params (string Column, string Cell)[] cells) =>
            string.Join(';', columns.Select(column => cells.FirstOrDefault(cell => cell.Column == column).Cell ?? ""));
        (string, string)[] common = [("parent_key", "propanone "), ("carbonyls_condensed", "1"), ("source_key", _recalled!), ("corrected", "Unstated"), ("verification", " RECALLED")];
        var csv = "\uFEFF" + string.Join(';', columns.Select(c => c.ToUpperInvariant())) + ";;\r\n"
            + Row([("key", "zz-1"), ("kind_key", "semicarbazone"), ("low_celsius", "187,5"), ("high_celsius", "188"), ("decomposes", "dec."), ("as_printed", "187,5–188 dec."), .. common]) + ";;\r\n"
            + Row([("key", "zz-2"), ("kind_key", "semicarbazone"), ("as_printed", "189–190 d"), .. common]) + "\r\n"
            + Row([("key", "zz-3"), ("kind_key", "oxime"), ("low_celsius", "59-60"), .. common]) + "\r\n"
            + new string(';', columns.Count - 1) + "\r\n";
        var (id, tag) = await Author.MakeAsync();

        var job = await Author.ImportedAsync(id, tag, "table=derivatives&dryRun=false", csv);
        var after = (await Author.DifferencesAsync(id)).GetProperty("items").EnumerateArray().Select(item => item.GetProperty("after")).ToList();

        Assert.True(job.GetProperty("state").GetString() == "succeeded", job + (await Author.Client.GetStringAsync($"/api/v1/imports/{job.GetProperty("id").GetString()}/faults", Cancellation)));
        Assert.Equal(
            ["zz-1 187.5 188 True", "zz-2 189 190 True", "zz-3 59 60 False"],
            after.Select(r => $"{r.GetProperty("key").GetString()} {r.GetProperty("lowCelsius")} {r.GetProperty("highCelsius")} {r.GetProperty("decomposes").GetBoolean()}"));
    }

    [Fact]
    public async Task JsonFaultsNameItemAndPropertyAndABreakIsTold()
    {
        const string Json = """[{ "key": "zz", "name": "zz", "rank": "first", "synonyms": [] }, { "key": "yy" }, { "key": """;
        var (id, tag) = await Author.MakeAsync();

        var job = await Author.ImportedAsync(id, tag, "table=colours", Json, "application/json");
        var faults = (await Author.Client.JsonAtAsync($"/api/v1/imports/{job.GetProperty("id").GetString()}/faults?limit=3"));
        var rest = await Author.Client.JsonAtAsync(faults.GetProperty("next").GetString()!);

        var all = faults.GetProperty("items").EnumerateArray().Concat(rest.GetProperty("items").EnumerateArray())
            .Select(f => $"{f.GetProperty("line")} {f.GetProperty("column").GetString()}");
        Assert.Equal(["1 rank", "2 name", "2 synonyms", "3 "], all);
    }

    [Fact]
    public async Task SmallFileThatUnpacksToARowOfMillionsOfCellsIsAFaultOfItsLine()
    {
        var (id, tag) = await Author.MakeAsync();
        using var started = await Author.ImportAsync(
            id, tag, "", Zip(("sources.csv", "key,citation\nzz,A book\n" + new string(',', 3_000_000) + "\n")), "application/zip");
        var job = await Author.EndedAsync((await started.JsonAsync(HttpStatusCode.Accepted)).GetProperty("id").GetString()!);

        var faults = await Author.Client.JsonAtAsync($"/api/v1/imports/{job.GetProperty("id").GetString()}/faults");
        var last = faults.GetProperty("items").EnumerateArray().Last();
        Assert.Equal(
            (3, "", "a row of at most 4,096 cells and 1,048,576 characters"),
            (last.GetProperty("line").GetInt32(), last.GetProperty("value").GetString(), last.GetProperty("allowed").GetString()));
    }

    [Fact]
    public async Task ArchiveOfFilesWithoutEndIsRefusedAndOfStraysOnlySomeAreNamed()
    {
        var (id, tag) = await Author.MakeAsync();
        using var many = await Author.ImportAsync(id, tag, "", Zip([.. Enumerable.Range(0, 1001).Select(file => ($"{file}.csv", ""))]), "application/zip");
        using var some = await Author.ImportAsync(id, tag, "", Zip([.. Enumerable.Range(0, 1000).Select(file => ($"{file}.csv", ""))]), "application/zip");

        Assert.StartsWith(
            "An archive may hold at most 1,000 files here", (string)(await many.ProblemAsync(ProblemTypes.TooLarge))["detail"]!, StringComparison.Ordinal);
        var job = await Author.EndedAsync((await some.JsonAsync(HttpStatusCode.Accepted)).GetProperty("id").GetString()!);
        var faults = (await Author.Client.JsonAtAsync($"/api/v1/imports/{job.GetProperty("id").GetString()}/faults?limit=500")).GetProperty("items");
        Assert.Equal((51, "950 more like these"), (faults.GetArrayLength(), faults[50].GetProperty("value").GetString()));
    }

    [Fact]
    public async Task ReadingStopsWhereThereAreMoreFaultsThanAreKeptAndSaysSo()
    {
        var (id, tag) = await Author.MakeAsync();

        var job = await Author.ImportedAsync(id, tag, "", $$"""{"sources":[{{string.Join(',', Enumerable.Repeat('1', 100_000))}}]}""", "application/json");

        Assert.Equal(("failed", 20_000, 20_001), (job.GetProperty("state").GetString(), job.GetProperty("faults").GetInt32(), job.GetProperty("rows").GetInt32()));
        Assert.StartsWith(
            "More than 20,000 faults, with which the reading stopped, at 20,001 rows; nothing was taken.", job.GetProperty("message").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task JsonIsReadPieceByPiece()
    {
        const string TooLong = "items and texts of at most 1,048,576 bytes each";
        var (text, list) = (new string('a', 1_100_000), string.Join(',', Enumerable.Repeat('1', 600_000)));
        (string Json, string Place, string Allowed)[] sent =
        [
            ($$"""{"sources":[{"key":"{{text}}"}]}""", " 0", TooLong),
            ($$"""{"sources":"{{text}}"}""", " 0", TooLong),
            ($$"""{"sources":[{"key":[{{list}}]}]}""", "sources 1", TooLong),
            ($$"""{"sources":[],"shades":[{{list}}]}""", " 0", "the name of a list"),
            ("""{"sources":[]}x""", " 0", "well-formed JSON; it breaks off or goes wrong near line 1"),
            ("""{"sources":[""", " 0", "well-formed JSON; it breaks off or goes wrong near line 1"),
            ("""[]""", " 0", "an object with an array a list"),
        ];
        var (id, tag) = await Author.MakeAsync();
        foreach (var (json, place, allowed) in sent)
        {
            var job = await Author.ImportedAsync(id, tag, "", json, "application/json");

            Assert.Equal("failed", job.GetProperty("state").GetString());
            var faults = await Author.Client.JsonAtAsync($"/api/v1/imports/{job.GetProperty("id").GetString()}/faults");
            var fault = Assert.Single(faults.GetProperty("items").EnumerateArray());
            Assert.Equal(place, $"{(fault.TryGetProperty("table", out var within) ? within.GetString() : "")} {fault.GetProperty("line")}");
            Assert.StartsWith(allowed, fault.GetProperty("allowed").GetString(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task NamesHoldWhateverTheirSenderLikesAndAreKeptAsTheyCanBe()
    {
        var (id, tag) = await Author.MakeAsync();
        var archive = Zip(("a~b.csv", "x"), ("c\u001bd.csv", "x"));
        for (var place = archive.AsSpan().IndexOf("a~b"u8); place >= 0; place = archive.AsSpan().IndexOf("a~b"u8))
        {
            archive[place + 1] = 0;
        }

        using var zipped = await Author.ImportAsync(id, tag, "", archive, "application/zip");
        List<JsonElement> jobs = [await Author.EndedAsync((await zipped.JsonAsync(HttpStatusCode.Accepted)).GetProperty("id").GetString()!)];
        foreach (var json in new[]
        {
            """{"a\u0000b":[1]}""", """{"sources":[{"a\u0000b":1}]}""", """{"sources":[{"key":"a\u0000b"}]}""",
            $$"""{"{{new string('x', 199)}}\ud83d\ude00":[]}""",
        })
        {
            jobs.Add(await Author.ImportedAsync(id, tag, "", json, "application/json"));
        }

        Assert.All(jobs, job => Assert.Equal("failed", job.GetProperty("state").GetString()));
        var faults = await Author.Client.GetStringAsync($"/api/v1/imports/{jobs[0].GetProperty("id").GetString()}/faults", Cancellation);
        Assert.Equal(
            ["a\uFFFDb.csv", "c\uFFFDd.csv"],
            JsonElement.Parse(faults).GetProperty("items").EnumerateArray().Select(fault => fault.GetProperty("value").GetString()).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task KeyInTheNameOfAFileIsKeptNowhere()
    {
        var (id, tag) = await Author.MakeAsync();
        using var refused = await Author.ImportAsync(id, tag, "", Zip(($"{ServiceUnderTest.AdministratorKey}.csv", "x")), "application/zip");

        var told = (await refused.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("");
        Assert.Contains("Holds a key, which others could read here; nothing was kept.", told, StringComparison.Ordinal);
        Assert.DoesNotContain(ServiceUnderTest.AdministratorKey, told, StringComparison.Ordinal);
        Assert.Equal(tag, await Author.TagAsync(id));

        // Nor where escapes hide it.
        var hidden = "\\u0064" + ServiceUnderTest.AdministratorKey[1..];
        foreach (var json in new[] { $$"""{"{{hidden}}":[]}""", $$"""{"sources":[{"{{hidden}}":1}]}""", $$"""{"sources":[{"key":"{{hidden}}"}]}""" })
        {
            var job = await Author.ImportedAsync(id, tag, "", json, "application/json");
            var faults = await Author.Client.GetStringAsync($"/api/v1/imports/{job.GetProperty("id").GetString()}/faults", Cancellation);
            Assert.DoesNotContain(ServiceUnderTest.AdministratorKey[^32..], faults, StringComparison.OrdinalIgnoreCase);
        }
    }

    private static byte[] Zip(params (string Name, string Text)[] files)
    {
        using var bytes = new MemoryStream();
        using (var archive = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, text) in files)
            {
                using var entry = archive.CreateEntry(name).Open();
                entry.Write(Encoding.UTF8.GetBytes(text));
            }
        }

        return bytes.ToArray();
    }

    [Fact]
    public async Task NulIsCalledByItsName()
    {
        var (id, tag) = await Author.MakeAsync();
        using var response = await Author.ImportAsync(id, tag, "table=colours", "key,name\nzz,z\0z\n");

        var message = (await response.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("");
        Assert.StartsWith("Near line 2 there is a NUL character", message, StringComparison.Ordinal);
        Assert.DoesNotContain("not UTF-8", message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task OtherEncodingIsAFaultOfItsCellAndHidesNothing()
    {
        var (id, tag) = await Author.MakeAsync();
        var bytes = Encoding.Latin1.GetBytes("key,name,rank\nzz,wei\u00DF,\nyy,y,first\nxx,\"x\nww,w,\n");
        using var started = await Author.ImportAsync(id, tag, "table=colours", bytes);
        var job = await Author.EndedAsync((await started.JsonAsync(HttpStatusCode.Accepted)).GetProperty("id").GetString()!);

        Assert.Equal(["colours 2 name", "colours 3 rank", "colours 4 "], await FaultsAsync(job));
    }

    [Fact]
    public async Task ListsThatComeTogetherAreHeldAgainstEachOther()
    {
        var (id, tag) = await Author.MakeAsync();
        const string Lists = """
            {
              "sources": [{ "key": "zz-book", "citation": "A book", "grade": "compiled", "family": "zz-book", "howRead": "pageRead" }],
              "parents": [
                { "key": "zz-parent", "name": "5-ethylundecan-2-one", "synonyms": [], "smiles": "CCCCCCC(CC)CCC(C)=O" },
                { "key": "zz-other", "name": "unlike", "synonyms": [], "smiles": "CCCCCCC(CC)CCC(C)=O", "formula": "C2" }
              ],
              "derivatives": [
                { "parentKey": "zz-parent", "kindKey": "semicarbazone", "lowCelsius": 120, "highCelsius": 121, "sourceKey": "zz-book" },
                { "parentKey": "zz-nobody", "kindKey": "semicarbazone", "lowCelsius": 125, "highCelsius": 121, "sourceKey": "zz-book" }
              ],
              "shades": []
            }
            """;

        var job = await Author.ImportedAsync(id, tag, "", Lists, "application/json");

        Assert.Equal(["  shades", "derivatives 2 lowCelsius", "derivatives 2 parentKey", "parents 2 formula"], await FaultsAsync(job, value: "shades"));
        Assert.False(job.TryGetProperty("table", out _));
        Assert.Equal((5, 2), (job.GetProperty("rows").GetInt32(), job.GetProperty("rowsAtFault").GetInt32()));
    }

    [Fact]
    public async Task RecordThatIsLeftAsItIsCountsToo()
    {
        var (id, tag) = await Author.MakeAsync();
        var sources = await Author.Client.GetStringAsync("/api/v1/table-versions/1/tables/sources.csv", Cancellation);
        var without = string.Join('\n', sources.TrimEnd('\n').Split('\n').Where(line => !line.StartsWith(_recalled + ",", StringComparison.Ordinal)));

        var job = await Author.ImportedAsync(id, tag, "table=sources&whole=true", without);

        Assert.Equal("failed", job.GetProperty("state").GetString());
        Assert.Equal(0, job.GetProperty("rowsAtFault").GetInt32());
        Assert.All(await FaultsAsync(job), fault => Assert.EndsWith(" 0 source_key", fault, StringComparison.Ordinal));
    }

    [Fact]
    public async Task ColumnLeftOutLeavesWhatIsListed()
    {
        var (id, tag) = await Author.MakeAsync();

        var listed = (await Author.Client.JsonAtAsync("/api/v1/parents/propanone")).GetProperty("parent");
        var csv = $"key,name,smiles,note\npropanone,{listed.GetProperty("name").GetString()},{listed.GetProperty("smiles").GetString()},looked at again\n";
        var job = await Author.ImportedAsync(id, tag, "table=parents&dryRun=false", csv);
        var change = Assert.Single((await Author.DifferencesAsync(id)).GetProperty("items").EnumerateArray());

        Assert.Equal((1, "propanone"), (job.GetProperty("changed").GetInt32(), change.GetProperty("key").GetString()));
        Assert.Equal("note", Assert.Single(change.GetProperty("fields").EnumerateArray()).GetString());
    }

    private async Task<List<string>> FaultsAsync(JsonElement job, string? value = null)
    {
        var faults = await Author.Client.JsonAtAsync($"/api/v1/imports/{job.GetProperty("id").GetString()}/faults?limit=500");
        return
        [
            .. faults.GetProperty("items").EnumerateArray().Select(fault => fault.GetProperty("value").GetString() is { } said && said == value
                ? "  " + said
                : $"{(fault.TryGetProperty("table", out var list) ? list.GetString() : "")} {fault.GetProperty("line")} {fault.GetProperty("column").GetString()}")
                .Order(StringComparer.Ordinal),
        ];
    }

    [Fact]
    public async Task WholeListLeavesOutWhatTheFileLacks()
    {
        var csv = await Author.Client.GetStringAsync("/api/v1/table-versions/1/tables/melting-point-standards.csv", Cancellation);
        var lines = csv.TrimEnd('\n').Split('\n');
        var (id, tag) = await Author.MakeAsync();

        var job = await Author.ImportedAsync(id, tag, "table=melting-point-standards&whole=true&dryRun=false", string.Join('\n', lines.SkipLast(2)));

        Assert.Equal(2, job.GetProperty("removed").GetInt32());
        Assert.Equal(["removed", "removed"], (await Author.DifferencesAsync(id)).GetProperty("items").EnumerateArray().Select(i => i.GetProperty("type").GetString()));
    }

    [Fact]
    public async Task WhatIsNoTableFileIsRefusedEarly()
    {
        var (id, tag) = await Author.MakeAsync();
        const string Query = "table=derivatives";
        using var bomb = new MemoryStream();
        using (var archive = new ZipArchive(bomb, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var entry = archive.CreateEntry("a.csv").Open();
            entry.Write(new byte[10_000_000]);
        }

        byte[][] foreign =
        [
            bomb.ToArray(), [0x1F, 0x8B, 8, 0], [0xD0, 0xCF, 0x11, 0xE0, 1], Encoding.Unicode.GetPreamble().Concat(Encoding.Unicode.GetBytes(Header)).ToArray(),
            [.. Encoding.UTF8.GetBytes(Header), 0], [], new byte[70_000],
            Encoding.ASCII.GetBytes(new string('a', 70_000)),
        ];
        foreach (var bytes in foreign)
        {
            using var refused = await Author.ImportAsync(id, tag, Query, bytes);
            await refused.ProblemAsync(ProblemTypes.InvalidRequest);
        }

        foreach (var type in new[] { "application/zip", "text/csv; charset=utf-16", "multipart/form-data; boundary=x", "text/plain" })
        {
            using var refused = await Author.ImportAsync(id, tag, Query, Header, type);
            await refused.ProblemAsync(ProblemTypes.UnsupportedMediaType);
        }

        using var nameless = await Author.ImportAsync(id, tag, "table=nothing", Header);
        using var missing = await Author.ImportAsync(id, tag, "", Header);
        using var stale = await Author.ImportAsync(id, "\"99\"", Query, Header);
        await nameless.ProblemAsync(ProblemTypes.InvalidRequest);
        await missing.ProblemAsync(ProblemTypes.InvalidRequest);
        await stale.ProblemAsync(ProblemTypes.StaleRevision);
        await WrongHeaderIsToldAsync(id, tag);
    }

    [Fact]
    public async Task BodyOfAGigabyteIsRefusedWithoutBeingRead()
    {
        var (id, tag) = await Author.MakeAsync();
        using var announced = new HttpRequestMessage(HttpMethod.Post, $"{Curator.Proposals}/{id}/imports?table=derivatives")
        {
            Content = new StreamContent(new Endless(1 << 30)),
        };
        announced.Content.Headers.ContentType = new MediaTypeHeaderValue("text/csv");
        announced.Content.Headers.ContentLength = 1 << 30;
        announced.Headers.TryAddWithoutValidation("If-Match", tag);
        announced.Headers.ExpectContinue = true;
        using var early = await Author.Client.SendAsync(announced, Cancellation);
        await early.ProblemAsync(ProblemTypes.TooLarge);

        using var chunked = new HttpRequestMessage(HttpMethod.Post, $"{Curator.Proposals}/{id}/imports?table=derivatives")
        {
            Content = new StreamContent(new Endless(RequestLimits.ImportBytes + 1)),
        };
        chunked.Content.Headers.ContentType = new MediaTypeHeaderValue("text/csv");
        chunked.Headers.TransferEncodingChunked = true;
        chunked.Headers.TryAddWithoutValidation("If-Match", tag);
        using var late = await Author.Client.SendAsync(chunked, Cancellation);
        await late.ProblemAsync(ProblemTypes.TooLarge);
    }

    [Fact]
    public async Task ProposalChangedMeanwhileIsNotOverwritten()
    {
        var csv = new StringBuilder(Header).Append('\n');
        for (var i = 0; i < 3000; i++)
        {
            csv.Append(System.Globalization.CultureInfo.InvariantCulture, $"zz-{i},propanone,semicarbazone,1,,187,188,,no,,{_recalled},p. {i},187-188,unstated,recalled,\n");
        }

        var record = await Author.RecordAsync("parents", 0);
        var (id, tag) = await Author.MakeAsync();
        using var started = await Author.ImportAsync(id, tag, "table=derivatives&dryRun=false", csv.ToString());
        var import = (await started.JsonAsync(HttpStatusCode.Accepted)).GetProperty("id").GetString()!;
        using var put = await Author.PutAsync(id, tag, "parents", (string)record["key"]!, record);

        var job = await Author.EndedAsync(import);

        // Whichever was first wins; the other is told, and nothing of it is kept.
        var differences = (await Author.DifferencesAsync(id)).GetProperty("items").GetArrayLength();
        if (put.StatusCode == HttpStatusCode.OK)
        {
            Assert.Equal(("failed", 0), (job.GetProperty("state").GetString(), differences));
            Assert.Contains("changed since revision 1", job.GetProperty("message").GetString(), StringComparison.Ordinal);
        }
        else
        {
            await put.ProblemAsync(ProblemTypes.StaleRevision);
            Assert.Equal("succeeded", job.GetProperty("state").GetString());
        }
    }

    private async Task WrongHeaderIsToldAsync(string id, string tag)
    {
        var job = await Author.ImportedAsync(id, tag, "table=colours", "key,name,name,shade\na,b,c,d\n");
        var faults = await Author.Client.JsonAtAsync($"/api/v1/imports/{job.GetProperty("id").GetString()}/faults");
        Assert.Equal(
            ["1 name", "1 shade"],
            faults.GetProperty("items").EnumerateArray().Select(f => $"{f.GetProperty("line")} {f.GetProperty("column").GetString()}").Order(StringComparer.Ordinal));
    }

    // Text without end, made up as it is read.
    private sealed class Endless(long length) : Stream
    {
        private long _given;

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => length;

        public override long Position
        {
            get => _given;
            set => throw new NotSupportedException();
        }

        public override int Read(byte[] buffer, int offset, int count)
        {
            var given = (int)Math.Min(count, length - _given);
            buffer.AsSpan(offset, given).Fill((byte)'\n');
            _given += given;
            return given;
        }

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }

    public sealed class OnSqlite() : ImportTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : ImportTests(async () => await server.NewDatabaseAsync());
}
