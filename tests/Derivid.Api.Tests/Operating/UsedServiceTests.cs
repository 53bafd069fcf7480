using System.Text;
using Derivid.Testing;
using Npgsql;

namespace Derivid.Api.Tests.Operating;

/// <summary>What a service tells of a little of everything done with it: that it is counted, that it is found, and that nobody is named.</summary>
public abstract class UsedServiceTests(UsedService used, bool isOnPostgreSql)
{
    private const string Identifications = "derivid_identifications_total";

    // Of a database that SQLite has not.
    private const string OfPostgreSql = "db_client_";

    [Fact]
    public void NoPersonKeyOrWordThatWasTypedIsTold()
    {
        var (service, scrape) = (used.Service, used.Scrape);

        foreach (var text in new[] { scrape.Text, service.Process.Output })
        {
            Assert.All(WatchedService.Typed, word => Assert.DoesNotContain(word, text, StringComparison.OrdinalIgnoreCase));
        }

        Assert.All(service.Secrets, word => Assert.DoesNotContain(word, scrape.Text, StringComparison.OrdinalIgnoreCase));
        Assert.All(scrape.Series, series => Assert.DoesNotContain("Host=", string.Join(' ', series.Labels.Values), StringComparison.Ordinal));
    }

    [Fact]
    public void WhatIsDoneIsCounted()
    {
        var scrape = used.Scrape;

        Assert.Equal(1, scrape.Sum(Identifications, ("derivid_identification_way", "single"), ("derivid_identification_stored", "true")));
        Assert.Equal(1, scrape.Sum(Identifications, ("derivid_identification_way", "single"), ("derivid_identification_stored", "false")));
        Assert.Equal(1, scrape.Sum(Identifications, ("derivid_identification_way", "batch"), ("derivid_identification_stored", "true")));
        Assert.Equal(1, scrape.Sum(Identifications, ("derivid_identification_way", "batch"), ("derivid_identification_outcome", "refused")));
        Assert.Equal(3, scrape.Sum(Identifications, ("derivid_identification_outcome", "group")));
        Assert.Equal(1, scrape.Value("derivid_request_refusals_total", ("error_type", "not-found"), ("http_response_status_code", "404")));
        Assert.Equal(1, scrape.Value("derivid_request_refusals_total", ("error_type", "invalid-request"), ("http_response_status_code", "400")));
        Assert.Equal(1, scrape.Value("derivid_import_duration_seconds_count", ("derivid_import_outcome", "failed"), ("derivid_import_dry_run", "true")));
        Assert.Equal(1, scrape.Value("derivid_grading_duration_seconds_count", ("derivid_grading_outcome", "complete")));
        Assert.Equal(1, scrape.Value("derivid_imports_total", ("derivid_import_outcome", "failed"), ("derivid_import_dry_run", "true")));
        Assert.Equal(1, scrape.Value("derivid_gradings_total", ("derivid_grading_outcome", "complete")));
        Assert.Equal(1, scrape.Value("derivid_grading_reports_total", ("derivid_grading_outcome", "graded")));
        Assert.Equal(1, scrape.Value("derivid_table_version"));
        Assert.InRange(scrape.Value("derivid_table_age_seconds")!.Value, 0, 3600);
        Assert.Equal(1, scrape.Value("derivid_database_status", ("derivid_database_state", "answering")));
        Assert.InRange(scrape.Value("derivid_database_answer_age_seconds")!.Value, 0, 60);
        Assert.Equal(0, scrape.Value("derivid_database_failures_total"));
        Assert.Equal(isOnPostgreSql ? "postgresql" : "sqlite", scrape.Series.First(series => series.Name == "derivid_database_failures_total").Labels["db_system_name"]);
        Assert.All(scrape.Series.Where(series => series.Name.StartsWith("derivid_queue_", StringComparison.Ordinal)), series => Assert.Equal(0, series.Value));
    }

    // No Prometheus is asked: of each query the names of the series, their labels and the texts these are compared with are looked for
    // in what the service tells. That the rest of it is good Prometheus is for a Prometheus to say.
    [Fact]
    public void EveryQueryOfTheDashboardAndTheRulesFindsItsSeries()
    {
        var scrape = used.Scrape;
        bool IsAsked(string query) => isOnPostgreSql || !query.Contains(OfPostgreSql, StringComparison.Ordinal);

        Assert.All(Watching.Panels.SelectMany(Watching.QueriesOf).Where(query => IsAsked(query.Query)), query =>
        {
            var selectors = Selector.AllOf(query.Query);
            Assert.NotEmpty(selectors);
            Assert.All(selectors, selector => Assert.True(selector.In(scrape).Count > 0, $"{query.Query} finds nothing of {selector.Name}."));
            Assert.All(Selector.GroupedBy(query.Query), label => Assert.All(selectors, selector => HasLabel(scrape, selector, label)));
            Assert.Subset(Selector.GroupedBy(query.Query).Append("instance").ToHashSet(), Watching.ShownIn(query.Legend).ToHashSet());
        });
        Assert.All(Watching.Rules.Values.Where(IsAsked), query =>
        {
            var selectors = Selector.AllOf(query);
            Assert.All(selectors, selector => Assert.True(selector.Named(scrape).Count > 0, $"{query} asks for labels that {selector.Name} has not."));
            Assert.All(Selector.GroupedBy(query), label => Assert.All(selectors, selector => HasLabel(scrape, selector, label)));
        });
    }

    [Fact]
    public void CollectorGetsSpansAndMetricsThatNameNobody()
    {
        Assert.Contains(Encoding.Latin1.GetString(Convert.FromHexString(UsedService.Trace)), used.Traces, StringComparison.Ordinal);
        Assert.Contains("POST /api/v1/identifications", used.Traces, StringComparison.Ordinal);
        Assert.Contains("derivid.import.outcome", used.Traces, StringComparison.Ordinal);
        Assert.Equal(isOnPostgreSql, used.Traces.Contains("Npgsql", StringComparison.Ordinal));
        Assert.All([used.Traces, used.Metrics], text =>
        {
            Assert.All([.. WatchedService.Typed, .. used.Service.Secrets], word => Assert.DoesNotContain(word, text, StringComparison.OrdinalIgnoreCase));
            Assert.All(["forged", "Host=", "SELECT", "url.path", "server.address: "], word => Assert.DoesNotContain(word, text, StringComparison.Ordinal));
        });
    }

    private static void HasLabel(Scrape scrape, Selector selector, string label) => Assert.True(
        selector.Named(scrape).Any(series => series.Labels.ContainsKey(label)), $"{selector.Name} has no label {label}.");

    public sealed class OnSqlite(UsedService.OnSqlite used) : UsedServiceTests(used, isOnPostgreSql: false), IClassFixture<UsedService.OnSqlite>;

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(UsedService.OnPostgreSql used) : UsedServiceTests(used, isOnPostgreSql: true), IClassFixture<UsedService.OnPostgreSql>
    {
        [Fact]
        public async Task ImportWhoseProcessWasKilledIsCountedByWhoeverFindsIt()
        {
            var service = used.Service;
            string import;
            await using (var connection = new NpgsqlConnection(used.ConnectionString))
            {
                // As a process leaves one that is killed.
                await connection.OpenAsync(TestContext.Current.CancellationToken);
                await using var killing = new NpgsqlCommand(
                    "UPDATE import_jobs SET state = 'Running', ended_at_utc = NULL, seen_at_utc = now() - interval '1 hour' RETURNING id", connection);
                import = (string)(await killing.ExecuteScalarAsync(TestContext.Current.CancellationToken))!;
            }

            using var finder = service.With(ServiceProcess.AdministratorKey);
            var found = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => finder.Imports.GetAsync(import, TestContext.Current.CancellationToken)));

            Assert.All(found, each => Assert.Equal(Core.Curation.ImportState.Interrupted, each.State));
            // What was told just before is told again for a moment.
            var scrape = await Scrape.UntilAsync(service.Process, each => each.Value(
                "derivid_imports_total", ("derivid_import_outcome", "interrupted"), ("derivid_import_dry_run", "true")) > 0);
            Assert.Equal(1, scrape.Value("derivid_imports_total", ("derivid_import_outcome", "interrupted"), ("derivid_import_dry_run", "true")));
            Assert.Equal(1, scrape.Value("derivid_imports_total", ("derivid_import_outcome", "failed"), ("derivid_import_dry_run", "true")));
        }
    }
}
