using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Core.Teaching;

namespace Derivid.Api.Tests.Curation;

/// <summary>What is read of the table, wherever it is read, can be sent back as it is and changes nothing.</summary>
public sealed class SendingBackTests(SqliteService service) : IAsyncLifetime
{
    private const string Version = "/api/v1/table-versions/1/";

    private Curator? _author;

    private Curator Author => _author!;

    public async ValueTask InitializeAsync() => _author = new Curator(await service.Service.ClientAsAsync(Role.Instructor));

    public ValueTask DisposeAsync()
    {
        Author.Client.Dispose();
        return ValueTask.CompletedTask;
    }

    [Fact]
    public async Task EveryRecordOfEveryKindComesBackUnchanged()
    {
        foreach (var (kind, rows) in await ReadEverywhereAsync())
        {
            var listed = await RowsAsync($"{Version}tables/{kind.TableName}.json");

            Assert.Equal(Keys(kind, listed), Keys(kind, rows).Distinct());
            foreach (var batch in (List<JsonElement>[])[listed, .. ByTurns(kind, rows)])
            {
                await ImportedUnchangedAsync(kind, batch);
            }
        }
    }

    [Fact]
    public async Task RecordPutBackProposesNothing()
    {
        var (id, tag) = await Author.MakeAsync();
        foreach (var (kind, rows) in await ReadEverywhereAsync())
        {
            foreach (var row in new[] { rows[0], rows[rows.Count / 2], rows[^1] })
            {
                (_, tag) = await Curator.DoneAsync(Author.PutAsync(id, tag, kind.TableName, KeyOf(kind, row), Node(row)));
            }
        }

        Assert.Equal(0, (await Author.DifferencesAsync(id)).GetProperty("items").GetArrayLength());
    }

    [Fact]
    public async Task WhatTheServiceComputesIsPassedOverWhateverItSays()
    {
        var derivatives = await ItemsAsync("/api/v1/derivatives?limit=1");
        var record = Node(derivatives[0]);
        record["computed"] = JsonNode.Parse("""{ "parentName": 3, "of": ["another", "service"] }""");
        var (id, tag) = await Author.MakeAsync();

        await Curator.DoneAsync(Author.PutAsync(id, tag, "derivatives", (string)record["key"]!, record));
        Assert.Equal(0, (await Author.DifferencesAsync(id)).GetProperty("items").GetArrayLength());

        record["parentName"] = "Propanone";
        using var other = await Author.PutAsync(id, await Author.TagAsync(id), "derivatives", (string)record["key"]!, record);
        Assert.Contains("parentName", (await other.AnyProblemAsync()).MessageAt("/record/parentName"), StringComparison.Ordinal);
    }

    // By kind of record, everything that the lists and the single resources tell; a record may be told more than once.
    private async Task<Dictionary<RecordKind, List<JsonElement>>> ReadEverywhereAsync()
    {
        var parents = await ItemsAsync("/api/v1/parents");
        var kinds = await ItemsAsync("/api/v1/derivative-kinds");
        var tests = await ItemsAsync("/api/v1/spot-tests");
        var sources = await ItemsAsync("/api/v1/sources");
        var details = new List<JsonElement>();
        foreach (var parent in parents)
        {
            details.Add(await Author.Client.JsonAtAsync("/api/v1/parents/" + parent.GetProperty("key").GetString()));
        }

        var read = new Dictionary<RecordKind, List<JsonElement>>
        {
            [RecordKinds.Sources] =
                [.. sources, await Author.Client.JsonAtAsync("/api/v1/sources/" + sources[0].GetProperty("key").GetString())],
            [RecordKinds.Parents] = [.. parents, .. details.Select(detail => detail.GetProperty("parent"))],
            [RecordKinds.ParentConstants] = [.. details.SelectMany(detail => detail.GetProperty("constants").EnumerateArray())],
            [RecordKinds.DerivativeKinds] = kinds,
            [RecordKinds.Colours] = await ItemsAsync("/api/v1/colours"),
            [RecordKinds.Derivatives] =
            [
                .. await ItemsAsync("/api/v1/derivatives"),
                .. details.SelectMany(detail => detail.GetProperty("derivatives").EnumerateArray()),
            ],
            [RecordKinds.SpotTestQuestions] = [.. tests.Select(test => test.GetProperty("computed").GetProperty("question"))],
            [RecordKinds.SpotTests] = tests,
            [RecordKinds.SpotTestResponses] =
                [.. tests.SelectMany(test => test.GetProperty("computed").GetProperty("responses").EnumerateArray())],
            [RecordKinds.ColourExpectations] =
                [.. kinds.SelectMany(kind => kind.GetProperty("computed").GetProperty("colourExpectations").EnumerateArray())],
            [RecordKinds.MeltingPointStandards] = await ItemsAsync("/api/v1/melting-point-standards"),
        };
        var whole = await Author.Client.JsonAtAsync(Version + "export.json");
        Assert.Equal(TableLayout.Standard.Kinds.ToHashSet(), read.Keys.ToHashSet());
        Assert.Equal(TableLayout.Standard.Kinds.Select(kind => kind.TableName), whole.EnumerateObject().Select(list => list.Name));
        foreach (var kind in TableLayout.Standard.Kinds)
        {
            read[kind].AddRange(whole.GetProperty(kind.TableName).EnumerateArray());
        }

        return read;
    }

    // An import takes no record twice: what was read once, what was read again, and so on.
    private static IEnumerable<List<JsonElement>> ByTurns(RecordKind kind, List<JsonElement> rows) => rows
        .GroupBy(row => KeyOf(kind, row))
        .SelectMany(readings => readings.Index())
        .GroupBy(reading => reading.Index, reading => reading.Item)
        .Select(turn => turn.ToList());

    private async Task ImportedUnchangedAsync(RecordKind kind, List<JsonElement> rows)
    {
        var (id, tag) = await Author.MakeAsync();
        var job = await Author.ImportedAsync(
            id, tag, $"table={kind.TableName}&dryRun=false", JsonSerializer.Serialize(rows), "application/json");

        Assert.Equal(("succeeded", rows.Count), (job.GetProperty("state").GetString(), job.GetProperty("unchanged").GetInt32()));
        Assert.Equal(0, (await Author.DifferencesAsync(id)).GetProperty("items").GetArrayLength());
    }

    private async Task<List<JsonElement>> ItemsAsync(string address)
    {
        var items = new List<JsonElement>();
        for (string? next = address; next is not null;)
        {
            var page = await Author.Client.JsonAtAsync(next);
            items.AddRange(page.GetProperty("items").EnumerateArray());
            next = address.Contains('?', StringComparison.Ordinal) || !page.TryGetProperty("next", out var link) ? null : link.GetString();
        }

        return items;
    }

    private async Task<List<JsonElement>> RowsAsync(string address) =>
        [.. (await Author.Client.JsonAtAsync(address)).EnumerateArray()];

    private static IEnumerable<string> Keys(RecordKind kind, IEnumerable<JsonElement> rows) =>
        rows.Select(row => KeyOf(kind, row)).Order(StringComparer.Ordinal);

    private static string KeyOf(RecordKind kind, JsonElement row) => kind.KeyOf(row.Deserialize(kind.RecordType, WireJson.WithDefaults)!);

    private static JsonObject Node(JsonElement row) => JsonObject.Create(row)!;
}
