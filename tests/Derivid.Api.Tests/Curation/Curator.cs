using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Derivid.Api.Tests.Curation;

/// <summary>Somebody with a key who works on a proposal, and the revision they saw last.</summary>
internal sealed class Curator(HttpClient client)
{
    public const string Proposals = "/api/v1/proposals";

    public HttpClient Client => client;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    public async Task<(string Id, string Tag)> MakeAsync(string title = "A page of a handbook", int? restores = null)
    {
        var body = new JsonObject { ["title"] = title };
        if (restores is not null)
        {
            body["restoresVersion"] = restores;
        }

        using var response = await client.PostAsync(Proposals, body.ToJsonString());
        var made = await response.JsonAsync(HttpStatusCode.Created);
        return (made.GetProperty("id").GetString()!, response.Headers.ETag!.ToString());
    }

    public Task<HttpResponseMessage> PutAsync(string id, string? tag, string table, string key, JsonNode? record) =>
        SendAsync(
            HttpMethod.Put, $"{Proposals}/{id}/records/{table}/{Uri.EscapeDataString(key)}", tag,
            record is null ? """{ "remove": true }""" : new JsonObject { ["record"] = record.DeepClone() }.ToJsonString());

    public Task<HttpResponseMessage> StepAsync(string id, string? tag, string step, string? body = null) =>
        SendAsync(HttpMethod.Post, $"{Proposals}/{id}/{step}", tag, body);

    /// <summary>A step that must succeed.</summary>
    public static async Task<(JsonElement Proposal, string Tag)> DoneAsync(Task<HttpResponseMessage> step)
    {
        using var response = await step;
        return (await response.JsonAsync(HttpStatusCode.OK), response.Headers.ETag!.ToString());
    }

    /// <summary>Submits, has another person review and release.</summary>
    /// <returns>Number of the version released.</returns>
    public async Task<int> ReleaseAsync(string id, string tag, Curator other)
    {
        (_, tag) = await DoneAsync(StepAsync(id, tag, "submission"));
        (_, tag) = await DoneAsync(other.StepAsync(id, tag, "review", """{ "verdict": "approve", "note": "seen" }"""));
        var (released, _) = await DoneAsync(other.StepAsync(id, tag, "release", "{}"));
        return released.GetProperty("releasedVersion").GetInt32();
    }

    /// <summary>One record changed, and released.</summary>
    public async Task<int> ReleaseNoteAsync(string note, Curator other)
    {
        var record = await RecordAsync("derivatives", 0);
        record["note"] = note;
        var (id, tag) = await MakeAsync(note);
        (_, tag) = await DoneAsync(PutAsync(id, tag, "derivatives", (string)record["key"]!, record));
        return await ReleaseAsync(id, tag, other);
    }

    /// <summary>A record of the current version as exports write it.</summary>
    public async Task<JsonObject> RecordAsync(string table, int index)
    {
        var versions = await client.JsonAtAsync("/api/v1/table-versions?limit=1");
        var current = versions.GetProperty("items")[0].GetProperty("number").GetInt32();
        var rows = JsonNode.Parse(await client.GetStringAsync($"/api/v1/table-versions/{current}/tables/{table}.json", Cancellation))!;
        return rows[index]!.DeepClone().AsObject();
    }

    public async Task<HttpResponseMessage> ImportAsync(string id, string tag, string query, string text, string type = "text/csv") =>
        await ImportAsync(id, tag, query, Encoding.UTF8.GetBytes(text), type);

    public async Task<HttpResponseMessage> ImportAsync(
        string id, string tag, string query, byte[] bytes, string type = "text/csv", string? idempotencyKey = null)
    {
        using var content = new ByteArrayContent(bytes);
        content.Headers.ContentType = MediaTypeHeaderValue.Parse(type);
        using var request = new HttpRequestMessage(HttpMethod.Post, $"{Proposals}/{id}/imports?{query}") { Content = content };
        request.Headers.TryAddWithoutValidation("If-Match", tag);
        if (idempotencyKey is not null)
        {
            request.Headers.Add("Idempotency-Key", idempotencyKey);
        }

        return await client.SendAsync(request, Cancellation);
    }

    /// <summary>Sends a file and waits for what comes of it.</summary>
    public async Task<JsonElement> ImportedAsync(string id, string tag, string query, string text, string type = "text/csv")
    {
        using var response = await ImportAsync(id, tag, query, text, type);
        var started = await response.JsonAsync(HttpStatusCode.Accepted);
        return await EndedAsync(started.GetProperty("id").GetString()!);
    }

    /// <summary>Waits for an import to end.</summary>
    public async Task<JsonElement> EndedAsync(string import)
    {
        while (true)
        {
            var job = await client.JsonAtAsync("/api/v1/imports/" + import);
            if (job.GetProperty("state").GetString() is not ("queued" or "running"))
            {
                return job;
            }

            await Task.Delay(50, Cancellation);
        }
    }

    /// <summary>The proposal's ETag as it now is.</summary>
    public async Task<string> TagAsync(string id)
    {
        using var response = await client.GetAsync($"{Proposals}/{id}", Cancellation);
        await response.JsonAsync(HttpStatusCode.OK);
        return response.Headers.ETag!.ToString();
    }

    public Task<JsonElement> DifferencesAsync(string id, int limit = 500) =>
        client.JsonAtAsync($"{Proposals}/{id}/differences?limit={limit}");

    public async Task<HttpResponseMessage> SendAsync(
        HttpMethod method, string address, string? tag, string? body, string? idempotencyKey = null)
    {
        using var request = new HttpRequestMessage(method, address);
        if (idempotencyKey is not null)
        {
            request.Headers.Add("Idempotency-Key", idempotencyKey);
        }

        if (tag is not null)
        {
            request.Headers.TryAddWithoutValidation("If-Match", tag);
        }

        if (body is not null)
        {
            request.Content = Requests.Json(body);
        }

        return await client.SendAsync(request, Cancellation);
    }
}
