using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Api.Tests.Curation;

/// <summary>
/// The examples of curation: two people take a proposal from draft to version, and every answer is the one in the
/// published document. With DERIVID_RESEAL=1 the walk writes the files it otherwise compares.
/// </summary>
public sealed class CurationExamplesTests
{
    private readonly List<string> _differing = [];

    public static IReadOnlyList<string> Operations { get; } =
    [
        "listProposals", "makeProposal", "getProposal", "describeProposal", "listProposalAudit", "listComments", "makeComment",
        "listProposedChanges", "validateProposal", "proposeRecord", "takeBackRecord",
        "submitProposal", "reviewProposal", "releaseProposal", "rebaseProposal", "withdrawProposal",
        "startImport", "getImport", "listImportFaults", "cancelImport",
        "exportTableAsCsv", "exportTableAsJson", "exportVersionAsZip", "exportVersionAsDataPackage", "exportVersionAsJson", "compareTableVersions",
        "describeStructure", "drawStructure", "getCoverage",
        "getSheet", "sendReadings", "getReadSheet", "getWorthChecking", "getVerificationProgress",
        "getLearning", "proposeLearned",
    ];

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task EveryExampleIsWhatTheServiceAnswers()
    {
        await using var database = new SqliteDatabase();
        await using var service = ExampleTable.NewService(database.ConnectionString);
        (await service.StartAsync()).Dispose();
        using var author = await service.ClientAsAsync(Role.Instructor);
        using var reviewer = await service.ClientAsAsync(Role.Instructor);

        await AskAsync(author, "describeStructure", HttpMethod.Post, "/structures", null);
        await AskAsync(
            author, "drawStructure", HttpMethod.Get, "/structures/drawing?smiles=CC%28C%29%3DO&name=propanone", null, answer: "svg");
        await AskAsync(author, "getCoverage", HttpMethod.Get, "/coverage", null);
        var (id, tag) = await MadeAsync(author);
        await GatherAsync(author, id, tag);
        await ImportAsync(author, id);
        await VerifyAsync(author);
        await DecideAsync(author, reviewer, id);
        await TakeAwayAsync(author);
        await LearnAsync(author, service);

        Assert.True(_differing.Count == 0, "Seal the examples of " + string.Join(", ", _differing));
    }

    private async Task<(string Id, string? Tag)> MadeAsync(HttpClient client)
    {
        using var made = await AskAsync(client, "makeProposal", HttpMethod.Post, "/proposals", null);
        var body = JsonNode.Parse(await made.Content.ReadAsStringAsync(Cancellation))!;
        return ((string)body["id"]!, made.Headers.ETag!.ToString());
    }

    private async Task GatherAsync(HttpClient author, string id, string? tag)
    {
        var proposal = "/proposals/" + id;
        const string Record = "/records/derivatives/propanone-semicarbazone-1";
        tag = await NextAsync(author, "describeProposal", HttpMethod.Put, proposal, tag);
        tag = await NextAsync(author, "proposeRecord", HttpMethod.Put, proposal + Record, tag);
        await AskAsync(author, "listProposedChanges", HttpMethod.Get, proposal + "/differences", null);
        await AskAsync(author, "validateProposal", HttpMethod.Get, proposal + "/validation", null);
        await NextAsync(author, "takeBackRecord", HttpMethod.Delete, proposal + Record, tag);
        await AskAsync(author, "makeComment", HttpMethod.Post, proposal + "/comments", null);
        await AskAsync(author, "listComments", HttpMethod.Get, proposal + "/comments", null);
        await AskAsync(author, "listProposalAudit", HttpMethod.Get, proposal + "/audit", null);
        await AskAsync(author, "getProposal", HttpMethod.Get, proposal, null);
        await AskAsync(author, "listProposals", HttpMethod.Get, "/proposals", null);
    }

    private async Task ImportAsync(HttpClient author, string id)
    {
        var curator = new Curator(author);
        var tag = await curator.TagAsync(id);
        using var started = await AskAsync(author, "startImport", HttpMethod.Post, $"/proposals/{id}/imports?table=derivatives", tag, "csv");
        var import = (string)JsonNode.Parse(await started.Content.ReadAsStringAsync(Cancellation))!["id"]!;
        await curator.EndedAsync(import);
        await AskAsync(author, "getImport", HttpMethod.Get, "/imports/" + import, null);
        await AskAsync(author, "listImportFaults", HttpMethod.Get, $"/imports/{import}/faults", null);
        await AskAsync(author, "cancelImport", HttpMethod.Delete, "/imports/" + import, null);
    }

    private async Task VerifyAsync(HttpClient author)
    {
        const string Source = "sourceKey=practical-organic-chemistry";
        await AskAsync(author, "getSheet", HttpMethod.Get, $"/verification/sheet?{Source}&kinds=oxime%2Csemicarbazone&limit=3", null);
        using var sent = await AskAsync(author, "sendReadings", HttpMethod.Post, $"/verification/readings?{Source}&locator=p.%20212%20%28invented%29", null);
        await AskAsync(author, "getReadSheet", HttpMethod.Get, sent.Headers.Location!.ToString()["/api/v1".Length..], null);
        await AskAsync(author, "getWorthChecking", HttpMethod.Get, "/verification/worth-checking?limit=3", null);
        await AskAsync(author, "getVerificationProgress", HttpMethod.Get, "/verification/progress", null);
    }

    private async Task LearnAsync(HttpClient author, ServiceUnderTest service)
    {
        await new TaughtClass().WriteAsync(service);
        await new TaughtClass().WriteAsync(service);
        await AskAsync(author, "getLearning", HttpMethod.Get, "/learning", null);
        await AskAsync(author, "proposeLearned", HttpMethod.Post, "/learning", null);
    }

    private async Task DecideAsync(HttpClient author, HttpClient reviewer, string id)
    {
        var curator = new Curator(author);
        var (other, otherTag) = await curator.MakeAsync();
        otherTag = (await NextAsync(author, "rebaseProposal", HttpMethod.Post, $"/proposals/{other}/rebase", otherTag))!;
        await NextAsync(author, "withdrawProposal", HttpMethod.Post, $"/proposals/{other}/withdrawal", otherTag);

        var record = JsonNode.Parse((await ExampleFiles.ReadAsync("proposeRecord.request"))!)!["record"]!;
        var (_, tag) = await Curator.DoneAsync(
            curator.PutAsync(id, await curator.TagAsync(id), "derivatives", (string)record["key"]!, record));
        tag = (await NextAsync(author, "submitProposal", HttpMethod.Post, $"/proposals/{id}/submission", tag))!;
        tag = (await NextAsync(reviewer, "reviewProposal", HttpMethod.Post, $"/proposals/{id}/review", tag))!;
        await NextAsync(reviewer, "releaseProposal", HttpMethod.Post, $"/proposals/{id}/release", tag);
    }

    private async Task TakeAwayAsync(HttpClient client)
    {
        await AskAsync(client, "compareTableVersions", HttpMethod.Get, "/table-versions/1/differences/2", null);
        await AskAsync(client, "exportTableAsJson", HttpMethod.Get, "/table-versions/2/tables/colours.json", null);
        await AskAsync(client, "exportTableAsCsv", HttpMethod.Get, "/table-versions/2/tables/colours.csv", null, answer: "csv");
        await AskAsync(client, "exportVersionAsJson", HttpMethod.Get, "/table-versions/2/export.json", null);

        // An archive can't be shown; its example says what it is.
        using var archive = await client.GetAsync("/api/v1/table-versions/2/export.zip", Cancellation);
        Assert.Equal("application/zip", archive.Content.Headers.ContentType!.MediaType);
    }

    private async Task<string?> NextAsync(HttpClient client, string name, HttpMethod method, string path, string? tag)
    {
        using var response = await AskAsync(client, name, method, path, tag);
        return response.Headers.ETag?.ToString();
    }

    private async Task<HttpResponseMessage> AskAsync(
        HttpClient client, string name, HttpMethod method, string path, string? tag, string request = "json", string answer = "json")
    {
        using var message = new HttpRequestMessage(method, "/api/v1" + path);
        if (tag is not null)
        {
            message.Headers.TryAddWithoutValidation("If-Match", tag);
        }

        if (await FileAsync($"{name}.request.{request}") is { } body)
        {
            message.Content = new StringContent(body, Encoding.UTF8);
            message.Content.Headers.ContentType = MediaTypeHeaderValue.Parse(request == "csv" ? "text/csv" : "application/json");
        }

        var response = await client.SendAsync(message, Cancellation);
        var text = await response.Content.ReadAsStringAsync(Cancellation);
        Assert.True(response.IsSuccessStatusCode, $"{name}: {text}");
        await CompareAsync(name, $"{name}.reply.{answer}", answer == "json" ? Trimmed(ExampleFiles.Indented(text)) : text);
        return response;
    }

    private async Task CompareAsync(string operation, string file, string answer)
    {
        if (ExampleFiles.IsResealing)
        {
            await ExampleFiles.SealAsync(operation, file, answer);
        }
        else if (!ExampleFiles.Fits(operation, await FileAsync(file) ?? "null", answer))
        {
            _differing.Add(file);
        }
    }

    private static async Task<string?> FileAsync(string file) =>
        File.Exists(ExampleFiles.InFolder("examples", file))
            ? await File.ReadAllTextAsync(ExampleFiles.InFolder("examples", file), Cancellation)
            : null;

    // An example shows what an answer looks like: two of each list will do.
    private static string Trimmed(string json)
    {
        var node = JsonNode.Parse(json)!;
        Trim(node);
        return ExampleFiles.Indented(node.ToJsonString());
    }

    private static void Trim(JsonNode? node)
    {
        if (node is JsonArray list)
        {
            while (list.Count > 2)
            {
                list.RemoveAt(list.Count - 1);
            }
        }

        foreach (var child in (node as JsonArray)?.AsEnumerable() ?? (node as JsonObject)?.Select(property => property.Value) ?? [])
        {
            Trim(child);
        }
    }
}
