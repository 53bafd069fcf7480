using System.Globalization;
using System.Net;
using System.Numerics;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Core.Teaching;

namespace Derivid.Api.Tests;

/// <summary>Identifying and finding again, on one engine.</summary>
public abstract class IdentificationTests(RunningService service)
{
    private HttpClient Client => service.Client;

    [Fact]
    public async Task SameAgainIsAnsweredAlikeSoThatNobodyLearnsWhoAskedBefore()
    {
        using var first = await Client.PostAsync(Requests.Identifications, Own(1));
        using var second = await Client.PostAsync(Requests.Identifications, Own(1));

        Assert.Equal(HttpStatusCode.Created, first.StatusCode);
        Assert.Equal(HttpStatusCode.Created, second.StatusCode);
        Assert.Equal(first.Headers.Location, second.Headers.Location);
        Assert.Equal(await BytesAsync(first), await BytesAsync(second));
    }

    [Fact]
    public async Task StoredAnswerIsFoundToTheByteAtItsLocation()
    {
        using var made = await Client.PostAsync(Requests.Identifications, Own(2));
        var id = await IdAsync(made);
        using var found = await Client.GetAsync($"{Requests.Identifications}/{id}", TestContext.Current.CancellationToken);
        using var fresh = await Client.GetAsync($"{Requests.Identifications}/{id}", noneMatch: $"\"{id}\"");

        Assert.Equal($"{Requests.Identifications}/{id}", made.Headers.Location?.ToString());
        Assert.Equal(await BytesAsync(made), await BytesAsync(found));
        Assert.Equal($"\"{id}\"", found.Headers.ETag?.ToString());
        Assert.Equal(HttpStatusCode.NotModified, fresh.StatusCode);
    }

    [Fact]
    public async Task ReplayGivesTheStoredBytes()
    {
        using var made = await Client.PostAsync(Requests.Identifications, Own(3));
        using var replayed = await Client.GetAsync(
            $"{Requests.Identifications}/{await IdAsync(made)}/replay", TestContext.Current.CancellationToken);

        Assert.Equal(await BytesAsync(made), await BytesAsync(replayed));
    }

    [Fact]
    public async Task DerivativeThatDidNotFormIsStoredAndReplayed()
    {
        var (answer, observation) = await StoredAndReplayedAsync(
            """{ "derivatives": [{ "kind": "2,4-DNPH", "precipitate": "none" }], "windowCelsius": 6.75 }""");

        Assert.Equal("none", observation.GetProperty("derivatives")[0].GetProperty("precipitate").GetString());
        Assert.Equal(
            "precipitate", answer.GetProperty("candidates")[0].GetProperty("evidence")[0].GetProperty("kind").GetString());
    }

    [Fact]
    public async Task MixedMeltingIsStoredAndReplayed()
    {
        var (answer, observation) = await StoredAndReplayedAsync(
            """{ "mixedMeltings": [{ "kind": "2,4-DNPH", "partner": "acetone", "range": "125-127", "authenticRange": "126-127" }], "windowCelsius": 6.25 }""");

        Assert.Equal("propanone", observation.GetProperty("mixedMeltings")[0].GetProperty("partner").GetString());
        var leading = answer.GetProperty("candidates")[0];
        Assert.Equal("propanone", leading.GetProperty("parent").GetProperty("key").GetString());
        Assert.Equal("mixedMelting", leading.GetProperty("evidence")[0].GetProperty("kind").GetString());
        Assert.Equal("mixedMelting", answer.GetProperty("readings")[0].GetProperty("kind").GetString());
    }

    [Fact]
    public async Task MixtureGivenTwiceWithDifferentRangesIsRefused()
    {
        using var refused = await Client.PostAsync(
            Requests.Identifications,
            """{ "mixedMeltings": [{ "kind": "2,4-DNPH", "partner": "acetone", "range": "125-127" }, { "kind": "2,4-DNPH", "partner": "propanone", "range": "100-110" }] }""");

        Assert.Contains(
            "given 2 times, with different ranges",
            (await refused.ProblemAsync(ProblemTypes.ContradictoryReadings)).MessageAt("/mixedMeltings"),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task TimeOfCrystalsIsStoredAndReplayed()
    {
        var (answer, observation) = await StoredAndReplayedAsync(
            """{ "derivatives": [{ "kind": "semicarbazone", "precipitate": "crystals", "time": "hours" }], "windowCelsius": 6.5 }""");

        Assert.Equal("hours", observation.GetProperty("derivatives")[0].GetProperty("time").GetString());
        Assert.Equal(
            "precipitateTime", answer.GetProperty("candidates")[0].GetProperty("evidence")[0].GetProperty("kind").GetString());
    }

    /// <summary>Identifies, and holds the replay against the bytes that were answered.</summary>
    private async Task<(JsonElement Answer, JsonElement Observation)> StoredAndReplayedAsync(string body)
    {
        using var made = await Client.PostAsync(Requests.Identifications, body);
        var answer = await made.JsonAsync(HttpStatusCode.Created);
        var address = $"{Requests.Identifications}/{answer.GetProperty("id")}";
        using var replayed = await Client.GetAsync(address + "/replay", TestContext.Current.CancellationToken);

        Assert.Equal(await BytesAsync(made), await BytesAsync(replayed));
        return (answer, await Client.JsonAtAsync(address + "/observation"));
    }

    /// <summary>Source: 77.7 °C at 1.333 kPa and 201.7 °C at 101.325, Landolt-Börnstein IV/20, in the reference values.</summary>
    [Fact]
    public async Task BoilingPointUnderReducedPressureIsStoredAndReplayed()
    {
        var (answer, observation) = await StoredAndReplayedAsync(
            """{ "boilingPoint": { "range": "77.7 °C", "pressureKilopascals": 1.33 }, "windowCelsius": 6.5 }""");

        Assert.Equal(1.33, observation.GetProperty("boilingPoint").GetProperty("pressureKilopascals").GetDouble());
        var reading = Assert.Single(answer.GetProperty("readings").EnumerateArray());
        Assert.Equal(77.7, reading.GetProperty("asRead").GetProperty("clearPointCelsius").GetDouble());
        Assert.Equal(201.7, reading.GetProperty("asUsed").GetProperty("clearPointCelsius").GetDouble(), 4.0);
    }

    [Theory]
    [InlineData("white")]
    [InlineData("off-white")]
    [InlineData("Colourless")]
    public async Task WhiteCrystalsAreTakenAndChangeNoProbability(string colour)
    {
        var noted = await Client.IdentifiedAsync(
            $$"""{ "derivatives": [{ "kind": "semicarbazone", "meltingRange": "221-223 °C", "colour": "{{colour}}" }] }""");
        var silent = await Client.IdentifiedAsync(
            """{ "derivatives": [{ "kind": "semicarbazone", "meltingRange": "221-223 °C" }] }""");

        Assert.NotEqual(silent.GetProperty("id").GetString(), noted.GetProperty("id").GetString());
        Assert.Equal(silent.GetProperty("candidates").GetRawText(), noted.GetProperty("candidates").GetRawText());
    }

    [Fact]
    public async Task RequestWithoutTheFieldKeepsItsCanonicalForm()
    {
        using var made = await Client.PostAsync(Requests.Identifications, Own(7));
        using var observation = await Client.GetAsync(
            $"{Requests.Identifications}/{await IdAsync(made)}/observation", TestContext.Current.CancellationToken);

        // To the byte as before the field was there, since ids are hashes of it.
        Assert.Equal(
            """{"derivatives":[{"kind":"2-4-dinitrophenylhydrazone","meltingRange":{"onsetCelsius":125,"clearPointCelsius":127},"preparation":"unstated"}],"windowCelsius":7.75,"tableVersion":1,"maximumCandidates":10}""",
            Encoding.UTF8.GetString(await BytesAsync(observation)));
    }

    [Fact]
    public async Task StoredObservationSentAgainIsTheSameIdentification()
    {
        using var made = await Client.PostAsync(Requests.Identifications, Own(4));
        using var observation = await Client.GetAsync(
            $"{Requests.Identifications}/{await IdAsync(made)}/observation", TestContext.Current.CancellationToken);
        using var again = await Client.PostAsync(
            Requests.Identifications, Encoding.UTF8.GetString(await BytesAsync(observation)));

        Assert.Equal(made.Headers.Location, again.Headers.Location);
        Assert.Equal(await BytesAsync(made), await BytesAsync(again));
    }

    [Fact]
    public async Task IdIsTheHashOfObservationAndModelVersion()
    {
        using var made = await Client.PostAsync(Requests.Identifications, Own(5));
        var answer = await made.JsonAsync(HttpStatusCode.Created);
        var id = answer.GetProperty("id").GetString()!;
        using var observation = await Client.GetAsync(
            $"{Requests.Identifications}/{id}/observation", TestContext.Current.CancellationToken);

        byte[] hashed = [.. await BytesAsync(observation), .. Encoding.UTF8.GetBytes("\n" + answer.GetProperty("modelVersion"))];
        // 130 bits as one number, then its digits to the base of 32.
        var bits = new BigInteger(SHA256.HashData(hashed), isUnsigned: true, isBigEndian: true) >> (256 - 130);
        var expected = string.Concat(Enumerable.Range(0, 26).Reverse()
            .Select(place => "abcdefghijklmnopqrstuvwxyz234567"[(int)(bits >> (5 * place) & 31)]));
        Assert.Equal(expected, id);
    }

    [Fact]
    public async Task UnstoredAnswerIsTheSameAndIsNotKept()
    {
        const string Observation = """{ "meltingPoint": "48-49 °C", "windowCelsius": 3.25 }""";
        using var unstored = await Client.PostAsync(Requests.Identifications + "?store=false", Observation);
        var address = $"{Requests.Identifications}/{await IdAsync(unstored)}";
        using var missing = await Client.GetAsync(address, TestContext.Current.CancellationToken);
        using var stored = await Client.PostAsync(Requests.Identifications, Observation);

        Assert.Equal(HttpStatusCode.OK, unstored.StatusCode);
        await missing.ProblemAsync(ProblemTypes.NotFound);
        Assert.Equal(HttpStatusCode.Created, stored.StatusCode);
        Assert.Equal(await BytesAsync(unstored), await BytesAsync(stored));
    }

    [Fact]
    public async Task BatchStoresEveryIdentificationThatIsNew()
    {
        var items = Enumerable.Range(0, 250).Select(i => string.Create(
            CultureInfo.InvariantCulture,
            $$"""{ "reference": "{{i}}", "observation": { "meltingPoint": "{{20 + i}} °C", "maximumCandidates": 1 } }"""));
        using var student = await service.Service.ClientAsAsync(Role.Student);
        using var response = await student.PostAsync(
            Requests.Batches, $$"""{ "items": [{{string.Join(',', items)}}] }""");
        var batch = await response.JsonAsync(HttpStatusCode.OK);

        Assert.Equal(250, batch.GetProperty("identified").GetInt32());
        Assert.True(batch.GetProperty("isStored").GetBoolean());
        foreach (var item in batch.GetProperty("items").EnumerateArray())
        {
            var made = item.GetProperty("identification");
            var found = await Client.JsonAtAsync($"{Requests.Identifications}/{made.GetProperty("id")}");
            Assert.Equal(made.GetRawText(), found.GetRawText());
        }
    }

    [Fact]
    public async Task SimultaneousEqualRequestsStoreOneAnswer()
    {
        const string Observation = """{ "boilingPoint": { "range": "80 °C" } }""";
        var responses = await Task.WhenAll(
            Enumerable.Range(0, 16).Select(_ => Client.PostAsync(Requests.Identifications, Observation)));

        Assert.All(responses, response => Assert.Equal(HttpStatusCode.Created, response.StatusCode));
        Assert.Single(responses.Select(response => response.Headers.Location).Distinct());
    }

    // An observation no other test here sends.
    private static string Own(int test) => string.Create(
        CultureInfo.InvariantCulture,
        $$"""{ "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "125-127 °C" }], "windowCelsius": {{test}}.75 }""");

    private static Task<byte[]> BytesAsync(HttpResponseMessage response)
    {
        Assert.True(response.IsSuccessStatusCode, response.ToString());
        return response.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
    }

    private static async Task<string> IdAsync(HttpResponseMessage response) =>
        (await response.JsonAsync(response.StatusCode)).GetProperty("id").GetString()!;
}
