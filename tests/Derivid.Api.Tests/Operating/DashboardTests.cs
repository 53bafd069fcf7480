using System.Globalization;
using System.Text.RegularExpressions;
using Derivid.Api.Curation.Imports;
using Derivid.Api.Identifications;
using Derivid.Testing;

namespace Derivid.Api.Tests.Operating;

/// <summary>Every query of the dashboard and of the rules is answered by a running service.</summary>
/// <remarks>
/// No Prometheus is asked: of each query the names of the series, their labels and the texts these are compared with are looked for in
/// what the service tells. That the rest of it is good Prometheus is for a Prometheus to say.
/// </remarks>
public sealed partial class DashboardTests(PostgreSqlServer server)
{
    // Of a database that SQLite has not; of faults, which FaultTests injects.
    private const string OfPostgreSql = "db_client_";

    [Fact]
    public async Task EveryQueryFindsItsSeriesOnPostgreSql()
    {
        await using var service = await WatchedService.StartAsync(await server.NewDatabaseAsync());

        await AllAreAnsweredAsync(service, _ => true);
    }

    [Fact]
    public async Task EveryQueryFindsItsSeriesOnSqlite()
    {
        await using var service = await WatchedService.StartAsync(new SqliteDatabase());

        await AllAreAnsweredAsync(service, query => !query.Contains(OfPostgreSql, StringComparison.Ordinal));
    }

    [Fact]
    public async Task EachQueueHasOneThresholdThatItCanReach()
    {
        await using var service = await WatchedService.StartAsync(new SqliteDatabase());
        var scrape = await Scrape.OfAsync(service.Process);
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

    [Fact]
    public void QueryThatNothingAnswersIsNoticed()
    {
        var scrape = Scrape.Read("""
            derivid_queue_waiting{otel_scope_name="Derivid",derivid_queue_name="turn"} 0
            # EOF
            """);

        Assert.NotEmpty(Selector.AllOf("""sum by (instance) (derivid_queue_waiting{derivid_queue_name=~"turn|batch"}) > 5""").Single().In(scrape));
        Assert.Empty(Selector.AllOf("""derivid_queue_waiting{derivid_queue_name="batch"}""").Single().In(scrape));
        Assert.Empty(Selector.AllOf("""derivid_queue_waiting{queue="turn"}""").Single().Named(scrape));
        Assert.Empty(Selector.AllOf("max(rate(derivid_queues_waiting[$__rate_interval]))").Single().In(scrape));
        Assert.Equal(["instance_kind"], Selector.GroupedBy("sum by (instance, instance_kind) (up)"));
    }

    private static async Task AllAreAnsweredAsync(WatchedService service, Func<string, bool> isAsked)
    {
        await service.UseAsync();
        var scrape = await Scrape.UntilAsync(service.Process, each => each.Sum("derivid_grading_duration_seconds_count") > 0);

        Assert.All(Watching.Panels.SelectMany(Watching.QueriesOf).Where(query => isAsked(query.Query)), query =>
        {
            var selectors = Selector.AllOf(query.Query);
            Assert.NotEmpty(selectors);
            Assert.All(selectors, selector => Assert.True(selector.In(scrape).Count > 0, $"{query.Query} finds nothing of {selector.Name}."));
            Assert.All(Selector.GroupedBy(query.Query), label => Assert.All(selectors, selector => HasLabel(scrape, selector, label)));
            Assert.Subset(Selector.GroupedBy(query.Query).Append("instance").ToHashSet(), Watching.ShownIn(query.Legend).ToHashSet());
        });
        Assert.All(Watching.Rules.Values.Where(isAsked), query =>
        {
            var selectors = Selector.AllOf(query);
            Assert.All(selectors, selector => Assert.True(selector.Named(scrape).Count > 0, $"{query} asks for labels that {selector.Name} has not."));
            Assert.All(Selector.GroupedBy(query), label => Assert.All(selectors, selector => HasLabel(scrape, selector, label)));
        });
    }

    private static void HasLabel(Scrape scrape, Selector selector, string label) => Assert.True(
        selector.Named(scrape).Any(series => series.Labels.ContainsKey(label)), $"{selector.Name} has no label {label}.");

    [GeneratedRegex(@"\} > ([0-9]+)")]
    private static partial Regex Threshold();
}
