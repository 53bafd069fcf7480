using System.Net;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Store;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests;

/// <summary>Which identifications of a batch are kept, on one engine.</summary>
public abstract class BatchStoringTests(RunningService service)
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task BatchOfSomebodyKnownIsStoredAndFoundToTheByte()
    {
        using var student = await service.Service.ClientAsAsync(Role.Student);
        using var response = await student.PostAsync(Requests.Batches, Batch(31.25));
        var batch = await response.JsonAsync(HttpStatusCode.OK);
        var items = batch.GetProperty("items").EnumerateArray().ToList();
        var answered = items[0].GetProperty("identification");
        using var found = await service.Client.GetAsync($"{Requests.Identifications}/{answered.GetProperty("id")}", Patience);

        Assert.True(batch.GetProperty("isStored").GetBoolean());
        Assert.True(items[0].GetProperty("isStored").GetBoolean());
        Assert.False(items[1].TryGetProperty("isStored", out _));
        Assert.Equal(answered.GetRawText(), await found.Content.ReadAsStringAsync(Patience));
    }

    [Theory]
    [InlineData("")]
    [InlineData("?store=false")]
    public async Task BatchOfNobodyIsAnsweredAndNotStored(string query)
    {
        using var response = await service.Client.PostAsync(Requests.Batches + query, Batch(32.25));
        var batch = await response.JsonAsync(HttpStatusCode.OK);
        var item = batch.GetProperty("items")[0];
        using var found = await service.Client.GetAsync(
            $"{Requests.Identifications}/{item.GetProperty("identification").GetProperty("id")}", Patience);

        Assert.False(batch.GetProperty("isStored").GetBoolean());
        Assert.False(item.GetProperty("isStored").GetBoolean());
        await found.ProblemAsync(ProblemTypes.NotFound);
    }

    [Fact]
    public async Task NobodyWhoAsksForStoringIsToldThatItTakesAKey()
    {
        using var response = await service.Client.PostAsync(Requests.Batches + "?store=true", Batch(33.25));

        var problem = await response.ProblemAsync(ProblemTypes.KeyRequired);
        Assert.Contains("store=true", (string)problem["detail"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task OwnerWhoDoesNotWantItStoredIsObeyed()
    {
        using var student = await service.Service.ClientAsAsync(Role.Student);
        using var response = await student.PostAsync(Requests.Batches + "?store=false", Batch(34.25));

        Assert.False((await response.JsonAsync(HttpStatusCode.OK)).GetProperty("isStored").GetBoolean());
    }

    [Fact]
    public async Task WhoStopsReadingOrLeavesStopsCosting()
    {
        using var student = await service.Service.ClientAsAsync(Role.Student);
        const double Window = 35.25;
        using var request = new HttpRequestMessage(HttpMethod.Post, Requests.Batches);
        request.Content = Requests.Json(FullBatch(1000, Window));
        using (var response = await student.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, Patience))
        {
            // The first results are here, while the rest waits for somebody to read these.
            Assert.Equal(HttpStatusCode.OK, response.StatusCode);
            await using var answer = await response.Content.ReadAsStreamAsync(Patience);
            await answer.ReadExactlyAsync(new byte[1000], Patience);
            Assert.InRange(await StoredAsync(Window), 1, 999);
        }

        // The same sender's next batch begins once the one left behind has ended, and no more of that was stored.
        using var next = await student.PostAsync(Requests.Batches + "?store=false", Batch(Window));
        await next.JsonAsync(HttpStatusCode.OK);
        var stored = await StoredAsync(Window);
        Assert.InRange(stored, 1, 999);
        await Task.Delay(200, Patience);
        Assert.Equal(stored, await StoredAsync(Window));
    }

    /// <summary>A batch of observations with much in each, 20 candidates an item.</summary>
    /// <param name="count">Items.</param>
    /// <param name="window">Marks them, so that no other test has stored them.</param>
    internal static string FullBatch(int count, double window) => "{ \"items\": [" + string.Join(',', Enumerable.Range(0, count).Select(
        place => FormattableString.Invariant(
            $$"""
            { "reference": "{{place}}", "observation": {
              "derivatives": [
                { "kind": "2,4-DNPH", "meltingRange": "{{100 + place % 150}}-{{102 + place % 150}}", "colour": "orange", "preparation": "recrystallised" },
                { "kind": "semicarbazone", "meltingRange": "{{90 + place % 110}}-{{92 + place % 110}}", "preparation": "crude" },
                { "kind": "oxime", "meltingRange": "{{40 + place % 90}}-{{42 + place % 90}}" }],
              "spotTests": [{ "test": "Tollens", "outcome": "negative" }, { "test": "iodoform", "outcome": "positive" }],
              "boilingPoint": { "range": "{{60 + place % 180}}" }, "windowCelsius": {{window}}, "maximumCandidates": 20 } }
            """))) + "] }";

    private static string Batch(double window) => FormattableString.Invariant(
        $$"""
        { "items": [{ "observation": { "meltingPoint": "48-49", "windowCelsius": {{window}} } },
                    { "observation": { "meltingPoint": "warm" } }] }
        """);

    private async Task<int> StoredAsync(double window)
    {
        var mark = FormattableString.Invariant($"\"windowCelsius\":{window}");
        await using var context = await service.Service.Services.GetRequiredService<IDbContextFactory<DerividContext>>()
            .CreateDbContextAsync(Patience);
        return await context.Identifications.CountAsync(row => row.ObservationJson.Contains(mark), Patience);
    }
}

public sealed class SqliteBatchStoringTests(SqliteService service) : BatchStoringTests(service);

[Trait("Database", "PostgreSQL")]
public sealed class PostgreSqlBatchStoringTests(PostgreSqlService service)
    : BatchStoringTests(service), IClassFixture<PostgreSqlService>;
