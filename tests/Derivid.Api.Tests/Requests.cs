using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Core.Teaching;

namespace Derivid.Api.Tests;

/// <summary>Sends what tests send, and reads what they read.</summary>
internal static class Requests
{
    public const string Identifications = "/api/v1/identifications";
    public const string Keys = "/api/v1/keys";
    public const string Rankings = "/api/v1/rankings";
    public const string Batches = "/api/v1/identification-batches";

    /// <summary>2,4-DNPH at 125-127 °C, yellow, iodoform positive, Tollens negative.</summary>
    public const string Propanone =
        """
        {
          "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "125-127 °C", "colour": "yellow" }],
          "spotTests": [
            { "test": "iodoform", "outcome": "positive" },
            { "test": "Tollens", "outcome": "negative" }
          ]
        }
        """;

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    public static StringContent Json(string json) => new(json, Encoding.UTF8, "application/json");

    public static async Task<HttpResponseMessage> PostAsync(this HttpClient client, string address, string json) =>
        await client.PostAsync(address, Json(json), Patience);

    public static Task<HttpResponseMessage> IdentifyAsync(this HttpClient client, string json) =>
        client.PostAsync(Identifications + "?store=false", json);

    /// <summary>The answer to an observation, which must be one.</summary>
    public static async Task<JsonElement> IdentifiedAsync(this HttpClient client, string json)
    {
        using var response = await client.IdentifyAsync(json);
        return await response.JsonAsync(HttpStatusCode.OK);
    }

    /// <summary>The JSON at an address, which must be there.</summary>
    public static async Task<JsonElement> JsonAtAsync(this HttpClient client, string address)
    {
        using var response = await client.GetAsync(address, Patience);
        return await response.JsonAsync(HttpStatusCode.OK);
    }

    /// <summary>Makes a key, as an administrator.</summary>
    public static async Task<JsonElement> MakeKeyAsync(this HttpClient client, Role role, string name = "made up", int? validDays = null)
    {
        var days = validDays is null ? "" : string.Create(CultureInfo.InvariantCulture, $", \"validDays\": {validDays}");
        using var response = await client.PostAsync(
            Keys, $$"""{ "name": "{{name}}", "role": "{{Policies.NameOf(role)}}"{{days}} }""");
        return await response.JsonAsync(HttpStatusCode.Created);
    }

    public static async Task<HttpResponseMessage> GetAsync(this HttpClient client, string address, string noneMatch)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, address);
        request.Headers.IfNoneMatch.Add(EntityTagHeaderValue.Parse(noneMatch));
        return await client.SendAsync(request, Patience);
    }

    public static async Task<JsonElement> JsonAsync(this HttpResponseMessage response, HttpStatusCode expected)
    {
        var text = await response.Content.ReadAsStringAsync(Patience);
        Assert.True(response.StatusCode == expected, $"{(int)response.StatusCode} instead of {expected}: {text}");
        return JsonElement.Parse(text);
    }

    /// <summary>The problem in an answer, which must be one and whole.</summary>
    public static async Task<JsonObject> ProblemAsync(this HttpResponseMessage response, ProblemType expected)
    {
        var problem = await response.AnyProblemAsync();
        Assert.Equal(expected.Urn, (string?)problem["type"]);
        return problem;
    }

    /// <summary>Any problem in an answer, which must be whole.</summary>
    public static async Task<JsonObject> AnyProblemAsync(this HttpResponseMessage response)
    {
        var text = await response.Content.ReadAsStringAsync(Patience);
        Assert.Equal("application/problem+json", response.Content.Headers.ContentType?.MediaType);
        var problem = JsonNode.Parse(text)!.AsObject();
        var type = Assert.Single(ProblemTypes.All, t => t.Urn == (string?)problem["type"]);
        Assert.Equal(type.Status, (int)response.StatusCode);
        Assert.Equal(type.Status, (int?)problem["status"]);
        Assert.Equal(type.Title, (string?)problem["title"]);
        Assert.False(string.IsNullOrWhiteSpace((string?)problem["detail"]), text);
        Assert.False(string.IsNullOrWhiteSpace((string?)problem["instance"]), text);
        Assert.False(string.IsNullOrWhiteSpace((string?)problem["traceId"]), text);
        return problem;
    }

    /// <summary>The one message at a place.</summary>
    public static string MessageAt(this JsonObject problem, string place)
    {
        var errors = problem["errors"]?.AsObject();
        Assert.True(errors?.ContainsKey(place), $"Nothing at {place}: {problem.ToJsonString()}");
        return (string)errors![place]!.AsArray().Single()!;
    }

    public static string LeadingParent(this JsonElement identification) =>
        identification.GetProperty("candidates")[0].GetProperty("parent").GetProperty("key").GetString()!;

    /// <summary>The posterior of a parent; 0 when it is not listed.</summary>
    public static double PosteriorOf(this JsonElement identification, string key) =>
        identification.GetProperty("candidates").EnumerateArray()
            .Where(c => c.GetProperty("parent").GetProperty("key").GetString() == key)
            .Select(c => c.GetProperty("posterior").GetDouble())
            .SingleOrDefault();
}
