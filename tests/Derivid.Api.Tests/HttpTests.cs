using System.Net;
using System.Net.Http.Headers;
using System.Text;
using Derivid.Api.Http;

namespace Derivid.Api.Tests;

/// <summary>What HTTP itself can get wrong.</summary>
public sealed class HttpTests(SqliteService service)
{
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

    [Fact]
    public async Task LogHoldsNoBody()
    {
        const string Planted = "planted-marker-9157";
        using var label = await service.Client.PostAsync(
            Requests.Batches, $$"""{ "items": [{ "reference": "{{Planted}}", "observation": { "meltingPoint": "91.57" } }] }""");
        using var refused = await service.Client.IdentifyAsync($$"""{ "meltingPoint": "{{Planted}}" }""");
        using var broken = await service.Client.IdentifyAsync($$"""{ "meltingPoint": "{{Planted}}" """);
        using var unknown = await service.Client.IdentifyAsync($$"""{ "{{Planted}}": 1, "{{Planted}}": 2 }""");

        await label.JsonAsync(HttpStatusCode.OK);
        await refused.ProblemAsync(ProblemTypes.InvalidRequest);
        await broken.ProblemAsync(ProblemTypes.MalformedJson);
        await unknown.ProblemAsync(ProblemTypes.MalformedJson);
        Assert.NotEmpty(service.Service.Log.Lines);
        Assert.DoesNotContain(service.Service.Log.Lines, line => line.Contains(Planted, StringComparison.Ordinal)
            || line.Contains("91.57", StringComparison.Ordinal));
    }
}
