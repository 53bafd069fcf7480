using System.Text.Json;

namespace Derivid.Api.Tests;

/// <summary>Readings the service was asked to answer well, over HTTP and on the released table.</summary>
public sealed class AcceptanceTests(SqliteService service)
{
    private const string PropanoneDerivative =
        """{ "kind": "2,4-DNPH", "meltingRange": "125-127 °C", "colour": "yellow" }""";

    private const string PropanoneTests =
        """[{ "test": "iodoform", "outcome": "positive" }, { "test": "Tollens", "outcome": "negative" }]""";

    [Fact]
    public async Task PropanoneAndItsNeighboursCannotBeToldApartByOneDerivative()
    {
        var answer = await AskAsync($$"""{ "derivatives": [{{PropanoneDerivative}}], "spotTests": {{PropanoneTests}} }""");
        var group = answer.GetProperty("groups")[0];
        var parents = group.GetProperty("parentKeys").EnumerateArray().Select(p => p.GetString()).ToList();

        Assert.Contains("propanone", parents);
        Assert.Contains("3-3-dimethylbutan-2-one", parents);
        Assert.Contains("cannot be told apart", group.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.NotEqual(JsonValueKind.Undefined, group.GetProperty("separatedBy").GetProperty("kind").ValueKind);
    }

    [Theory]
    [InlineData("boilingPoint", """{ "range": "55-57 °C" }""", "")]
    [InlineData(null, "", """, { "kind": "semicarbazone", "meltingRange": "187-189 °C" }""")]
    public async Task BoilingPointOrSemicarbazonePutsPropanoneFirst(string? property, string value, string derivative)
    {
        var further = property is null ? "" : $$""", "{{property}}": {{value}}""";
        var answer = await AskAsync(
            $$"""{ "derivatives": [{{PropanoneDerivative}}{{derivative}}], "spotTests": {{PropanoneTests}}{{further}} }""");

        Assert.Equal("propanone", answer.LeadingParent());
        Assert.True(answer.PosteriorOf("propanone") > 0.8, answer.ToString());
    }

    [Fact]
    public async Task LiquidRulesOutWhatIsListedAsASolid()
    {
        var (bare, liquid) = (
            await AskAsync($$"""{ "derivatives": [{{PropanoneDerivative}}], "spotTests": {{PropanoneTests}}, "maximumCandidates": 200 }"""),
            await AskAsync($$"""{ "derivatives": [{{PropanoneDerivative}}], "spotTests": {{PropanoneTests}}, "state": "liquid", "maximumCandidates": 200 }"""));

        // Camphor melts near 178 °C, propanone near -95 °C (CRC Handbook of Chemistry and Physics, recalled).
        Assert.True(liquid.PosteriorOf("propanone") > bare.PosteriorOf("propanone"));
        Assert.True(liquid.PosteriorOf("camphor") < bare.PosteriorOf("camphor") / 5);
    }

    [Fact]
    public async Task BenzaldehydeLeadsWithItsTests()
    {
        var answer = await AskAsync(
            """
            {
              "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "237-238 °C", "colour": "orange-red" }],
              "spotTests": [
                { "test": "Tollens", "outcome": "positive" },
                { "test": "Fehling", "outcome": "negative" }
              ]
            }
            """);

        Assert.Equal("benzaldehyde", answer.LeadingParent());
    }

    [Fact]
    public async Task AcetophenoneStaysInPlayWithoutTheTests()
    {
        var answer = await AskAsync(
            """{ "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "237-238 °C", "colour": "orange-red" }] }""");

        // In play: at least as likely as before the evidence, and not negligible beside the leader.
        Assert.True(answer.PosteriorOf("acetophenone") > 0.02, answer.ToString());
    }

    [Fact]
    public async Task NothingListedMeltsAtThirtyDegrees()
    {
        var answer = await AskAsync(
            """{ "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "29-31 °C", "colour": "yellow" }] }""");
        var none = answer.GetProperty("noneOfThese").GetProperty("posterior").GetDouble();

        Assert.True(none > answer.GetProperty("candidates")[0].GetProperty("posterior").GetDouble(), answer.ToString());
    }

    [Fact]
    public async Task WideCrudeRangeKeepsPropanoneInPlay()
    {
        var answer = await AskAsync(
            """
            {
              "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "117-124 °C", "preparation": "crude" }],
              "windowCelsius": 2,
              "maximumCandidates": 500
            }
            """);
        var propanone = answer.GetProperty("candidates").EnumerateArray()
            .Single(c => c.GetProperty("parent").GetProperty("key").GetString() == "propanone");
        var window = Assert.Single(propanone.GetProperty("windows").EnumerateArray().ToList());

        Assert.True(propanone.GetProperty("posterior").GetDouble() > propanone.GetProperty("prior").GetDouble());
        Assert.False(window.GetProperty("isWholeRangeInside").GetBoolean());
    }

    private Task<JsonElement> AskAsync(string observation) => service.Client.IdentifiedAsync(observation);
}
