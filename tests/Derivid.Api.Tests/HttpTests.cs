using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Testing;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Derivid.Api.Tests;

/// <summary>What HTTP itself can get wrong.</summary>
public sealed class HttpTests(SqliteService service)
{
    [Fact]
    public void EveryQueryThatAnEndpointTakesCanBeRead()
    {
        // One that isn't known to the serialiser fails at run time, on the first request that brings it.
        var queries = service.Service.Services.GetRequiredService<EndpointDataSource>().Endpoints
            .Select(endpoint => endpoint.Metadata.GetMetadata<QueryRecord>()?.Type).OfType<Type>().Distinct().ToList();

        Assert.InRange(queries.Count, 15, int.MaxValue);
        Assert.All(queries, query => Assert.True(ServiceContext.Wire.GetTypeInfo(query) is not null, $"{query.Name} has no line in ServiceContext."));
    }

    [Theory]
    [InlineData("/nowhere")]
    [InlineData("/api/v1/nowhere")]
    [InlineData("/api/v1/parents/propanone/nowhere")]
    [InlineData("/api/v2/parents")]
    public async Task UnknownAddressIsNotFound(string address)
    {
        using var response = await service.Client.GetAsync(address, TestContext.Current.CancellationToken);

        await response.ProblemAsync(ProblemTypes.NotFound);
    }

    [Theory]
    [InlineData("DELETE", "/api/v1/parents", "GET")]
    [InlineData("PUT", "/api/v1/identifications", "POST")]
    [InlineData("GET", "/api/v1/identification-batches", "POST")]
    public async Task OtherMethodIsNotAllowed(string method, string address, string allowed)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), address);
        using var response = await service.Client.SendAsync(request, TestContext.Current.CancellationToken);

        var problem = await response.ProblemAsync(ProblemTypes.MethodNotAllowed);
        Assert.Contains(allowed, (string)problem["detail"]!, StringComparison.Ordinal);
        Assert.Contains(allowed, response.Content.Headers.Allow);
    }

    [Theory]
    [InlineData("text/plain")]
    [InlineData("application/xml")]
    [InlineData("application/json; charset=utf-16")]
    [InlineData("application/x-www-form-urlencoded")]
    public async Task OtherMediaTypeIsUnsupported(string type)
    {
        using var content = new ByteArrayContent("{}"u8.ToArray());
        content.Headers.ContentType = MediaTypeHeaderValue.Parse(type);
        using var response = await service.Client.PostAsync(
            Requests.Identifications, content, TestContext.Current.CancellationToken);

        await response.ProblemAsync(ProblemTypes.UnsupportedMediaType);
    }

    [Fact]
    public async Task BodyWithoutMediaTypeOrCompressedIsUnsupported()
    {
        using var bare = new ByteArrayContent("{}"u8.ToArray());
        using var compressed = Requests.Json("{}");
        compressed.Headers.ContentEncoding.Add("gzip");
        foreach (var content in new HttpContent[] { bare, compressed })
        {
            using var response = await service.Client.PostAsync(
                Requests.Identifications, content, TestContext.Current.CancellationToken);
            await response.ProblemAsync(ProblemTypes.UnsupportedMediaType);
        }
    }

    [Theory]
    [InlineData(Requests.Identifications, RequestLimits.SingleBytes)]
    [InlineData(Requests.Batches, RequestLimits.BatchBytes)]
    public async Task LargeBodyIsTooLarge(string address, int most)
    {
        var padding = new string(' ', most - 1);
        using var fits = await service.Client.PostAsync(address + "?store=false", padding + "7");
        using var announcing = new HttpRequestMessage(HttpMethod.Post, address) { Content = Requests.Json(padding + "17") };
        announcing.Headers.ExpectContinue = true;
        using var announced = await service.Client.SendAsync(announcing, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.BadRequest, fits.StatusCode);
        await announced.ProblemAsync(ProblemTypes.TooLarge);
    }

    [Fact]
    public async Task LargeBodyOfUnknownLengthIsTooLarge()
    {
        using var chunked = new StreamContent(new MemoryStream(new byte[RequestLimits.SingleBytes + 1]));
        chunked.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        using var request = new HttpRequestMessage(HttpMethod.Post, Requests.Identifications) { Content = chunked };
        request.Headers.TransferEncodingChunked = true;
        using var response = await service.Client.SendAsync(request, TestContext.Current.CancellationToken);

        await response.ProblemAsync(ProblemTypes.TooLarge);
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("{\"meltingPoint\": \"48\",}")]
    [InlineData("{\"meltingPoint\": NaN}")]
    [InlineData("{'meltingPoint': '48'}")]
    [InlineData("// 48\n{}")]
    [InlineData("{} {}")]
    [InlineData("{\"windowCelsius\": 01}")]
    public async Task BrokenJsonIsMalformed(string body)
    {
        using var response = await service.Client.IdentifyAsync(body);

        var problem = await response.ProblemAsync(ProblemTypes.MalformedJson);
        Assert.Contains("line", (string)problem["detail"]!, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{ "windowCelsius": 3, "windowCelsius": 4 }""")]
    [InlineData("""{ "windowCelsius": 3, "window\u0043elsius": 4 }""")]
    [InlineData("""{ "prior": { "shelfList": ["propanone"] }, "windowCelsius": 3, "state": "liquid", "windowCelsius": 3 }""")]
    public async Task RepeatedPropertyIsMalformed(string body)
    {
        using var response = await service.Client.IdentifyAsync(body);

        var problem = await response.ProblemAsync(ProblemTypes.MalformedJson);
        Assert.Contains("\"windowCelsius\"", (string)problem["detail"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task DeepNestingIsMalformed()
    {
        using var response = await service.Client.IdentifyAsync(new string('[', 17) + new string(']', 17));
        using var allowed = await service.Client.IdentifyAsync(new string('[', 16) + new string(']', 16));

        var problem = await response.ProblemAsync(ProblemTypes.MalformedJson);
        Assert.Contains("16", (string)problem["detail"]!, StringComparison.Ordinal);
        await allowed.ProblemAsync(ProblemTypes.InvalidRequest);
    }

    [Fact]
    public async Task BytesThatAreNoTextAreMalformed()
    {
        using var content = new ByteArrayContent([.. "{\"meltingPoint\":\""u8, 0xC3, 0x28, .. "\"}"u8]);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        using var response = await service.Client.PostAsync(
            Requests.Identifications, content, TestContext.Current.CancellationToken);

        var problem = await response.ProblemAsync(ProblemTypes.MalformedJson);
        Assert.Contains("UTF-8", (string)problem["detail"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task ByteOrderMarkIsPassedOver()
    {
        using var content = new ByteArrayContent([0xEF, 0xBB, 0xBF, .. Encoding.UTF8.GetBytes(Requests.Propanone)]);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        using var response = await service.Client.PostAsync(
            Requests.Identifications + "?store=false", content, TestContext.Current.CancellationToken);

        await response.JsonAsync(HttpStatusCode.OK);
    }

    [Fact]
    public async Task DegreesAreReadableAndAnswersSayWhatTheyAre()
    {
        using var response = await service.Client.IdentifyAsync(Requests.Propanone);
        var text = await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

        Assert.Contains("°C", text, StringComparison.Ordinal);
        Assert.Equal("application/json", response.Content.Headers.ContentType?.ToString());
        Assert.Equal(["nosniff"], response.Headers.GetValues("X-Content-Type-Options"));
        Assert.False(response.Headers.Contains("Server"));
    }

    [Fact]
    public async Task HealthTellsVersionsAndDatabase()
    {
        var live = await service.Client.JsonAtAsync("/health/live");
        var ready = await service.Client.JsonAtAsync("/health/ready");

        Assert.Equal("live", live.GetProperty("status").GetString());
        Assert.Equal("ready", ready.GetProperty("status").GetString());
        Assert.Equal(1, ready.GetProperty("tableVersion").GetInt32());
        Assert.Equal("reachable", ready.GetProperty("database").GetString());
    }

    [Theory]
    [InlineData("GET /api/v1/parents/%00 HTTP/1.1\r\nHost: a\r\n\r\n", 400)]
    [InlineData("GET /api/v1/parents HTTP/1.1\r\nHost : a\r\n\r\n", 400)]
    [InlineData("nonsense\r\n\r\n", 400)]
    [InlineData("GET /{0} HTTP/1.1\r\nHost: a\r\n\r\n", 414)]
    [InlineData("GET / HTTP/1.1\r\nHost: a\r\nCookie: {0}\r\n\r\n", 431)]
    public async Task WhatTheServerItselfRefusesIsAProblemToo(string request, int expected)
    {
        var answer = await SentRawAsync(request.Replace("{0}", new string('x', 40_000), StringComparison.Ordinal));

        var (head, body) = (answer[..answer.IndexOf("\r\n\r\n", StringComparison.Ordinal)], answer[(answer.IndexOf("\r\n\r\n", StringComparison.Ordinal) + 4)..]);
        Assert.StartsWith($"HTTP/1.1 {expected} ", head, StringComparison.Ordinal);
        Assert.Contains("Content-Type: application/problem+json", head, StringComparison.Ordinal);
        Assert.Contains($"Content-Length: {Encoding.UTF8.GetByteCount(body)}", head, StringComparison.Ordinal);
        var problem = JsonElement.Parse(body);
        Assert.Equal(expected == 400 ? ProblemTypes.InvalidRequest.Urn : "about:blank", problem.GetProperty("type").GetString());
        Assert.Equal(expected, problem.GetProperty("status").GetInt32());
        Assert.NotEmpty(problem.GetProperty("detail").GetString()!);
    }

    private async Task<string> SentRawAsync(string request)
    {
        var patience = TestContext.Current.CancellationToken;
        using var connection = new TcpClient();
        await connection.ConnectAsync(service.Client.BaseAddress!.Host, service.Client.BaseAddress.Port, patience);
        var stream = connection.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes(request), patience);
        var answer = new StringBuilder();
        var bytes = new byte[4096];
        try
        {
            while (await stream.ReadAsync(bytes, patience) is > 0 and var read)
            {
                answer.Append(Encoding.UTF8.GetString(bytes, 0, read));
            }
        }
        catch (IOException)
        {
            // It closes at once, with what it did not read still under way.
        }

        return answer.ToString();
    }

    [Fact]
    public async Task LogHoldsNoBody()
    {
        const string Planted = "planted-marker-9157";
        await using var database = new SqliteDatabase();
        await using var alone = new ServiceUnderTest(database.ConnectionString) { Logged = LogLevel.Trace };
        using var client = await alone.StartAsync();
        using var label = await client.PostAsync(
            Requests.Batches, $$"""{ "items": [{ "reference": "{{Planted}}", "observation": { "meltingPoint": "91.57" } }] }""");
        using var refused = await client.IdentifyAsync($$"""{ "meltingPoint": "{{Planted}}" }""");
        using var broken = await client.IdentifyAsync($$"""{ "meltingPoint": "{{Planted}}" """);
        using var unknown = await client.IdentifyAsync($$"""{ "{{Planted}}": 1, "{{Planted}}": 2 }""");

        await label.JsonAsync(HttpStatusCode.OK);
        await refused.ProblemAsync(ProblemTypes.InvalidRequest);
        await broken.ProblemAsync(ProblemTypes.MalformedJson);
        await unknown.ProblemAsync(ProblemTypes.MalformedJson);
        Assert.NotEmpty(alone.Log.Lines);
        Assert.DoesNotContain(alone.Log.Lines, line => line.Contains(Planted, StringComparison.Ordinal)
            || line.Contains("91.57", StringComparison.Ordinal));
    }
}
