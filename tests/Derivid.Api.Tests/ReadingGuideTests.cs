using System.Net;
using System.Text.Json;
using Derivid.Api.Http;

namespace Derivid.Api.Tests;

/// <summary>Reading guides over HTTP: what is answered, what is refused, where and why.</summary>
public sealed class ReadingGuideTests(SqliteService service)
{
    private const string Address = "/api/v1/reading-guides";

    [Fact]
    public async Task AGuideIsAnsweredAndNothingIsStored()
    {
        using var response = await service.Client.PostAsync(Address, """{ "parent": "100-52-7", "kind": "DNP" }""");
        var guide = await response.JsonAsync(HttpStatusCode.OK);

        Assert.Null(response.Headers.Location);
        Assert.Equal("benzaldehyde 2,4-dinitrophenylhydrazone", guide.GetProperty("title").GetString());
        Assert.Equal("listed", guide.GetProperty("expectedBasis").GetString());
        var steps = guide.GetProperty("steps").EnumerateArray().ToList();
        var (low, high) = (guide.GetProperty("expectedCelsius").GetProperty("low").GetDouble(), guide.GetProperty("expectedCelsius").GetProperty("high").GetDouble());
        Assert.Equal("melt", steps[^1].GetProperty("kind").GetString());
        Assert.Equal(low - 10, steps[^1].GetProperty("fromCelsius").GetDouble(), tolerance: 1e-6);
        Assert.Equal(high, steps[^1].GetProperty("toCelsius").GetDouble(), tolerance: 1e-6);
        Assert.Equal(
            steps.Sum(step => step.GetProperty("minutes").GetProperty("high").GetDouble()), guide.GetProperty("minutes").GetProperty("high").GetDouble(), tolerance: 1e-6);
        Assert.False(guide.TryGetProperty("purity", out _));
        Assert.False(guide.TryGetProperty("recrystallisation", out _));
        Assert.True(guide.GetProperty("cautions")[0].GetProperty("canExplode").GetBoolean());
        Assert.Contains(guide.GetProperty("sources").EnumerateArray(), source => source.GetProperty("key").GetString() == "colorado-melting-point");
    }

    [Fact]
    public async Task NothingAtAllIsAnUnknown()
    {
        var guide = await GuideAsync("{}");

        Assert.Equal("the unknown", guide.GetProperty("title").GetString());
        Assert.Equal("usual", guide.GetProperty("expectedBasis").GetString());
        Assert.Equal("firstPass", guide.GetProperty("steps")[0].GetProperty("kind").GetString());
        Assert.False(guide.GetProperty("steps")[4].TryGetProperty("fromCelsius", out _));
    }

    /// <summary>
    /// By hand: benzoic acid (122.35 °C, 18.02 kJ/mol) read 120.1–121.35 °C is 1 °C low; its thermometer, not checked, is out by some
    /// tenths, so the interval holds 18020/8.3145 · (1/394.5 − 1/395.5) = 0.0138.
    /// </summary>
    [Fact]
    public async Task AStandardsDepressionComesToAnIntervalByItsPrintedEnthalpy()
    {
        var purity = (await GuideAsync("""{ "standard": "benzoic acid", "read": "120.1-121.35" }""")).GetProperty("purity");

        Assert.Equal("printed", purity.GetProperty("basis").GetString());
        Assert.Equal(18.02, purity.GetProperty("kilojoulesPerMole").GetProperty("low").GetDouble(), tolerance: 1e-6);
        Assert.Equal("crc-enthalpies-of-fusion", purity.GetProperty("sourceKeys")[0].GetString());
        var impurity = purity.GetProperty("impurity");
        Assert.InRange(0.0138, impurity.GetProperty("low").GetDouble(), impurity.GetProperty("high").GetDouble());
        Assert.InRange(impurity.GetProperty("high").GetDouble(), 0.0139, 0.08);
    }

    [Fact]
    public async Task OfADerivativeThereIsOnlyABoundUnlessAnEnthalpyIsSent()
    {
        const string Read = """ "kind": "DNP", "parent": "acetone", "read": { "onsetCelsius": 112, "clearPointCelsius": 118 }, "preparation": "crude" """;
        var bound = (await GuideAsync($$"""{ {{Read}} }""")).GetProperty("purity");
        var sent = (await GuideAsync($$"""{ {{Read}}, "enthalpyOfFusionKilojoulesPerMole": 30 }""")).GetProperty("purity");

        Assert.Equal("bounded", bound.GetProperty("basis").GetString());
        Assert.Contains("This is a bound", bound.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Contains("melted as it came", bound.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Equal("sent", sent.GetProperty("basis").GetString());
        Assert.DoesNotContain("bound", sent.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.True(High(sent) < High(bound));

        static double High(JsonElement purity) => purity.GetProperty("impurity").GetProperty("high").GetDouble();
    }

    [Fact]
    public async Task WhatDecomposesTellsNothingOfItsPurityAndIsHeatedFaster()
    {
        var guide = await GuideAsync("""{ "kind": "semicarbazone", "expected": "222-224 dec.", "read": "215-219", "reachCelsius": 220 }""");

        Assert.True(guide.GetProperty("decomposes").GetBoolean());
        Assert.False(guide.TryGetProperty("purity", out _));
        Assert.Contains("decomposition", guide.GetProperty("purityMissing").GetString(), StringComparison.Ordinal);
        Assert.Equal(2.5, guide.GetProperty("steps").EnumerateArray().Last().GetProperty("celsiusPerMinute").GetProperty("low").GetDouble());
        Assert.All(guide.GetProperty("steps").EnumerateArray(), step => Assert.True(step.GetProperty("toCelsius").GetDouble() <= 220));
    }

    /// <summary>By hand: a thermometer that reads benzoic acid (122.35 °C) as 120.35 °C is 2 °C low there.</summary>
    [Fact]
    public async Task TheThermometerCorrectsWhatWasRead()
    {
        var guide = await GuideAsync("""
            { "standard": "benzoic-acid", "read": "119-120.35",
              "thermometer": { "standards": [ { "standard": "benzoic-acid", "readCelsius": 120.35 } ] } }
            """);

        Assert.Equal(2, guide.GetProperty("thermometer").GetProperty("correctionCelsius").GetDouble(), tolerance: 1e-6);
        Assert.Contains("too little", guide.GetProperty("thermometer").GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Equal(122.35, guide.GetProperty("purity").GetProperty("correctedCelsius").GetProperty("high").GetDouble(), tolerance: 1e-6);
        Assert.Equal(0, guide.GetProperty("purity").GetProperty("impurity").GetProperty("low").GetDouble());
    }

    [Fact]
    public async Task AnObservationIsAskedWhetherToRecrystalliseByTheRankingsOwnFigures()
    {
        const string Observation = """{ "derivatives": [ { "kind": "DNP", "meltingRange": "105-118", "preparation": "crude" } ], "hazardMinutes": 0 }""";
        var worth = (await GuideAsync($$"""{ "kind": "DNP", "observation": {{Observation}} }""")).GetProperty("recrystallisation");
        using var response = await service.Client.PostAsync("/api/v1/identifications?store=false", Observation);
        var steps = (await response.JsonAsync(HttpStatusCode.OK)).GetProperty("nextSteps").EnumerateArray().ToList();
        var again = steps.Single(step => step.GetProperty("kind").GetString() == "recrystallisation");

        Assert.Equal(
            again.GetProperty("expectedInformation").GetDouble() / again.GetProperty("minutes").GetDouble(), worth.GetProperty("perMinute").GetDouble(), tolerance: 1e-8);
        Assert.Equal(steps[0].GetProperty("kind").GetString() == "recrystallisation", worth.GetProperty("isWorthIt").GetBoolean());
        Assert.True(worth.GetProperty("otherPerMinute").GetDouble() > 0);
    }

    [Theory]
    [InlineData("""{ "kind": "picrate" }""", "/kind", "picrate")]
    [InlineData("""{ "parent": "acetona" }""", "/parent", "Closest")]
    [InlineData("""{ "standard": "sand" }""", "/standard", "sand")]
    [InlineData("""{ "standard": "naphthalene", "parent": "acetone" }""", "/standard", "beside a kind or a parent")]
    [InlineData("""{ "kind": "dimedone", "parent": "acetone" }""", "/kind", "propanone does not form it")]
    [InlineData("""{ "expected": "warm" }""", "/expected", "warm")]
    [InlineData("""{ "read": ">300" }""", "/read", ">300")]
    [InlineData("""{ "enthalpyOfFusionKilojoulesPerMole": 20 }""", "/enthalpyOfFusionKilojoulesPerMole", "without read")]
    [InlineData("""{ "read": "120", "enthalpyOfFusionKilojoulesPerMole": -20 }""", "/enthalpyOfFusionKilojoulesPerMole", "from 0.5 to 500")]
    [InlineData("""{ "preparation": "crude" }""", "/preparation", "without read")]
    [InlineData("""{ "reachCelsius": 20 }""", "/reachCelsius", "from 50 to 450")]
    [InlineData("""{ "thermometer": { "id": "nobody" } }""", "/thermometer/id", "nobody")]
    [InlineData("""{ "thermometer": { "daysSinceChecked": 3 } }""", "/thermometer/daysSinceChecked", "No standards")]
    [InlineData("""{ "observation": { "thermometer": { "id": "nobody" } } }""", "/observation/thermometer/id", "nobody")]
    [InlineData("""{ "observation": { "derivatives": [ { "kind": "picrate" } ] } }""", "/observation/derivatives/0/kind", "picrate")]
    [InlineData("""{ "tableVersion": 1, "observation": { "tableVersion": 7 } }""", "/observation/tableVersion", "7, and the guide is of version 1")]
    public async Task WhatDoesNotFitIsRefusedByItsPlace(string body, string place, string said)
    {
        using var response = await service.Client.PostAsync(Address, body);
        var problem = await response.ProblemAsync(ProblemTypes.InvalidRequest);

        Assert.Contains(problem["errors"]![place]!.AsArray(), message => ((string)message!).Contains(said, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("""{ "read": { "onsetCelsius": 126, "clearPointCelsius": 120 } }""", "/read", "melting-range-reversed")]
    [InlineData("""{ "thermometer": { "standards": [ { "standard": "naphthalene", "readCelsius": 20 } ] } }""", "/thermometer/standards", "thermometer-implausible")]
    public async Task WhatCannotBeIsRefusedAsSuch(string body, string place, string type)
    {
        using var response = await service.Client.PostAsync(Address, body);
        var problem = await response.ProblemAsync(type == "melting-range-reversed" ? ProblemTypes.MeltingRangeReversed : ProblemTypes.ThermometerImplausible);

        Assert.NotNull(problem["errors"]![place]);
    }

    private async Task<JsonElement> GuideAsync(string body)
    {
        using var response = await service.Client.PostAsync(Address, body);
        return await response.JsonAsync(HttpStatusCode.OK);
    }
}
