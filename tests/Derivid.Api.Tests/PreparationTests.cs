using System.Net;
using System.Text.Json;
using Derivid.Api.Http;

namespace Derivid.Api.Tests;

/// <summary>Preparations over HTTP: what is answered, what is refused, where and why.</summary>
public sealed class PreparationTests(SqliteService service)
{
    private const string Address = "/api/v1/preparations";

    /// <summary>By hand: 106.12 mg of benzaldehyde is 1 mmol; its 2,4-dinitrophenylhydrazone weighs 286.25 g/mol.</summary>
    [Fact]
    public async Task APreparationIsAnsweredAndNothingIsStored()
    {
        using var response = await service.Client.PostAsync(Address, """{ "parent": "100-52-7", "kind": "DNP", "milligrams": 106.12, "portions": 2 }""");
        var sheet = await response.JsonAsync(HttpStatusCode.OK);

        Assert.Null(response.Headers.Location);
        Assert.Equal("benzaldehyde 2,4-dinitrophenylhydrazone", sheet.GetProperty("title").GetString());
        Assert.Equal(286.2, sheet.GetProperty("product").GetProperty("theoreticalMilligrams").GetProperty("high").GetDouble(), tolerance: 0.1);
        Assert.True(sheet.GetProperty("cautions")[0].GetProperty("canExplode").GetBoolean());
        Assert.Contains("local rules", sheet.GetProperty("deferral").GetString(), StringComparison.Ordinal);
        Assert.Contains(sheet.GetProperty("sources").EnumerateArray(), source => source.GetProperty("key").GetString() == "improved-dnph-reagent");
    }

    [Theory]
    [InlineData("""{ "parent": "acetone", "kind": "DNP", "milligrams": 500.1 }""", "/milligrams", "500.1 mg of the carbonyl compound; 20 to 500 mg is allowed", "can explode")]
    [InlineData("""{ "parent": "acetone", "kind": "semicarbazone", "milligrams": 5000.1 }""", "/milligrams", "5000.1 mg of the carbonyl compound; 20 to 5000 mg is allowed", "assessment")]
    [InlineData("""{ "parent": "acetone", "kind": "semicarbazone", "milligrams": 19 }""", "/milligrams", "19 mg of the carbonyl compound; 20 to 5000 mg is allowed", "filtered")]
    [InlineData("""{ "parent": "acetone", "kind": "DNP", "milligrams": 500, "portions": 11 }""", "/portions", "11 portions of 500 mg; 10 of them are allowed", "several lots")]
    [InlineData("""{ "parent": "acetone", "kind": "dimedone", "milligrams": 100 }""", "/kind", "propanone does not form it", "aldehyde")]
    [InlineData("""{ "parent": "acetone", "kind": "oxime", "milligrams": 100, "carbonylsCondensed": 2 }""", "/carbonylsCondensed", "2; 1 to 1 is allowed", "propanone")]
    [InlineData("""{ "parent": "acetone", "kind": "semicarbazone", "milligrams": 100, "reagentMilligrams": 1000 }""", "/reagentMilligrams", "1000 mg;", "washed out")]
    [InlineData("""{ "parent": "acetone", "kind": "4-NPH", "milligrams": 100, "reagentMilligrams": 300, "reagentForm": "4-nitrophenylhydrazine-wetted" }""", "/reagentForm", "4-nitrophenylhydrazine wetted with water", "no source")]
    public async Task WhatHadBetterNotBeMadeIsRefusedWithPlaceValueAllowedAndReason(string body, string place, string said, string why)
    {
        using var response = await service.Client.PostAsync(Address, body);
        var problem = await response.ProblemAsync(ProblemTypes.PreparationRefused);

        var message = (string)Assert.Single(problem["errors"]![place]!.AsArray())!;
        Assert.Contains(said, message, StringComparison.Ordinal);
        Assert.Contains(why, message, StringComparison.Ordinal);
        Assert.Equal(1, (int)problem["tableVersion"]!);
    }

    [Theory]
    [InlineData("""{ "kind": "oxime", "milligrams": 100 }""", "/parent", "Neither")]
    [InlineData("""{ "parent": "acetone", "molarMass": { "lowest": 50, "highest": 60 }, "kind": "oxime", "milligrams": 100 }""", "/molarMass", "Both")]
    [InlineData("""{ "molarMass": { "lowest": 60, "highest": 50 }, "kind": "oxime", "milligrams": 100 }""", "/molarMass/highest", "50 lies below the lower end, 60")]
    [InlineData("""{ "parent": "acetona", "kind": "oxime", "milligrams": 100 }""", "/parent", "Closest")]
    [InlineData("""{ "parent": "acetone", "kind": "picrate", "milligrams": 100 }""", "/kind", "picrate")]
    [InlineData("""{ "parent": "acetone", "kind": "oxime", "milligrams": 100, "reagentExcess": 0.1, "reagentMilligrams": 150 }""", "/reagentExcess", "leave one")]
    [InlineData("""{ "parent": "acetone", "kind": "oxime", "milligrams": 100, "reagentForm": "hydroxylamine-hydrochloride" }""", "/reagentForm", "without reagentMilligrams")]
    [InlineData("""{ "parent": "acetone", "kind": "oxime", "milligrams": 100, "reagentForm": "salt", "reagentMilligrams": 150 }""", "/reagentForm", "hydroxylamine-hydrochloride")]
    [InlineData("""{ "parent": "acetone", "kind": "oxime", "milligrams": 100, "reagentExcess": 3 }""", "/reagentExcess", "from -0.9 to 2")]
    [InlineData("""{ "parent": "acetone", "kind": "oxime", "milligrams": 100, "portions": 101 }""", "/portions", "from 1 to 100")]
    public async Task WhatDoesNotFitIsRefusedByItsPlace(string body, string place, string said)
    {
        using var response = await service.Client.PostAsync(Address, body);
        var problem = await response.ProblemAsync(ProblemTypes.InvalidRequest);

        Assert.Contains(problem["errors"]![place]!.AsArray(), message => ((string)message!).Contains(said, StringComparison.Ordinal));
    }

    // Two carbonyl groups: as the table lists them where nothing is said, the other product told beside.
    [Fact]
    public async Task MonoAndBisAreToldApart()
    {
        var sheet = await SheetAsync("""{ "parent": "benzil", "kind": "oxime", "milligrams": 100, "carbonylsCondensed": 2 }""");

        Assert.Equal("benzil bis-oxime", sheet.GetProperty("title").GetString());
        Assert.Equal("C14H10O2 + 2 H3NO − 2 H2O = C14H12N2O2", sheet.GetProperty("product").GetProperty("balance").GetString());
        Assert.Equal("C14H11NO2", Assert.Single(sheet.GetProperty("product").GetProperty("others").EnumerateArray()).GetProperty("formula").GetString());
    }

    [Fact]
    public async Task AYieldAboveAllThereCanBeIsNoErrorAndSaysWhatItMeans()
    {
        var sheet = await SheetAsync("""{ "parent": "acetone", "kind": "semicarbazone", "milligrams": 58.08, "productMilligrams": 126.6 }""");

        // By hand: 1 mmol of 115.14 g/mol; 126.6 mg is 110 %.
        Assert.Equal(1.1, sheet.GetProperty("yield").GetProperty("share").GetProperty("low").GetDouble(), tolerance: 0.001);
        Assert.Contains("wet or holds something else", sheet.GetProperty("yield").GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    private async Task<JsonElement> SheetAsync(string body)
    {
        using var response = await service.Client.PostAsync(Address, body);
        return await response.JsonAsync(HttpStatusCode.OK);
    }
}
