using System.Globalization;
using System.Net;
using Derivid.Api.Http;

namespace Derivid.Api.Tests;

public sealed class BatchTests(SqliteService service)
{
    private const string Address = Requests.Batches + "?store=false";

    [Fact]
    public async Task GoodAndBadItemsAreEachAnsweredInOrder()
    {
        using var response = await service.Client.PostAsync(
            Address,
            $$"""
            {
              "items": [
                { "reference": "good", "observation": {{Requests.Propanone}} },
                { "reference": "reversed", "observation": { "meltingPoint": "50-40" } },
                { "reference": "unknown kind", "observation": { "derivatives": [{ "kind": "hydrazoline" }] } },
                { "observation": {} },
                { "reference": "no observation" },
                7,
                { "reference": "old", "observation": { "tableVersion": 12 } },
                { "reference": 7, "observation": {} }
              ]
            }
            """);
        var batch = await response.JsonAsync(HttpStatusCode.OK);
        var items = batch.GetProperty("items").EnumerateArray().ToList();

        Assert.Equal(2, batch.GetProperty("identified").GetInt32());
        Assert.Equal(6, batch.GetProperty("refused").GetInt32());
        Assert.False(batch.GetProperty("isStored").GetBoolean());
        Assert.Equal(
            (await service.Client.IdentifiedAsync(Requests.Propanone)).GetRawText(),
            items[0].GetProperty("identification").GetRawText());
        Assert.Equal(
            ["good", "reversed", "unknown kind", null, "no observation", null, "old", null],
            items.Select(i => i.TryGetProperty("reference", out var reference) ? reference.GetString() : null));
        AssertProblem(items[1], ProblemTypes.MeltingRangeReversed, "/items/1/observation/meltingPoint");
        AssertProblem(items[2], ProblemTypes.InvalidRequest, "/items/2/observation/derivatives/0/kind");
        Assert.True(items[3].TryGetProperty("identification", out _));
        AssertProblem(items[4], ProblemTypes.InvalidRequest, "/items/4/observation");
        AssertProblem(items[5], ProblemTypes.InvalidRequest, "/items/5");
        AssertProblem(items[6], ProblemTypes.NotFound, null);
        AssertProblem(items[7], ProblemTypes.InvalidRequest, "/items/7/reference");
    }

    [Fact]
    public async Task ThousandItemsAreAnswered()
    {
        using var response = await service.Client.PostAsync(Address, Items(1000, 1));
        var batch = await response.JsonAsync(HttpStatusCode.OK);

        Assert.Equal(1000, batch.GetProperty("identified").GetInt32());
        Assert.Equal(
            Enumerable.Range(0, 1000).Select(i => i.ToString(CultureInfo.InvariantCulture)),
            batch.GetProperty("items").EnumerateArray().Select(i => i.GetProperty("reference").GetString()));
    }

    [Theory]
    [InlineData(0, 1, "1 to 1000")]
    [InlineData(1001, 1, "1 to 1000")]
    [InlineData(41, 500, "20000")]
    public async Task TooManyAreRefusedTogether(int count, int candidates, string allowed)
    {
        using var response = await service.Client.PostAsync(Address, Items(count, candidates));
        var message = (await response.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/items");

        Assert.Contains(allowed, message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task ManyTableVersionsAreRefusedTogether()
    {
        string Naming(int count) => "{ \"items\": [" + string.Join(',', Enumerable.Range(1, count).Concat([1, 1]).Select(version =>
            string.Create(CultureInfo.InvariantCulture, $$"""{ "observation": { "tableVersion": {{version}} } }"""))) + "] }";
        using var few = await service.Client.PostAsync(Address, Naming(4));
        using var many = await service.Client.PostAsync(Address, Naming(5));

        Assert.Equal(3, (await few.JsonAsync(HttpStatusCode.OK)).GetProperty("identified").GetInt32());
        var message = (await many.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/items");
        Assert.Contains("5 table versions", message, StringComparison.Ordinal);
        Assert.Contains("at most 4", message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{ "items": {} }""", "/items")]
    [InlineData("""{ }""", "/items")]
    [InlineData("""[]""", "")]
    [InlineData("""{ "items": [{ "observation": {} }], "course": 1 }""", "/course")]
    public async Task WrongEnvelopeIsRefused(string body, string place)
    {
        using var response = await service.Client.PostAsync(Address, body);

        (await response.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt(place);
    }

    private static void AssertProblem(System.Text.Json.JsonElement item, ProblemType type, string? place)
    {
        var problem = item.GetProperty("problem");
        Assert.Equal(type.Urn, problem.GetProperty("type").GetString());
        Assert.False(item.TryGetProperty("identification", out _));
        if (place is not null)
        {
            Assert.True(problem.GetProperty("errors").TryGetProperty(place, out _), problem.ToString());
        }
    }

    private static string Items(int count, int candidates) => "{ \"items\": ["
        + string.Join(',', Enumerable.Range(0, count).Select(i => string.Create(
            CultureInfo.InvariantCulture,
            $$"""{ "reference": "{{i}}", "observation": { "meltingPoint": "{{i % 400}}", "maximumCandidates": {{candidates}} } }""")))
        + "] }";
}
