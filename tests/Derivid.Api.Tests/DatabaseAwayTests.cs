using System.Diagnostics;
using System.Globalization;
using System.Net;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Store;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests;

/// <summary>The database is taken away while the service runs.</summary>
public sealed class DatabaseAwayTests
{
    private static readonly TimeSpan AFewSeconds = TimeSpan.FromSeconds(8);

    // Stored in one transaction; its end may be done and not yet told when the database goes.
    private const int Lot = 25;

    [Fact]
    public async Task IdentificationIsAnsweredAndNothingIsHalfStored()
    {
        await using var cluster = await PostgreSqlCluster.StartNewAsync(durable: true);
        await using var service = new ServiceUnderTest(cluster.ConnectionString);
        using var client = await service.StartAsync();
        using var student = await service.ClientAsAsync(Role.Student);
        using var before = await client.PostAsync(Requests.Identifications, Requests.Propanone);
        var stored = await before.JsonAsync(HttpStatusCode.Created);

        await cluster.StopAsync();

        await AnswersWithoutStoringAsync(client, student, stored.GetProperty("id").GetString()!);

        await cluster.StartAsync();
        using var again = await client.PostAsync(Requests.Identifications, Requests.Propanone);
        using var batch = await student.PostAsync(Requests.Batches, Batch(0));
        await again.JsonAsync(HttpStatusCode.Created);
        await batch.JsonAsync(HttpStatusCode.OK);
        Assert.Equal(1 + 1000, await StoredAsync(service));
    }

    [Fact]
    public async Task BatchCutOffIsAnsweredAndTellsWhatIsStored()
    {
        await using var cluster = await PostgreSqlCluster.StartNewAsync(durable: true);
        await using var service = new ServiceUnderTest(cluster.ConnectionString);
        using var client = await service.StartAsync();
        using var student = await service.ClientAsAsync(Role.Student);

        var stored = 0;
        for (var round = 0; round < 4; round++)
        {
            using var warm = await student.PostAsync(Requests.Batches, Batch(1 + 2 * round));
            await warm.JsonAsync(HttpStatusCode.OK);
            stored += 1000;

            // Cut off while the next one is under way, each round at another moment.
            var underWay = student.PostAsync(Requests.Batches, Batch(2 + 2 * round));
            for (var work = 0; work < round * 25; work++)
            {
                await client.IdentifiedAsync(Requests.Propanone);
            }

            await cluster.StopAsync();
            using var cut = await underWay;
            await cluster.StartAsync();

            var found = await StoredAsync(service);
            var told = 0;
            if (cut.StatusCode == HttpStatusCode.OK)
            {
                var answer = await cut.JsonAsync(HttpStatusCode.OK);
                told = answer.GetProperty("items").EnumerateArray().Count(item => item.GetProperty("isStored").GetBoolean());
                Assert.Equal(1000, answer.GetProperty("identified").GetInt32());
                Assert.Equal(told == 1000, answer.GetProperty("isStored").GetBoolean());
            }
            else
            {
                await cut.ProblemAsync(ProblemTypes.StorageUnavailable);
            }

            Assert.InRange(found - stored, told, told + Lot);
            stored = found;
        }
    }

    private static async Task AnswersWithoutStoringAsync(HttpClient client, HttpClient student, string storedId)
    {
        await client.IdentifiedAsync(Requests.Propanone);
        await client.JsonAtAsync("/api/v1/parents?limit=500");
        await client.JsonAtAsync("/api/v1/table-versions/1");
        var ready = await client.JsonAtAsync("/health/ready");
        Assert.Equal("ready", ready.GetProperty("status").GetString());

        var patience = Stopwatch.StartNew();
        using var single = await client.PostAsync(Requests.Identifications, """{ "meltingPoint": "81" }""");
        Assert.True(patience.Elapsed < AFewSeconds, patience.Elapsed.ToString());
        using var batch = await student.PostAsync(Requests.Batches, Batch(0));
        using var ofNobody = await client.PostAsync(Requests.Batches, Batch(0));
        await ofNobody.JsonAsync(HttpStatusCode.OK);
        using var found = await client.GetAsync(
            $"{Requests.Identifications}/{storedId}", TestContext.Current.CancellationToken);
        foreach (var response in new[] { single, batch, found })
        {
            await response.ProblemAsync(ProblemTypes.StorageUnavailable);
            Assert.NotNull(response.Headers.RetryAfter?.Delta);
        }

        Assert.Contains("store=false", (string)(await single.AnyProblemAsync())["detail"]!, StringComparison.Ordinal);
    }

    private static async Task<int> StoredAsync(ServiceUnderTest service)
    {
        await using var context = await service.Services.GetRequiredService<IDbContextFactory<DerividContext>>()
            .CreateDbContextAsync(TestContext.Current.CancellationToken);

        // The pool may still hold connections to the server that was stopped.
        Npgsql.NpgsqlConnection.ClearAllPools();
        return await context.Identifications.CountAsync(TestContext.Current.CancellationToken);
    }

    private static string Batch(int series) => "{ \"items\": [" + string.Join(',', Enumerable.Range(0, 1000).Select(
        i => string.Create(
            CultureInfo.InvariantCulture,
            $$"""{ "observation": { "molarMass": { "gramsPerMole": {{100 + i}}, "uncertaintyGramsPerMole": {{1 + series}} }, "maximumCandidates": 1 } }""")))
        + "] }";
}
