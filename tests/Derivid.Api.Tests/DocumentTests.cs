using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Tests.Curation;
using Derivid.Api.Tests.Practice;
using Derivid.Api.Tests.Teaching;
using Derivid.Core.Teaching;
using Json.Schema;

namespace Derivid.Api.Tests;

/// <summary>
/// The published document and its examples. With DERIVID_RESEAL=1 in the environment these tests write the files they
/// otherwise compare: run them twice, as the examples are built into the service.
/// </summary>
public sealed class DocumentTests(ExampleService service) : IClassFixture<ExampleService>
{
    public static TheoryData<string> Operations =>
    [
        "identify", "identifyBatch", "rank", "getIdentification", "getIdentificationObservation", "replayIdentification",
        "listParents", "getParent", "drawParent", "listDerivatives", "listDerivativeKinds", "listSpotTests", "listColours",
        "listMeltingPointStandards", "listSources", "getSource", "prepareDerivative", "planDecisions", "forecastStep", "guideReading", "listTableVersions", "getTableVersion",
        "getLiveness", "getReadiness",
        "getCurrentKey", "makeKey", "listKeys", "getKey", "revokeKey", "listPeople", "listAuditEntries",
    ];

    [Fact]
    public async Task ServedDocumentIsTheOneCheckedIn()
    {
        var served = JsonNode.Parse(await TextAtAsync("/swagger/v1/swagger.json"))!.ToJsonString(ExampleFiles.Written) + "\n";
        var file = ExampleFiles.InFolder("derivid.v1.json");
        if (ExampleFiles.IsResealing)
        {
            await File.WriteAllTextAsync(file, served, TestContext.Current.CancellationToken);
        }

        Assert.Equal(await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken), served);
    }

    [Fact]
    public async Task PageIsServed()
    {
        Assert.Contains("swagger-ui", await TextAtAsync("/swagger/index.html"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task DocumentIsOfTheLatestKindAndTellsJobAndCautions()
    {
        var document = await service.Client.JsonAtAsync("/swagger/v1/swagger.json");
        var description = document.GetProperty("info").GetProperty("description").GetString();

        Assert.StartsWith("3.1", document.GetProperty("openapi").GetString(), StringComparison.Ordinal);
        Assert.Contains("local rules come first", description, StringComparison.Ordinal);
    }

    // What the document calls a range is what the service takes for one: text, or both ends.
    [Theory]
    [InlineData("\"125-127 °C\"", true)]
    [InlineData("""{ "text": "125-127 °C" }""", true)]
    [InlineData("""{ "text": "125-127 °C", "onsetCelsius": null, "clearPointCelsius": null }""", true)]
    [InlineData("""{ "onsetCelsius": 125, "clearPointCelsius": 127 }""", true)]
    [InlineData("""{ "text": null, "onsetCelsius": 125, "clearPointCelsius": 127, "decomposes": true }""", true)]
    [InlineData("{}", false)]
    [InlineData("""{ "onsetCelsius": 125 }""", false)]
    [InlineData("""{ "onsetCelsius": 125, "clearPointCelsius": null }""", false)]
    [InlineData("""{ "text": "125-127 °C", "onsetCelsius": 125, "clearPointCelsius": 127 }""", false)]
    [InlineData("""{ "text": "125-127 °C", "decomposes": true }""", false)]
    [InlineData("""{ "onsetCelsius": 125, "clearPointCelsius": 451 }""", false)]
    [InlineData("""{ "text": "125-127 °C", "unit": "C" }""", false)]
    [InlineData("125", false)]
    public async Task RangeIsTextOrBothEndsInTheDocumentAsInTheService(string range, bool isOne)
    {
        var document = await service.Client.JsonAtAsync("/swagger/v1/swagger.json");
        var schema = JsonSchema.FromText(document.GetProperty("components").GetProperty("schemas").GetProperty("RangeObserved").GetRawText());

        using var answer = await service.Client.PostAsync(
            "/api/v1/rankings", $$"""{ "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": {{range}} }] }""");

        Assert.Equal(isOne, schema.Evaluate(JsonElement.Parse(range)).IsValid);
        Assert.Equal(isOne ? HttpStatusCode.OK : HttpStatusCode.BadRequest, answer.StatusCode);
    }

    [Fact]
    public async Task EveryOperationIsDescribedWithExamplesAndProblems()
    {
        var operations = await OperationsAsync();

        Assert.Equal(
            Operations.Select(o => o.Data)
                .Concat(CurationExamplesTests.Operations)
                .Concat(TeachingExamplesTests.Operations)
                .Concat(ThermometerExamplesTests.Operations)
                .Order(),
            operations.Select(o => o.Name).Order());
        Assert.All(operations, operation =>
        {
            var json = operation.Json;
            Assert.False(string.IsNullOrWhiteSpace((string?)json["summary"]), operation.Name);
            Assert.False(string.IsNullOrWhiteSpace((string?)json["description"]), operation.Name);
            Assert.NotEmpty(json["tags"]!.AsArray());
            var responses = json["responses"]!.AsObject();
            Assert.Contains(responses, r => r.Key.StartsWith('4'));
            foreach (var (status, response) in responses.Where(r => r.Key is not ("204" or "304")))
            {
                Assert.All(response!["content"]!.AsObject(), media => Assert.True(
                    media.Key == "text/csv" || media.Value!["example"] is not null || media.Value["examples"] is not null,
                    $"{operation.Name} {status} {media.Key}"));
            }

            foreach (var parameter in json["parameters"]?.AsArray() ?? [])
            {
                Assert.False(string.IsNullOrWhiteSpace((string?)parameter!["description"]), $"{operation.Name} {parameter["name"]}");
            }

            Assert.True(json["requestBody"] is not { } body || body["content"]!["application/json"]!["example"] is not null);
        });
    }

    [Fact]
    public async Task EveryProblemTypeIsDocumentedSomewhere()
    {
        var document = await TextAtAsync("/swagger/v1/swagger.json");

        Assert.All(ProblemTypes.All, type => Assert.Contains(type.Urn, document, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Operations))]
    public async Task ExampleIsWhatTheServiceAnswers(string name)
    {
        var operation = Assert.Single(await OperationsAsync(), o => o.Name == name);
        using var made = await service.Client.PostAsync(
            Requests.Identifications, await ExampleFiles.ReadAsync("identify.request") ?? "");
        var id = (await made.JsonAsync(made.StatusCode)).GetProperty("id").GetString()!;
        if (ExampleFiles.IsResealing && operation.Path.StartsWith(Requests.Identifications + "/{id}", StringComparison.Ordinal))
        {
            await ExampleFiles.SealAsync(
                name, $"{name}.parameters.json", ExampleFiles.Indented(new JsonObject { ["id"] = id }.ToJsonString()));
        }

        var parameters = JsonNode.Parse(await ExampleFiles.ReadAsync($"{name}.parameters") ?? "{}")!.AsObject();
        using var client = service.Service.ClientWith(
            operation.Json["security"] is JsonArray { Count: 1 } ? ServiceUnderTest.AdministratorKey : null);
        if (name == "revokeKey")
        {
            parameters["id"] = (await client.MakeKeyAsync(Role.Student)).GetProperty("details").GetProperty("id").GetString();
        }

        var reason = parameters[Caller.ReasonHeader];
        parameters.Remove(Caller.ReasonHeader);
        using var request = new HttpRequestMessage(new HttpMethod(operation.Method), AddressOf(operation.Path, parameters));
        request.Headers.TryAddWithoutValidation(Caller.ReasonHeader, (string?)reason);
        if (await ExampleFiles.ReadAsync($"{name}.request") is { } body)
        {
            request.Content = Requests.Json(body);
        }

        using var response = await client.SendAsync(request, TestContext.Current.CancellationToken);
        var answer = await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(response.IsSuccessStatusCode, answer);
        if (response.StatusCode == HttpStatusCode.NoContent)
        {
            return;
        }

        var isDrawing = response.Content.Headers.ContentType!.MediaType == MediaTypes.Svg;
        var (type, shown) = isDrawing ? ("svg", answer) : ("json", ExampleFiles.Indented(answer));
        if (ExampleFiles.IsResealing)
        {
            await ExampleFiles.SealAsync(name, $"{name}.reply.{type}", shown);
        }

        var example = await ExampleFiles.ReadAsync($"{name}.reply", type);
        Assert.True(ExampleFiles.Fits(name, example ?? "null", shown), $"{example}\nis not what is answered:\n{shown}");
    }

    private static string AddressOf(string path, JsonObject parameters)
    {
        var query = new List<string>();
        foreach (var (key, value) in parameters)
        {
            var text = Uri.EscapeDataString(value!.ToString());
            if (path.Contains($"{{{key}}}", StringComparison.Ordinal))
            {
                path = path.Replace($"{{{key}}}", text, StringComparison.Ordinal);
            }
            else
            {
                query.Add($"{key}={text}");
            }
        }

        return query.Count == 0 ? path : $"{path}?{string.Join('&', query)}";
    }

    private async Task<List<(string Name, string Method, string Path, JsonObject Json)>> OperationsAsync() =>
    [
        .. JsonNode.Parse(await TextAtAsync("/swagger/v1/swagger.json"))!["paths"]!.AsObject()
            .SelectMany(path => path.Value!.AsObject().Select(method => (
                (string)method.Value!["operationId"]!, method.Key, path.Key, method.Value!.AsObject()))),
    ];

    private async Task<string> TextAtAsync(string address)
    {
        using var response = await service.Client.GetAsync(address, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.OK, response.StatusCode);
        return await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
    }
}
