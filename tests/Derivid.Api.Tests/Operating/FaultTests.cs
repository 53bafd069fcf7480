using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;
using Derivid.Api.Identifications;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Api.Tests.Operating;

/// <summary>A fault is seen from outside: in series that a rule asks for, and in one line of the log.</summary>
/// <remarks>
/// That the rule would fire is not shown: what Prometheus makes of the series, by rates, spans, thresholds and how long they hold, needs a
/// Prometheus.
/// </remarks>
public sealed class FaultTests
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    [Trait("Database", "PostgreSQL")]
    public async Task DatabaseThatIsGone()
    {
        await using var cluster = await PostgreSqlCluster.StartNewAsync(durable: true);
        await using var service = await WatchedService.StartAsync(cluster.ConnectionString);
        Assert.Empty(Rising(await Scrape.OfAsync(service.Process), "DerividDatabaseAway"));

        await cluster.StopAsync();
        await AskAllAsync(service);
        // On a busy machine it takes so long to find out that it counts as answering nothing.
        var gone = await Scrape.UntilAsync(service.Process, each => each.Value("derivid_database_status", ("derivid_database_state", "answering")) == 0);

        Assert.NotEmpty(Rising(gone, "DerividDatabaseAway"));
        Assert.True(gone.Value("derivid_database_failures_total") > 0);
        Assert.True(gone.Value("derivid_request_refusals_total", ("error_type", "storage-unavailable"), ("http_response_status_code", "503")) > 0);
        await OneLineAsync(service, "can't be used: ");

        await cluster.StartAsync();
        await Scrape.UntilAsync(service.Process, each => each.Value("derivid_database_status", ("derivid_database_state", "answering")) == 1);
        await OneLineAsync(service, "The database is used again");
    }

    [Fact]
    [Trait("Database", "PostgreSQL")]
    public async Task DatabaseThatStandsStill()
    {
        await using var cluster = await PostgreSqlCluster.StartNewAsync(durable: false);
        await using var service = await WatchedService.StartAsync(cluster.ConnectionString);

        await cluster.FreezeAsync();
        await AskAllAsync(service);
        var still = await Scrape.UntilAsync(service.Process, each => each.Value("derivid_database_status", ("derivid_database_state", "lost")) == 1);
        var later = await Scrape.UntilAsync(service.Process, each => each.Value("derivid_database_answer_age_seconds") > 3);

        Assert.All([still, later], each => Assert.NotEmpty(Rising(each, "DerividDatabaseAway")));
        await OneLineAsync(service, "can't be used: ");

        await cluster.ThawAsync();
        await Scrape.UntilAsync(service.Process, each => each.Value("derivid_database_status", ("derivid_database_state", "answering")) == 1);
    }

    [Fact]
    public async Task SenderWhoIsSlow()
    {
        await using var service = await WatchedService.StartAsync(new SqliteDatabase());
        Assert.Empty(Rising(await Scrape.OfAsync(service.Process), "DerividSlowSenders"));
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        await socket.ConnectAsync(IPAddress.Loopback, service.Process.Client.BaseAddress!.Port, Patience);
        await socket.SendAsync(
            Encoding.ASCII.GetBytes($"POST {Requests.Identifications} HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 65000\r\n\r\n{{"), Patience);

        var waiting = await Scrape.UntilAsync(service.Process, each => each.Sum("http_server_active_requests") == 1);
        var slow = await Scrape.UntilAsync(service.Process, each => each.Value("derivid_request_refusals_total", ("error_type", "slow-body")) == 1);

        Assert.Empty(Rising(waiting, "DerividSlowSenders"));
        Assert.NotEmpty(Rising(slow, "DerividSlowSenders"));
        var line = await OneLineAsync(service, "A request was answered invalid-request: ");
        Assert.Matches("00-[0-9a-f]{32}-[0-9a-f]{16}-0[01]", line);
    }

    [Fact]
    public async Task QueueThatIsFull()
    {
        await using var service = await WatchedService.StartAsync(new SqliteDatabase());
        using var client = new HttpClient { BaseAddress = service.Process.Client.BaseAddress };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", await service.GiveKeyAsync(Role.Student));
        const string Batch = """{ "items": [{ "observation": { "meltingPoint": "48" } }] }""";
        using var held = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        await held.ConnectAsync(IPAddress.Loopback, client.BaseAddress!.Port, Patience);
        await held.SendAsync(
            Encoding.ASCII.GetBytes($"POST {Requests.Batches} HTTP/1.1\r\nHost: localhost\r\nAuthorization: {client.DefaultRequestHeaders.Authorization}\r\nContent-Type: application/json\r\nContent-Length: {Batch.Length}\r\n\r\n"), Patience);
        await Scrape.UntilAsync(service.Process, each => each.Value("derivid_queue_active", ("derivid_queue_name", "batch")) == 1);

        var others = Enumerable.Range(0, BatchTurns.MostOfSender + 2).Select(_ => client.PostAsync(Requests.Batches, Batch)).ToList();
        var full = await Scrape.UntilAsync(service.Process, each => each.Value("derivid_request_refusals_total", ("error_type", "busy")) == 3);

        Assert.Equal(BatchTurns.MostOfSender - 1, full.Value("derivid_queue_waiting", ("derivid_queue_name", "batch")));
        Assert.NotEmpty(Rising(full, "DerividTurnsAway"));
        await OneLineAsync(service, "Requests are answered busy: ");
        await held.SendAsync(Encoding.ASCII.GetBytes(Batch), Patience);
        foreach (var response in await Task.WhenAll(others))
        {
            response.Dispose();
        }

        await Scrape.UntilAsync(service.Process, each => each.Value("derivid_queue_active", ("derivid_queue_name", "batch")) == 0);
    }

    // What the rule asks for, and is more than nothing.
    private static List<Series> Rising(Scrape scrape, string alert) =>
        [.. Selector.AllOf(Watching.Rule(alert)).SelectMany(selector => selector.In(scrape)).Where(series => series.Value > 0)];

    // Lines are printed by a thread of their own.
    private static async Task<string> OneLineAsync(WatchedService service, string part)
    {
        while (true)
        {
            var lines = service.Process.Output.Split('\n').Where(line => line.Contains(part, StringComparison.Ordinal)).ToList();
            if (lines.Count > 0)
            {
                return Assert.Single(lines);
            }

            await Task.Delay(50, Patience);
        }
    }

    private static async Task AskAllAsync(WatchedService service)
    {
        var answers = await Task.WhenAll(Enumerable.Range(0, 8).Select(i => service.Process.Client.PostAsync(Requests.Identifications, $$"""{ "meltingPoint": "{{50 + i}}" }""")));
        Assert.All(answers, answer => Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode));
        foreach (var answer in answers)
        {
            answer.Dispose();
        }
    }
}
