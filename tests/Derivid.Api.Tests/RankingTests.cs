using System.Net;
using System.Text.Json;
using Derivid.Api.Http;

namespace Derivid.Api.Tests;

/// <summary>A ranking without reasons, over HTTP.</summary>
public sealed class RankingTests(SqliteService service)
{
    [Theory]
    [InlineData(Requests.Propanone)]
    [InlineData("{}")]
    [InlineData("""{ "boilingPoint": { "range": "55-57 °C" }, "prior": { "shelfList": ["acetone", "butanone"], "noneOfThese": 0.2 }, "maximumCandidates": 1 }""")]
    [InlineData("""{ "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "61-62" }, { "kind": "oxime", "meltingRange": "210-211" }], "maximumCandidates": 40 }""")]
    public async Task FiguresAreThoseOfTheIdentification(string observation)
    {
        var whole = await service.Client.IdentifiedAsync(observation);
        using var response = await service.Client.PostAsync(Requests.Rankings, observation);
        var ranking = await response.JsonAsync(HttpStatusCode.OK);

        foreach (var property in new[] { "tableVersion", "modelVersion", "candidatesConsidered" })
        {
            Assert.Equal(whole.GetProperty(property).ToString(), ranking.GetProperty(property).ToString());
        }

        Assert.Equal(
            whole.GetProperty("candidates").EnumerateArray().Select(each => (
                each.GetProperty("parent").GetProperty("key").GetString(), each.GetProperty("parent").GetProperty("name").GetString(), each.GetProperty("posterior").GetRawText())),
            ranking.GetProperty("candidates").EnumerateArray().Select(each => (
                each.GetProperty("key").GetString(), each.GetProperty("name").GetString(), each.GetProperty("posterior").GetRawText())));
        Assert.Equal(Told(whole.GetProperty("noneOfThese")), Told(ranking.GetProperty("noneOfThese")));
        Assert.Equal(
            whole.GetProperty("groups").EnumerateArray().Select(each => (each.GetProperty("parentKeys").GetRawText(), each.GetProperty("posterior").GetRawText())),
            ranking.GetProperty("groups").EnumerateArray().Select(each => (each.GetProperty("parentKeys").GetRawText(), each.GetProperty("posterior").GetRawText())));
    }

    [Theory]
    [InlineData("""{ "meltingPoint": "hot" }""", "/meltingPoint")]
    [InlineData("""{ "derivatives": [{ "kind": "no such kind", "meltingRange": "1-2" }] }""", "/derivatives/0/kind")]
    [InlineData("""{ "maximumCandidates": 0 }""", "/maximumCandidates")]
    public async Task WhatCannotBeIsNamed(string observation, string place)
    {
        using var response = await service.Client.PostAsync(Requests.Rankings, observation);

        var problem = await response.ProblemAsync(ProblemTypes.InvalidRequest);

        Assert.NotNull(problem["errors"]![place]);
    }

    private static (string Posterior, bool Leads) Told(JsonElement none) => (none.GetProperty("posterior").GetRawText(), none.GetProperty("leads").GetBoolean());
}
