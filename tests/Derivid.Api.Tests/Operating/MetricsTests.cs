using System.Net;
using System.Net.Sockets;
using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Api.Operating;
using Derivid.Testing;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;

namespace Derivid.Api.Tests.Operating;

/// <summary>Where metrics are told, to whom, and what is not in them.</summary>
public sealed class MetricsTests(PostgreSqlServer server)
{
    private const string Identifications = "derivid_identifications_total";

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task MetricsAreToldAtTheirOwnPortOnlyAndNothingElseIs()
    {
        await using var service = await WatchedService.StartAsync(new SqliteDatabase());
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
    public async Task NothingIsToldUnlessItIsAskedFor()
    {
        await using var service = await WatchedService.StartAsync(new SqliteDatabase(), ("Telemetry:MetricsPort", ""));

        Assert.DoesNotContain("Metrics are told", service.Process.Output, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, await StatusAsync(service, new Uri(service.Process.Client.BaseAddress!, "/metrics")));
    }

    [Fact]
    public void CountThatNobodyHearsCostsNoMemory()
    {
        using var services = new ServiceCollection().AddMetrics().AddSingleton<ServiceMeter>().BuildServiceProvider();
        var meter = services.GetRequiredService<ServiceMeter>();
        void Count()
        {
            meter.Identified(IdentificationWay.Alone, IdentificationOutcome.Named, isStored: true);
            meter.Refused("busy", 503);
        }

        Count();
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 1000; i++)
        {
            Count();
        }

        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Fact]
    public async Task PortThatIsTakenIsALineAndTheEnd()
    {
        using var taken = new TcpListener(IPAddress.Loopback, 0);
        taken.Start();
        await using var database = new SqliteDatabase();
        var folder = Directory.CreateTempSubdirectory("derivid-taken-");
        await using var service = ServiceProcess.Begin(
            [], database.ConnectionString, folder.FullName, ("Telemetry:MetricsPort", $"{((IPEndPoint)taken.LocalEndpoint).Port}"));

        Assert.Equal(1, await service.EndedAsync());
        Assert.Contains("Not started: metrics can't be told at 127.0.0.1:", service.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", service.Output, StringComparison.Ordinal);
        folder.Delete(recursive: true);
    }

    // Set aside for documents, and so no machine's (RFC 5737).
    [Fact]
    public async Task AddressThatIsNotThisMachinesIsALineAndTheEnd()
    {
        await using var database = new SqliteDatabase();
        var folder = Directory.CreateTempSubdirectory("derivid-elsewhere-");
        await using var service = ServiceProcess.Begin(
            [], database.ConnectionString, folder.FullName, ("Telemetry:MetricsPort", "0"), ("Telemetry:MetricsAddress", "192.0.2.1"));

        Assert.Equal(1, await service.EndedAsync());
        Assert.Contains("Not started: metrics can't be told at 192.0.2.1:0: ", service.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", service.Output, StringComparison.Ordinal);
        folder.Delete(recursive: true);
    }

    [Fact]
    public async Task StarIsEveryAddressThoseOfIPv4Too()
    {
        await using var service = await WatchedService.StartAsync(new SqliteDatabase(), ("Telemetry:MetricsAddress", "*"));
        var told = await Scrape.AddressOfAsync(service.Process);

        Assert.Equal(HttpStatusCode.OK, await StatusAsync(service, new UriBuilder(told) { Host = "127.0.0.1" }.Uri));
    }

    [Fact]
    public async Task CountersTellNothingYetOfAllThatTheyMayCount()
    {
        await using var service = await WatchedService.StartAsync(new SqliteDatabase());
        var scrape = await Scrape.OfAsync(service.Process);

        Assert.Equal(2 * 4 * 2, scrape.Series.Count(series => series.Name == Identifications));
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
        Assert.All(scrape.Series.Where(series => series.Name == Identifications), series => Assert.Equal(0, series.Value));
    }

    [Fact]
    public async Task ImportWhoseProcessWasKilledIsCountedByWhoeverFindsIt()
    {
        await using var database = await server.NewDatabaseAsync();
        await using var service = await WatchedService.StartAsync(database.ConnectionString);
        await service.UseAsync();
        string import;
        await using (var connection = new NpgsqlConnection(database.ConnectionString))
        {
            // As a process leaves one that is killed.
            await connection.OpenAsync(Patience);
            await using var killing = new NpgsqlCommand(
                "UPDATE import_jobs SET state = 'Running', ended_at_utc = NULL, seen_at_utc = now() - interval '1 hour' RETURNING id", connection);
            import = (string)(await killing.ExecuteScalarAsync(Patience))!;
        }

        using var finder = service.With(ServiceProcess.AdministratorKey);
        var found = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => finder.Imports.GetAsync(import, Patience)));

        Assert.All(found, each => Assert.Equal(Core.Curation.ImportState.Interrupted, each.State));
        var scrape = await Scrape.OfAsync(service.Process);
        Assert.Equal(1, scrape.Value("derivid_imports_total", ("derivid_import_outcome", "interrupted"), ("derivid_import_dry_run", "true")));
        Assert.Equal(1, scrape.Value("derivid_imports_total", ("derivid_import_outcome", "failed"), ("derivid_import_dry_run", "true")));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task NoPersonKeyOrWordThatWasTypedIsTold(bool isOnPostgreSql)
    {
        await using var service = await WatchedService.StartAsync(await DatabaseAsync(isOnPostgreSql), ("Logging:LogLevel:Requests", "Information"));
        await service.UseAsync();

        var scrape = await Scrape.UntilAsync(service.Process, each => each.Sum("derivid_grading_duration_seconds_count") > 0);

        foreach (var text in new[] { scrape.Text, service.Process.Output })
        {
            Assert.All(WatchedService.Typed, word => Assert.DoesNotContain(word, text, StringComparison.OrdinalIgnoreCase));
        }

        Assert.All(service.Secrets, word => Assert.DoesNotContain(word, scrape.Text, StringComparison.OrdinalIgnoreCase));
        Assert.All(scrape.Series, series => Assert.DoesNotContain("Host=", string.Join(' ', series.Labels.Values), StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task WhatIsDoneIsCounted(bool isOnPostgreSql)
    {
        await using var service = await WatchedService.StartAsync(await DatabaseAsync(isOnPostgreSql));
        await service.UseAsync();

        var scrape = await Scrape.UntilAsync(service.Process, each => each.Sum("derivid_grading_duration_seconds_count") > 0);

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

    private static async Task<HttpStatusCode> StatusAsync(WatchedService service, Uri address)
    {
        using var response = await service.Process.Client.GetAsync(address, Patience);
        return response.StatusCode;
    }

    private async Task<ITestDatabase> DatabaseAsync(bool isOnPostgreSql) => isOnPostgreSql ? await server.NewDatabaseAsync() : new SqliteDatabase();
}
