using System.Net;
using System.Text.Json;
using Derivid.Api.Http;

namespace Derivid.Api.Tests;

/// <summary>Decision sheets and forecasts of steps over HTTP.</summary>
public sealed class DecisionTests(SqliteService service)
{
    private const string Sheets = "/api/v1/decision-sheets";
    private const string Forecasts = "/api/v1/forecasts";

    // Propanone's and pinacolone's 2,4-dinitrophenylhydrazones melt within 2 °C of each other; their semicarbazones are listed
    // some 30 °C apart, their boiling points 50 °C. With derivatives alone the semicarbazone comes first.
    [Fact]
    public async Task ASheetSaysWhatComesFirst()
    {
        using var response = await service.Client.PostAsync(
            Sheets,
            """{ "noneOfThese": 0.01, "shelfList": ["67-64-1", "pinacolone"], "derivativeKinds": ["DNP", "semicarbazone"], "spotTests": [], "takesConstants": false }""");
        var sheet = await response.JsonAsync(HttpStatusCode.OK);

        var first = sheet.GetProperty("points")[0];
        Assert.Equal("semicarbazone", first.GetProperty("step").GetProperty("key").GetString());
        Assert.Equal("propanone", Led(first, 188));
        Assert.Equal("3-3-dimethylbutan-2-one", Led(first, 157));
        Assert.InRange(sheet.GetProperty("forecast").GetProperty("minutes").GetDouble(), 60, 120);
        Assert.InRange(sheet.GetProperty("settled").GetDouble(), 0.8, 1);
        Assert.Contains("local rules", sheet.GetProperty("deferral").GetString(), StringComparison.Ordinal);
        Assert.Contains(sheet.GetProperty("cautions").EnumerateArray(), caution => caution.GetString()!.Contains("emicarbazide", StringComparison.Ordinal));
    }

    // What is left out of the request is all that the table has.
    [Fact]
    public async Task WithoutALaboratoryEverythingIsAtHand()
    {
        using var response = await service.Client.PostAsync(Sheets, """{ "shelfList": ["acetone", "benzaldehyde", "cyclohexanone"], "certainty": 0.9, "hazardMinutes": 0 }""");
        var sheet = await response.JsonAsync(HttpStatusCode.OK);

        Assert.Equal("state", sheet.GetProperty("points")[0].GetProperty("step").GetProperty("kind").GetString());
        Assert.InRange(sheet.GetProperty("points").GetArrayLength(), 2, 10);
        Assert.Equal(0.9, sheet.GetProperty("certainty").GetDouble());
    }

    [Fact]
    public async Task AForecastSaysWhoWouldLead()
    {
        using var response = await service.Client.PostAsync(
            Forecasts,
            """
            { "observation": { "derivatives": [{ "kind": "DNP", "meltingRange": "124-126", "preparation": "recrystallised" }],
                               "prior": { "shelfList": ["acetone", "pinacolone"] } },
              "step": { "kind": "derivative", "key": "semicarbazone" } }
            """);
        var forecast = await response.JsonAsync(HttpStatusCode.OK);

        var outcomes = forecast.GetProperty("outcomes").EnumerateArray().ToList();
        Assert.Equal("propanone", Leader(At(outcomes, 188)));
        Assert.Equal("3-3-dimethylbutan-2-one", Leader(At(outcomes, 157)));
        Assert.InRange(outcomes.Sum(outcome => outcome.GetProperty("probability").GetDouble()), 0.95, 1.001);
        Assert.InRange(forecast.GetProperty("changesLeader").GetDouble(), 0.05, 0.95);
        Assert.Contains("Local rules", forecast.GetProperty("cautions").GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{ "shelfList": ["acetone"] }""", "/shelfList", "2 to 40 are allowed")]
    [InlineData("""{ "shelfList": ["acetone", "propanone"] }""", "/shelfList/1", "listed already")]
    [InlineData("""{ "shelfList": ["acetone", "acetona"] }""", "/shelfList/1", "Closest")]
    [InlineData("""{ "shelfList": ["acetone", "butanone"], "derivativeKinds": ["picrate"] }""", "/derivativeKinds/0", "Allowed")]
    [InlineData("""{ "shelfList": ["acetone", "butanone"], "spotTests": ["tollens", "Tollens test"] }""", "/spotTests/1", "listed already")]
    [InlineData("""{ "shelfList": ["acetone", "butanone"], "certainty": 1 }""", "/certainty", "0.6 to 0.999")]
    [InlineData("""{ "shelfList": ["acetone", "butanone"], "hazardMinutes": -1 }""", "/hazardMinutes", "0 to 240")]
    public async Task WhatDoesNotFitASheetIsRefusedByItsPlace(string body, string place, string said) =>
        await RefusedAsync(Sheets, body, place, said);

    [Theory]
    [InlineData("""{ "step": { "kind": "recrystallisation" } }""", "/step/kind", "Allowed: derivative")]
    [InlineData("""{ "step": { "kind": "derivative" } }""", "/step/key", "missing")]
    [InlineData("""{ "step": { "kind": "boilingPoint", "key": "oxime" } }""", "/step/key", "leave it out")]
    [InlineData("""{ "step": { "kind": "spotTest", "key": "litmus" } }""", "/step/key", "Allowed")]
    [InlineData("""{ "observation": { "state": "liquid" }, "step": { "kind": "state" } }""", "/step", "already")]
    [InlineData("""{ "observation": { "state": "liquid" }, "step": { "kind": "meltingPoint" } }""", "/step/kind", "is a liquid")]
    [InlineData("""{ "observation": { "state": "solid" }, "step": { "kind": "boilingPoint" } }""", "/step/kind", "is a solid")]
    [InlineData("""{ "observation": { "derivatives": [{ "kind": "picrate" }] }, "step": { "kind": "state" } }""", "/observation/derivatives/0/kind", "Allowed")]
    public async Task WhatDoesNotFitAForecastIsRefusedByItsPlace(string body, string place, string said) =>
        await RefusedAsync(Forecasts, body, place, said);

    private async Task RefusedAsync(string address, string body, string place, string said)
    {
        using var response = await service.Client.PostAsync(address, body);
        var problem = await response.ProblemAsync(ProblemTypes.InvalidRequest);

        Assert.Contains(problem["errors"]![place]!.AsArray(), message => ((string)message!).Contains(said, StringComparison.Ordinal));
    }

    private static string? Led(JsonElement point, double celsius) =>
        Leader(At([.. point.GetProperty("branches").EnumerateArray()], celsius));

    private static string? Leader(JsonElement outcome) => outcome.GetProperty("candidates")[0].GetProperty("key").GetString();

    private static JsonElement At(List<JsonElement> outcomes, double celsius) => outcomes.Single(outcome =>
        outcome.GetProperty("seen").GetString() == "reading"
        && !(outcome.TryGetProperty("lowCelsius", out var low) && celsius < low.GetDouble())
        && !(outcome.TryGetProperty("highCelsius", out var high) && celsius >= high.GetDouble()));
}
