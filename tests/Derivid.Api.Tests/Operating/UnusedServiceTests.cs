using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using Derivid.Api.Curation.Imports;
using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Testing;

namespace Derivid.Api.Tests.Operating;

/// <summary>What a service tells before anything was done with it, and where.</summary>
public sealed partial class UnusedServiceTests(UnusedServiceTests.UnusedService unused) : IClassFixture<UnusedServiceTests.UnusedService>
{
    [Fact]
    public async Task MetricsAreToldAtTheirOwnPortOnlyAndNothingElseIs()
    {
        var service = unused.Service;
        var told = await Scrape.AddressOfAsync(service.Process);

        Assert.True(IPAddress.Parse(told.Host).Equals(IPAddress.Loopback));
        Assert.Equal(HttpStatusCode.OK, await StatusAsync(service, told));
        Assert.Equal(HttpStatusCode.NotFound, await StatusAsync(service, new Uri(service.Process.Client.BaseAddress!, "/metrics")));
        foreach (var path in new[] { "/", "/health/live", "/health/ready", "/swagger/v1/swagger.json", "/api/v1/parents", "/metrics/more", "/sign-in" })
        {
            Assert.Equal(HttpStatusCode.NotFound, await StatusAsync(service, new Uri(told, path)));
        }
    }

    [Fact]
    public void CountersTellNothingYetOfAllThatTheyMayCount()
    {
        var scrape = unused.Scrape;

        Assert.Equal(2 * 4 * 2, scrape.Series.Count(series => series.Name == "derivid_identifications_total"));
        // But that it isn't ready, which was asked for until it was.
        Assert.All(ProblemTypes.All.Except([ProblemTypes.NotReady]), type => Assert.Equal(0, scrape.Value(
            "derivid_request_refusals_total", ("error_type", type.Slug), ("http_response_status_code", $"{type.Status}"))));
        Assert.Equal(0, scrape.Value("derivid_request_refusals_total", ("error_type", "slow-body"), ("http_response_status_code", "400")));
        foreach (var outcome in new[] { "succeeded", "failed", "cancelled", "interrupted" })
        {
            Assert.Equal(0, scrape.Value("derivid_imports_total", ("derivid_import_outcome", outcome), ("derivid_import_dry_run", "true")));
            Assert.Equal(0, scrape.Value("derivid_imports_total", ("derivid_import_outcome", outcome), ("derivid_import_dry_run", "false")));
        }

        Assert.Equal(0, scrape.Value("derivid_gradings_total", ("derivid_grading_outcome", "complete")));
        Assert.Equal(0, scrape.Value("derivid_gradings_total", ("derivid_grading_outcome", "incomplete")));
        Assert.Equal(0, scrape.Value("derivid_grading_reports_total", ("derivid_grading_outcome", "graded")));
        Assert.Equal(0, scrape.Value("derivid_grading_reports_total", ("derivid_grading_outcome", "ungradable")));
        Assert.All(scrape.Series.Where(series => series.Name == "derivid_identifications_total"), series => Assert.Equal(0, series.Value));
    }

    [Fact]
    public void EachQueueHasOneThresholdThatItCanReach()
    {
        var scrape = unused.Scrape;
        var rule = Watching.Rule("DerividQueueLong");
        var parts = Selector.AllOf(rule).Zip(Threshold().Matches(rule).Select(match => int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture))).ToList();

        var most = scrape.Series.Where(series => series.Name == "derivid_queue_waiting").ToDictionary(
            series => series.Labels["derivid_queue_name"],
            series => Assert.Single(parts, part => part.First.In(new Scrape("", [series])).Count > 0).Second);

        Assert.Equal(8, most.Count);
        // One is worked on, and the others wait.
        Assert.InRange(most["import"], 1, RunningImports.MostWaiting - 2);
        Assert.InRange(most["batch_item"], 1, BatchTurns.Most + BatchTurns.MostWithoutKey - 2);
        // Fewer than five senders have to fill theirs.
        Assert.InRange(most["batch"], BatchTurns.MostOfSender, (4 * (BatchTurns.MostOfSender - 1)) - 1);
    }

    private static async Task<HttpStatusCode> StatusAsync(WatchedService service, Uri address)
    {
        using var response = await service.Process.Client.GetAsync(address, TestContext.Current.CancellationToken);
        return response.StatusCode;
    }

    [GeneratedRegex(@"\} > ([0-9]+)")]
    private static partial Regex Threshold();

    /// <summary>A service just started, and its metrics then.</summary>
    public sealed class UnusedService : IAsyncLifetime
    {
        internal WatchedService Service { get; private set; } = null!;

        internal Scrape Scrape { get; private set; } = null!;

        /// <inheritdoc/>
        public async ValueTask InitializeAsync()
        {
            Service = await WatchedService.StartAsync(new SqliteDatabase());
            Scrape = await Scrape.OfAsync(Service.Process);
        }

        /// <inheritdoc/>
        public ValueTask DisposeAsync() => Service.DisposeAsync();
    }
}
