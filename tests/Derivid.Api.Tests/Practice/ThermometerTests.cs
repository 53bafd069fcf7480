using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Http;
using Derivid.Api.Tests.Teaching;
using Derivid.Core.Teaching;

namespace Derivid.Api.Tests.Practice;

/// <summary>Thermometers that are registered, and observations that name them; the same on both engines.</summary>
/// <remarks>The clock of the service stands at 2026-03-14 09:26:53 UTC. Readings are made up.</remarks>
public abstract class ThermometerTests(RunningService service)
{
    private const string Address = "/api/v1/thermometers";

    private const string ThreeLow =
        """[{ "standard": "naphthalene", "readCelsius": 77.26 }, { "standard": "benzoic acid", "readCelsius": 119.35 }, { "standard": "caffeine", "readCelsius": 233 }]""";

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task ObservationThatNamesItIsWeighedAsIfItsReadingsHadBeenSent()
    {
        using var owner = await service.Service.ClientAsAsync(Role.Student);
        var id = await RegisteredAsync(owner);
        var before = await IdentifiedAsync(owner, $$"""{ "id": "{{id}}" }""");
        using var calibrated = await owner.PostAsync($"{Address}/{id}/calibrations", $$"""{ "standards": {{ThreeLow}}, "meltedAt": "2026-03-04T09:00:00Z" }""");
        await calibrated.JsonAsync(HttpStatusCode.Created);

        var named = await IdentifiedAsync(owner, $$"""{ "id": "{{id}}" }""");
        var sent = await IdentifiedAsync(owner, $$"""{ "standards": {{ThreeLow}}, "daysSinceChecked": 10 }""");
        var none = await IdentifiedAsync(owner, null);
        var observation = await owner.JsonAtAsync($"/api/v1/identifications/{named.GetProperty("id").GetString()}/observation");

        // 123 °C read is 126 °C: three low all over the scale.
        Assert.Equal(126, Used(named), 1e-9);
        Assert.Equal(sent.GetProperty("candidates").GetRawText(), named.GetProperty("candidates").GetRawText());
        Assert.Equal(none.GetProperty("candidates").GetRawText(), before.GetProperty("candidates").GetRawText());
        Assert.Equal(123, Used(before), 1e-9);
        Assert.True(Error(named) < Error(before));

        // What is kept holds the readings, so it can be sent and replayed whatever is read on the thermometer later.
        var kept = observation.GetProperty("thermometer");
        Assert.Equal((id, 10, 3), (kept.GetProperty("id").GetString(), kept.GetProperty("daysSinceChecked").GetInt32(), kept.GetProperty("standards").GetArrayLength()));
        using var anew = await owner.PostAsync($"{Address}/{id}/calibrations", """{ "standards": [{ "standard": "benzoic acid", "readCelsius": 122.3 }] }""");
        await anew.JsonAsync(HttpStatusCode.Created);
        await owner.JsonAtAsync($"/api/v1/identifications/{named.GetProperty("id").GetString()}/replay");
        using var again = await owner.PostAsync(Requests.Identifications, observation.GetRawText());
        Assert.Equal(named.GetProperty("id").GetString(), (await again.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString());
        Assert.Equal(123.05, Used(await IdentifiedAsync(owner, $$"""{ "id": "{{id}}" }""")), 1e-9);
    }

    [Fact]
    public async Task BatchesAndReportsNameThemToo()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        var id = await RegisteredAsync(room.Instructor);
        using var calibrated = await room.Instructor.PostAsync($"{Address}/{id}/calibrations", $$"""{ "standards": {{ThreeLow}} }""");
        await calibrated.JsonAsync(HttpStatusCode.Created);
        using var batch = await room.Ann.PostAsync(
            Requests.Batches,
            $$"""
            { "items": [
              { "observation": { "meltingPoint": "123", "thermometer": { "id": "{{id}}" } } },
              { "observation": { "meltingPoint": "123", "thermometer": { "id": "{{new string('0', 32)}}" } } }] }
            """);
        var items = (await batch.JsonAsync(HttpStatusCode.OK)).GetProperty("items");
        Assert.Equal(126, Used(items[0].GetProperty("identification")), 1e-9);
        Assert.True(items[1].GetProperty("problem").GetProperty("errors").TryGetProperty("/items/1/observation/thermometer/id", out _));

        var report = JsonNode.Parse(room.Report("ann", room.Answers["ann"]))!;
        report["observation"]!["thermometer"] = new JsonObject { ["id"] = id };
        var handedIn = await room.HandInAsync(room.Ann, report.ToJsonString());
        Assert.Equal(3, handedIn.GetProperty("observation").GetProperty("thermometer").GetProperty("standards").GetArrayLength());

        // Those of the course's staff are at its students' benches, and nobody else's.
        Assert.Contains(id, await ListedAsync(room.Ann));
        Assert.DoesNotContain(id, await ListedAsync(room.Stranger));
        Assert.Equal(id, (await room.Stranger.JsonAtAsync($"{Address}/{id}")).GetProperty("id").GetString());
    }

    [Fact]
    public async Task CorrectionIsDrawnWithItsErrorAndDriftIsTold()
    {
        using var owner = await service.Service.ClientAsAsync(Role.Student);
        var id = await RegisteredAsync(owner);
        Assert.Contains("never checked", (await owner.JsonAtAsync($"{Address}/{id}")).GetProperty("warnings")[0].GetString(), StringComparison.Ordinal);
        using var first = await owner.PostAsync($"{Address}/{id}/calibrations", $$"""{ "standards": {{ThreeLow}}, "meltedAt": "2024-03-04T09:00:00Z" }""");
        var old = await first.JsonAsync(HttpStatusCode.Created);
        using var second = await owner.PostAsync(
            $"{Address}/{id}/calibrations", """{ "standards": [{ "standard": "benzoic acid", "readCelsius": 120.35 }], "meltedAt": "2026-03-14T09:00:00Z" }""");
        var item = await second.JsonAsync(HttpStatusCode.Created);

        Assert.Equal(["It was checked 740 days ago: melt its standards again."], Warnings(old));
        Assert.Equal(
            [
                "One standard shifts the whole scale: melt another far from it, to see whether the scale itself is right.",
                "The standard benzoic-acid reads 1 °C higher than when it was checked before: make sure of the standard, else the thermometer drifts.",
            ],
            Warnings(item));
        Assert.Equal(["2026-03-14", "2024-03-04"], item.GetProperty("calibrations").EnumerateArray().Select(one => one.GetProperty("meltedAt").GetString()![..10]));

        // By hand: 2 °C to be added throughout; at 120 °C read 122 °C, 0.35 from the standard: √(0.3² + 0.0035²).
        var curve = item.GetProperty("curve").EnumerateArray().ToList();
        Assert.Equal(37, curve.Count);
        Assert.All(curve, point => Assert.Equal(2, point.GetProperty("correctionCelsius").GetDouble(), 1e-9));
        Assert.Equal(0.30002, curve[12].GetProperty("errorCelsius").GetDouble(), 1e-4);
        Assert.Equal(1, curve[36].GetProperty("errorCelsius").GetDouble(), 1e-9);
    }

    [Fact]
    public async Task OthersTellNothingOfItButGraders()
    {
        using var owner = await service.Service.ClientAsAsync(Role.Student);
        using var other = await service.Service.ClientAsAsync(Role.Student);
        using var grader = await service.Service.ClientAsAsync(Role.Grader);
        var id = await RegisteredAsync(owner);

        using var refused = await other.PostAsync($"{Address}/{id}/calibrations", $$"""{ "standards": {{ThreeLow}} }""");
        using var told = await grader.PostAsync($"{Address}/{id}/calibrations", $$"""{ "standards": {{ThreeLow}} }""");

        await refused.ProblemAsync(ProblemTypes.ScopeMissing);
        await told.JsonAsync(HttpStatusCode.Created);
    }

    [Fact]
    public async Task SentAgainUnderItsKeyItCountsOnce()
    {
        using var owner = await service.Service.ClientAsAsync(Role.Student);
        var id = await RegisteredAsync(owner);
        for (var time = 0; time < 2; time++)
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, $"{Address}/{id}/calibrations")
            {
                Content = Requests.Json($$"""{ "standards": {{ThreeLow}} }"""),
                Headers = { { IdempotencyHeader.Header, $"calibration of {id}" } },
            };
            using var response = await owner.SendAsync(request, Patience);
            var item = await response.JsonAsync(time == 0 ? HttpStatusCode.Created : HttpStatusCode.OK);
            Assert.Equal(1, item.GetProperty("calibrations").GetArrayLength());
        }
    }

    [Theory]
    [InlineData("""{ "standards": [] }""", "/standards", "invalid-request")]
    [InlineData("""{ "standards": [{ "standard": "chalk", "readCelsius": 100 }] }""", "/standards/0/standard", "invalid-request")]
    [InlineData("""{ "standards": [{ "standard": "caffeine", "readCelsius": 100 }] }""", "/standards", "thermometer-implausible")]
    [InlineData("""{ "standards": [{ "standard": "caffeine", "readCelsius": 236 }, { "standard": "58-08-2", "readCelsius": 235 }] }""", "/standards/1/standard", "contradictory-readings")]
    [InlineData("""{ "standards": [{ "standard": "caffeine", "readCelsius": 236 }], "meltedAt": "2026-03-14T09:26:54Z" }""", "/meltedAt", "invalid-request")]
    public async Task CalibrationThatIsNoneIsRefused(string body, string place, string slug)
    {
        using var owner = await service.Service.ClientAsAsync(Role.Student);

        using var refused = await owner.PostAsync($"{Address}/{await RegisteredAsync(owner)}/calibrations", body);

        var problem = await refused.ProblemAsync(ProblemTypes.All.Single(type => type.Slug == slug));
        Assert.Equal([place], problem["errors"]!.AsObject().Select(error => error.Key));
    }

    [Theory]
    [InlineData("""{ "id": "01970f1e2d3c70008b5a69780f1e2d3c" }""", "/thermometer/id")]
    [InlineData("""{ "id": "../keys" }""", "/thermometer/id")]
    [InlineData("""{ "id": "01970f1e2d3c70008b5a69780f1e2d3c", "standards": [{ "standard": "benzil", "readCelsius": 94 }] }""", "/thermometer/id")]
    [InlineData("""{ "id": "ELECTRONIC", "stem": { "exposedCelsius": 50, "stemCelsius": 30 } }""", "/thermometer/stem")]
    [InlineData("""{ "daysSinceChecked": 3 }""", "/thermometer/daysSinceChecked")]
    public async Task ObservationThatNamesNoneIsRefused(string thermometer, string place)
    {
        using var owner = await service.Service.ClientAsAsync(Role.Student);
        using var registered = await owner.PostAsync(Address, """{ "name": "electronic" }""");
        var id = (await registered.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString();

        using var refused = await owner.PostAsync(
            Requests.Identifications, $$"""{ "meltingPoint": "48", "thermometer": {{thermometer.Replace("ELECTRONIC", id, StringComparison.Ordinal)}} }""");

        Assert.Equal([place], (await refused.ProblemAsync(ProblemTypes.InvalidRequest))["errors"]!.AsObject().Select(error => error.Key));
    }

    // Of alcohol the thread is six times as long as of mercury: 0.001 · 100 · (123 − 23) = 10.
    [Fact]
    public async Task ThreadIsOfItsOwnLiquid()
    {
        using var owner = await service.Service.ClientAsAsync(Role.Student);
        using var registered = await owner.PostAsync(Address, """{ "name": "alcohol", "liquid": "alcohol" }""");
        var id = (await registered.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString();

        Assert.Equal(133, Used(await IdentifiedAsync(owner, $$"""{ "id": "{{id}}", "stem": { "exposedCelsius": 100, "stemCelsius": 23 } }""")), 1e-9);
        Assert.Equal(124.6, Used(await IdentifiedAsync(owner, """{ "stem": { "exposedCelsius": 100, "stemCelsius": 23 } }""")), 1e-9);
    }

    // 122.5 °C in the middle of the range read, 100 °C of thread at 23 °C: ten degrees between alcohol and mercury.
    [Theory]
    [InlineData("", 133)]
    [InlineData(", \"liquid\": \"mercury\"", 124.6)]
    public async Task WhatIsKeptOfANamedOneIsTheSameSentAgain(string liquid, double used)
    {
        using var owner = await service.Service.ClientAsAsync(Role.Student);
        using var registered = await owner.PostAsync(Address, """{ "name": "alcohol", "liquid": "alcohol" }""");
        var id = (await registered.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString();
        var named = await IdentifiedAsync(owner, $$"""{ "id": "{{id}}", "stem": { "exposedCelsius": 100, "stemCelsius": 23{{liquid}} } }""");
        var kept = await owner.JsonAtAsync($"/api/v1/identifications/{named.GetProperty("id").GetString()}/observation");

        // Checked in between, and its own standards beside its id keep its liquid.
        using var calibrated = await owner.PostAsync($"{Address}/{id}/calibrations", $$"""{ "standards": {{ThreeLow}} }""");
        await calibrated.JsonAsync(HttpStatusCode.Created);
        using var again = await owner.PostAsync(Requests.Identifications, kept.GetRawText());
        var own = await IdentifiedAsync(
            owner, $$"""{ "id": "{{id}}", "standards": [{ "standard": "benzil", "readCelsius": 87.8 }], "stem": { "exposedCelsius": 100, "stemCelsius": 23{{liquid}} } }""");

        Assert.Equal(used, Used(named), 1e-9);
        Assert.Equal(named.GetProperty("id").GetString(), (await again.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString());

        // The standard as read is corrected for the thread like everything else: 87.8 + k·100·64.8 against 95.
        var perCelsius = liquid.Length == 0 ? 0.001 : 0.00016;
        Assert.Equal(used + (95 - (87.8 + (perCelsius * 100 * 64.8))), Used(own), 1e-6);
    }

    private static async Task<string> RegisteredAsync(HttpClient owner)
    {
        using var made = await owner.PostAsync(Address, """{ "name": "bench 3 (invented)", "liquid": "petroleum" }""");
        var item = await made.JsonAsync(HttpStatusCode.Created);
        var id = item.GetProperty("id").GetString()!;
        Assert.Equal($"{Address}/{id}", made.Headers.Location?.OriginalString);
        Assert.Contains(id, await ListedAsync(owner));
        return id;
    }

    private static async Task<List<string?>> ListedAsync(HttpClient client) =>
        (await Classroom.AllAsync(client, Address)).ConvertAll(item => item.GetProperty("id").GetString());

    private static async Task<JsonElement> IdentifiedAsync(HttpClient client, string? thermometer)
    {
        using var answer = await client.PostAsync(
            Requests.Identifications,
            $$"""{ "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "122-123" }]{{(thermometer is null ? "" : $", \"thermometer\": {thermometer}")}} }""");
        return await answer.JsonAsync(HttpStatusCode.Created);
    }

    private static double Used(JsonElement identification) =>
        identification.GetProperty("readings")[0].GetProperty("asUsed").GetProperty("clearPointCelsius").GetDouble();

    private static double Error(JsonElement identification) =>
        identification.GetProperty("readings")[0].GetProperty("thermometerErrorCelsius").GetDouble();

    private static IEnumerable<string?> Warnings(JsonElement item) =>
        item.GetProperty("warnings").EnumerateArray().Select(warning => warning.GetString());

    public sealed class OnSqlite(SqliteService service) : ThermometerTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : ThermometerTests(service), IClassFixture<PostgreSqlService>;
}
