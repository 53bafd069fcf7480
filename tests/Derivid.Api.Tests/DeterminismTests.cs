using System.Text.Json.Nodes;

namespace Derivid.Api.Tests;

public sealed class DeterminismTests(SqliteService service)
{
    private const string Observation =
        """
        {
          "derivatives": [
            { "kind": "2,4-DNPH", "meltingRange": "237-238 °C", "colour": "orange-red", "preparation": "crude" },
            { "kind": "semicarbazone", "meltingRange": "221-222 °C dec." },
            { "kind": "oxime", "meltingRange": { "onsetCelsius": 34.5, "clearPointCelsius": 35 } }
          ],
          "spotTests": [
            { "test": "Tollens", "outcome": "positive" },
            { "test": "Fehling", "outcome": "negative" },
            { "test": "Schiff", "outcome": "doubtful" }
          ],
          "molarMass": { "gramsPerMole": 106, "uncertaintyGramsPerMole": 3 },
          "mixedMeltings": [
            { "kind": "2,4-DNPH", "partner": "benzaldehyde", "range": "236-238 °C", "authenticRange": "237.5-238.5" },
            { "kind": "semicarbazone", "partner": "acetophenone", "range": "170-190 °C" }
          ],
          "elements": { "absent": ["chlorine", "nitrogen"] },
          "thermometer": {
            "standards": [
              { "standard": "benzoic acid", "readCelsius": 121.4 },
              { "standard": "naphthalene", "readCelsius": 80 }
            ]
          },
          "prior": { "shelfList": ["benzaldehyde", "acetophenone", "4-methylbenzaldehyde"], "noneOfThese": 0.05 }
        }
        """;

    [Fact]
    public async Task SameQuestionGetsTheSameBytes()
    {
        var answers = await Task.WhenAll(Enumerable.Range(0, 20).Select(_ => AskAsync(Observation)));

        Assert.Single(answers.Distinct());
    }

    [Fact]
    public async Task OrderOfEvidenceDoesNotMatter()
    {
        var shuffled = JsonNode.Parse(Observation)!;
        Reverse(shuffled);

        Assert.NotEqual(JsonNode.Parse(Observation)!.ToJsonString(), shuffled.ToJsonString());
        Assert.Equal(await AskAsync(Observation), await AskAsync(shuffled.ToJsonString()));
    }

    [Theory]
    [InlineData("237-238 °C", "237–238")]
    [InlineData("237-238 °C", "mp 237-238°C")]
    [InlineData("237-238 °C", "510.15-511.15 K")]
    [InlineData("\"237-238 °C\"", "{ \"text\": \"237-238 °C\", \"onsetCelsius\": null }")]
    [InlineData("Tollens", "TOLLENS test")]
    [InlineData("2,4-DNPH", "2,4-dinitrophenylhydrazone")]
    [InlineData("2,4-DNPH", "2-4-dinitrophenylhydrazone")]
    [InlineData("benzoic acid", "65-85-0")]
    [InlineData("\"orange-red\"", "\"Orange red\"")]
    [InlineData("\"benzaldehyde\"", "\"100-52-7\"")]
    [InlineData("\"outcome\": \"doubtful\" }", "\"outcome\": \"doubtful\" }, { \"test\": \"iodoform\", \"outcome\": \"notDone\" }")]
    [InlineData("[\"chlorine\", \"nitrogen\"]", "[\"nitrogen\", \"chlorine\", \"nitrogen\"]")]
    [InlineData("\"noneOfThese\": 0.05", "\"noneOfThese\": 5e-2")]
    [InlineData("\"meltingRange\": \"221-222 °C dec.\"", "\"meltingRange\": \"221-222 °C dec.\", \"precipitate\": \"crystals\"")]
    public async Task OtherWordsForTheSameAreTheSameQuestion(string said, string otherwise)
    {
        Assert.Contains(said, Observation, StringComparison.Ordinal);

        Assert.Equal(
            await AskAsync(Observation),
            await AskAsync(Observation.Replace(said, otherwise, StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData(Observation)]
    [InlineData("""{ "meltingPoint": { "onsetCelsius": 125.123456789012, "clearPointCelsius": 126.1, "decomposes": true } }""")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "meltingRange": "257.7-261.1 °F" }], "meltingPoint": "398.0001 K" }""")]
    [InlineData("""{ "boilingPoint": { "range": "132.8 °F", "pressureKilopascals": 99.123456789012 }, "windowCelsius": 4.00000000001 }""")]
    [InlineData("""{ "mixedMeltings": [{ "kind": "DNPH", "partner": "acetone", "range": "257.7-261.1 °F", "authenticRange": "127" }, { "kind": "oxime", "partner": "benzaldehyde", "range": "-57" }] }""")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "precipitate": "crystals", "time": "minutes" }] }""")]
    [InlineData("""{ "prior": { "weights": { "propanone": 0.333333333333333, "2-butanone": 1 } }, "state": "liquid" }""")]
    [InlineData("""{ "thermometer": { "stem": { "exposedCelsius": 60.000000000004, "stemCelsius": 30 } }, "meltingPoint": "80" }""")]
    public async Task CanonicalFormSentAgainIsTheSameQuestionToTheByte(string observation)
    {
        using var made = await service.Client.PostAsync(Requests.Identifications, observation);
        var first = await made.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        var id = JsonNode.Parse(first)!["id"];
        var address = $"{Requests.Identifications}/{id}";
        var form = await service.Client.GetStringAsync($"{address}/observation", TestContext.Current.CancellationToken);
        using var again = await service.Client.PostAsync(Requests.Identifications, form);

        // Stored under the same id, so the form of the form is the form; and the engine is told the same by both.
        Assert.Equal(System.Net.HttpStatusCode.Created, again.StatusCode);
        Assert.Equal(first, await again.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        Assert.Equal(first, await service.Client.GetStringAsync($"{address}/replay", TestContext.Current.CancellationToken));
    }

    [Theory]
    [InlineData("237-238 °C", "237-239 °C")]
    [InlineData("\"noneOfThese\": 0.05", "\"noneOfThese\": 0.06")]
    [InlineData("\"crude\"", "\"recrystallised\"")]
    [InlineData("\"crude\"", "\"crude\", \"time\": \"hours\"")]
    [InlineData("\"authenticRange\": \"237.5-238.5\"", "\"authenticRange\": \"237-238.5\"")]
    [InlineData("\"partner\": \"acetophenone\"", "\"partner\": \"4-methylbenzaldehyde\"")]
    [InlineData("221-222 °C dec.", "221-222 °C")]
    [InlineData("\"meltingRange\": \"221-222 °C dec.\"", "\"precipitate\": \"none\"")]
    public async Task AnotherQuestionHasAnotherId(string said, string otherwise)
    {
        var one = await service.Client.IdentifiedAsync(Observation);
        var other = await service.Client.IdentifiedAsync(Observation.Replace(said, otherwise, StringComparison.Ordinal));

        Assert.NotEqual(one.GetProperty("id").GetString(), other.GetProperty("id").GetString());
    }

    [Fact]
    public async Task ProbabilitiesSumToOne()
    {
        var answer = await service.Client.IdentifiedAsync(
            """{ "derivatives": [{ "kind": "oxime", "meltingRange": "60 °C" }], "maximumCandidates": 500 }""");
        var sum = answer.GetProperty("candidates").EnumerateArray().Sum(c => c.GetProperty("posterior").GetDouble())
            + answer.GetProperty("noneOfThese").GetProperty("posterior").GetDouble();

        // Nine digits a number on the wire.
        Assert.Equal(1, sum, tolerance: 1e-7);
        Assert.Equal(
            answer.GetProperty("candidatesConsidered").GetInt32(), answer.GetProperty("candidates").GetArrayLength());
    }

    private async Task<string> AskAsync(string observation)
    {
        using var response = await service.Client.IdentifyAsync(observation);
        var text = await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(response.IsSuccessStatusCode, text);
        return text;
    }

    // Turns every list and every object's properties round, all the way down.
    private static void Reverse(JsonNode node)
    {
        switch (node)
        {
            case JsonArray list:
                var items = list.Reverse().ToList();
                list.Clear();
                items.ForEach(list.Add);
                items.ForEach(item => Reverse(item!));
                break;
            case JsonObject record:
                var properties = record.Reverse().ToList();
                record.Clear();
                properties.ForEach(property => record.Add(property.Key, property.Value));
                properties.ForEach(property => Reverse(property.Value!));
                break;
            default:
                break;
        }
    }
}
