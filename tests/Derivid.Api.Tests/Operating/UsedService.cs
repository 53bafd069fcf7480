using Derivid.Testing;

namespace Derivid.Api.Tests.Operating;

/// <summary>A service with which a little of everything was done, and what it told meanwhile: one for all tests that only look.</summary>
public abstract class UsedService : IAsyncLifetime
{
    /// <summary>The trace that a caller says some of it was part of.</summary>
    public const string Trace = "0af7651916cd43dd8448eb211c80319c";

    /// <summary>The service.</summary>
    internal WatchedService Service { get; private set; } = null!;

    /// <summary>Its metrics once all is counted.</summary>
    internal Scrape Scrape { get; private set; } = null!;

    /// <summary>Spans as a collector got them, a byte a character.</summary>
    public string Traces { get; private set; } = "";

    /// <summary>Metrics as a collector got them, a byte a character.</summary>
    public string Metrics { get; private set; } = "";

    /// <inheritdoc/>
    public async ValueTask InitializeAsync()
    {
        await using var collector = await Collector.StartAsync();
        Service = await WatchedService.StartAsync(
            await DatabaseAsync(), [.. collector.Settings, ("Telemetry:TraceShare", "1"), ("Logging:LogLevel:Requests", "Information")]);
        var headers = Service.Process.Client.DefaultRequestHeaders;
        headers.Add("traceparent", $"00-{Trace}-b7ad6b7169203331-00");
        headers.Add("tracestate", "vendor=forged");
        headers.Add("baggage", "who=forged");
        await Service.UseAsync();
        Scrape = await Scrape.UntilAsync(Service.Process, each => each.Sum("derivid_grading_duration_seconds_count") > 0);
        Traces = await collector.UntilAsync("/v1/traces", text => text.Contains("grading batch", StringComparison.Ordinal)
            && text.Contains("/api/v1/courses/{id}/grades", StringComparison.Ordinal));
        Metrics = await collector.UntilAsync("/v1/metrics", text => text.Contains("derivid.grading.duration", StringComparison.Ordinal));
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await Service.DisposeAsync();
        GC.SuppressFinalize(this);
    }

    /// <summary>Its database, disposed of with it.</summary>
    protected abstract Task<ITestDatabase> DatabaseAsync();

    public sealed class OnSqlite : UsedService
    {
        protected override Task<ITestDatabase> DatabaseAsync() => Task.FromResult<ITestDatabase>(new SqliteDatabase());
    }

    public sealed class OnPostgreSql(PostgreSqlServer server) : UsedService
    {
        /// <summary>Leads to its database.</summary>
        public string ConnectionString { get; private set; } = "";

        protected override async Task<ITestDatabase> DatabaseAsync()
        {
            var database = await server.NewDatabaseAsync();
            ConnectionString = database.ConnectionString;
            return database;
        }
    }
}
