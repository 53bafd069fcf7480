using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json.Nodes;
using Npgsql;

namespace Derivid.Hostile.Machine;

/// <summary>PostgreSQL is stopped as by a power cut while four senders go on, and started again.</summary>
[Trait("Database", "PostgreSQL")]
public sealed class OutageTests
{
    private const int Senders = 4;

    // Before and after the outage.
    private static readonly TimeSpan Usual = TimeSpan.FromSeconds(2);

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public Task ShortOutageLosesNothingAndIsTold() => RunAsync(TimeSpan.FromSeconds(3));

    [Fact(Explicit = true)]
    public Task OutageOfAMinuteLosesNothingAndIsTold() => RunAsync(TimeSpan.FromSeconds(60));

    private static async Task RunAsync(TimeSpan outage)
    {
        await using var site = await Site.OnPostgreSqlAsync();
        using var end = new CancellationTokenSource();
        var (stored, counts, longest) = (new ConcurrentBag<string>(), new ConcurrentDictionary<HttpStatusCode, int>(), TimeSpan.Zero);
        var senders = Task.WhenAll(Enumerable.Range(0, Senders).Select(async sender =>
        {
            for (var number = 0; !end.IsCancellationRequested; number++)
            {
                var isStored = number % 2 == 0;
                var clock = Stopwatch.StartNew();
                using var response = await SendAsync(site, sender, number, isStored);
                longest = clock.Elapsed > longest ? clock.Elapsed : longest;
                counts.AddOrUpdate(response.StatusCode, 1, (_, count) => count + 1);
                if (response.StatusCode == HttpStatusCode.Created)
                {
                    stored.Add(response.Headers.Location!.ToString());
                }
                else if (response.StatusCode != HttpStatusCode.OK || isStored)
                {
                    await AssertAwayAsync(response);
                }
            }
        }));

        await Task.Delay(Usual, Patience);
        await site.Server!.StopAsync();
        NpgsqlConnection.ClearAllPools();
        await Task.Delay(outage, Patience);
        await site.Server.StartAsync();
        await Task.Delay(Usual, Patience);
        await end.CancelAsync();
        await senders;

        foreach (var address in stored)
        {
            using var found = await site.Service.Client.GetAsync(address, Patience);
            Assert.Equal(HttpStatusCode.OK, found.StatusCode);
        }

        TestContext.Current.SendDiagnosticMessage(string.Create(
            CultureInfo.InvariantCulture,
            $"PostgreSQL stopped for {outage.TotalSeconds:0} s: {string.Join(", ", counts.OrderBy(count => count.Key).Select(count => $"{(int)count.Key}: {count.Value}"))}; longest answer {longest.TotalSeconds:0.0} s; {stored.Count} stored and all found."));
        Assert.True(counts.GetValueOrDefault(HttpStatusCode.ServiceUnavailable) > 0, "Nothing was sent while the server was away.");
        await site.AssertUnharmedAsync();
    }

    private static async Task<HttpResponseMessage> SendAsync(Site site, int sender, int number, bool isStored)
    {
        using var content = new StringContent(
            string.Create(
                CultureInfo.InvariantCulture,
                $$"""{ "molarMass": { "gramsPerMole": {{100 + (0.001 * number):0.000}}, "uncertaintyGramsPerMole": {{1 + sender}} }, "maximumCandidates": 1 }"""),
            Encoding.UTF8,
            "application/json");
        return await site.Service.Client.PostAsync($"/api/v1/identifications?store={(isStored ? "true" : "false")}", content, Patience);
    }

    private static async Task AssertAwayAsync(HttpResponseMessage response)
    {
        var text = await response.Content.ReadAsStringAsync(Patience);
        Assert.True(response.StatusCode == HttpStatusCode.ServiceUnavailable, $"{(int)response.StatusCode}: {text}");
        Assert.Equal("urn:derivid:problem:storage-unavailable", (string?)JsonNode.Parse(text)!["type"]);
        Assert.NotNull(response.Headers.RetryAfter?.Delta);
    }
}
