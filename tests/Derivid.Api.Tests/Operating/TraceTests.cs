using System.Diagnostics;
using System.Net;
using Derivid.Api.Operating;
using Derivid.Store;
using Derivid.Testing;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.Configuration;
using Npgsql;
using OpenTelemetry.Exporter;
using OpenTelemetry.Trace;

namespace Derivid.Api.Tests.Operating;

/// <summary>What becomes of a trace that a caller says a request is part of, and what a collector gets to see.</summary>
public sealed class TraceTests
{
    private const string Trace = "0af7651916cd43dd8448eb211c80319c";
    private const string Sampled = $"00-{Trace}-b7ad6b7169203331-01";

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(Sampled, $"00-{Trace}-b7ad6b7169203331-00")]
    [InlineData($"00-{Trace}-b7ad6b7169203331-00", $"00-{Trace}-b7ad6b7169203331-00")]
    [InlineData("00-00000000000000000000000000000000-b7ad6b7169203331-01", null)]
    [InlineData($"00-{Trace}-b7ad6b7169203331-01\r\nfail: forged", null)]
    [InlineData("|anything.at.all.", null)]
    [InlineData(null, null)]
    public void OfACallersTraceItsIdsAreTakenAndNothingElse(string? sent, string? taken)
    {
        var headers = new Dictionary<string, string?> { ["traceparent"] = sent, ["tracestate"] = "a=b", ["baggage"] = "who=ann", ["Request-Id"] = "|who.ann." };
        void Get(object? carrier, string name, out string? value, out IEnumerable<string>? values) => (value, values) = (headers.GetValueOrDefault(name), null);
        var intake = new TraceIntake();

        intake.ExtractTraceIdAndState(null, Get, out var id, out var state);

        Assert.Equal(taken, id);
        Assert.Null(state);
        Assert.Null(intake.ExtractBaggage(null, Get));
    }

    // Ids that are small, random or marked as recorded: 2000 of each, of which 1 in 10 is drawn; bounds of five standard deviations.
    [Theory]
    [InlineData("small")]
    [InlineData("random")]
    [InlineData("recorded")]
    public void ShareIsDrawnWhateverTheCallerChooses(string ids)
    {
        var share = new TraceShare(0.1);
        var drawn = Enumerable.Range(1, 2000).Count(i =>
        {
            var id = ids == "small" ? ActivityTraceId.CreateFromString($"{i:x32}") : ActivityTraceId.CreateRandom();
            var parent = ids == "recorded" ? new ActivityContext(id, ActivitySpanId.CreateRandom(), ActivityTraceFlags.Recorded, isRemote: true) : default;
            return share.ShouldSample(new SamplingParameters(parent, id, "GET", ActivityKind.Server)).Decision == SamplingDecision.RecordAndSample;
        });

        Assert.InRange(drawn, 200 - 67, 200 + 67);
        Assert.Equal(SamplingDecision.Drop, new TraceShare(0).ShouldSample(new SamplingParameters(default, ActivityTraceId.CreateRandom(), "GET", ActivityKind.Server)).Decision);
        Assert.Equal(SamplingDecision.RecordAndSample, new TraceShare(1).ShouldSample(new SamplingParameters(default, ActivityTraceId.CreateRandom(), "GET", ActivityKind.Server)).Decision);
    }

    [Fact]
    public void SpanKeepsWhatIsListedOnly()
    {
        using var span = new Activity("GET");
        span.SetTag("http.route", "/api/v1/parents/{key}").SetTag("url.path", "/api/v1/parents/ann").SetTag("user_agent.original", "ann")
            .SetTag("anything.new", "ann").SetStatus(ActivityStatusCode.Error, "ann");
        using var tags = new SpanTags();

        tags.OnEnd(span);

        Assert.Equal([KeyValuePair.Create<string, object?>("http.route", "/api/v1/parents/{key}")], span.TagObjects);
        Assert.Equal((ActivityStatusCode.Error, null), (span.Status, span.StatusDescription));
    }

    [Fact]
    public async Task CallerWhoMarksATraceAsRecordedHasNoneRecorded()
    {
        await using var collector = await Collector.StartAsync();
        await using var service = await WatchedService.StartAsync(new SqliteDatabase(), [.. collector.Settings, ("Telemetry:TraceShare", "0")]);
        await SendAsync(service, Sampled);

        // Spans are sent before metrics that are gathered after them.
        await collector.UntilAsync("/v1/metrics", text => text.Contains("derivid.identifications", StringComparison.Ordinal));
        await collector.NextAsync("/v1/metrics");
        await collector.NextAsync("/v1/metrics");

        Assert.Equal("", collector.Got("/v1/traces"));
    }

    // The provider hangs text and stack on the span as an event, of which the setting would have 128 exported.
    [Fact]
    [Trait("Database", "PostgreSQL")]
    public async Task StatementOrConnectionThatFailsIsASpanWithoutItsText()
    {
        await using var cluster = await PostgreSqlCluster.StartNewAsync(durable: false);
        await using var collector = await Collector.StartAsync();
        await using var service = await WatchedService.StartAsync(
            cluster.ConnectionString, [.. collector.Settings, ("Telemetry:TraceShare", "1"), ("OTEL_SPAN_EVENT_COUNT_LIMIT", "128")]);
        await using (var connection = new NpgsqlConnection(cluster.ConnectionString))
        {
            await connection.OpenAsync(Patience);
            await using var renaming = new NpgsqlCommand("ALTER TABLE identifications RENAME TO quixotic", connection);
            await renaming.ExecuteNonQueryAsync(Patience);
        }

        using (var failed = await service.Process.Client.PostAsync(Requests.Identifications, Requests.Propanone))
        {
            Assert.True((int)failed.StatusCode >= 500, failed.ToString());
        }

        // That no such table is there.
        await collector.UntilAsync("/v1/traces", text => text.Contains("42P01", StringComparison.Ordinal));
        await cluster.StopAsync();
        using (var away = await service.Process.Client.PostAsync(Requests.Identifications, Requests.Propanone))
        {
            Assert.Equal(HttpStatusCode.ServiceUnavailable, away.StatusCode);
        }

        var traces = await collector.UntilAsync("/v1/traces", text => text.Contains("System.Net.Sockets.SocketException", StringComparison.Ordinal));
        Assert.All(
            ["exception.", "stacktrace", "does not exist", "\"identifications\"", "Failed to connect", "127.0.0.1", "   at "],
            word => Assert.DoesNotContain(word, traces, StringComparison.Ordinal));
    }

    [Fact]
    public async Task VariablesOfOneSignalSayWhereItGoes()
    {
        await using var traces = await Collector.StartAsync();
        await using var metrics = await Collector.StartAsync();
        await using var service = await WatchedService.StartAsync(
            new SqliteDatabase(),
            ("OTEL_EXPORTER_OTLP_TRACES_ENDPOINT", traces.Address + "/their/traces"), ("OTEL_EXPORTER_OTLP_TRACES_PROTOCOL", "http/protobuf"),
            ("OTEL_EXPORTER_OTLP_TRACES_HEADERS", "token=of-traces"),
            ("OTEL_EXPORTER_OTLP_METRICS_ENDPOINT", metrics.Address + "/their/metrics"), ("OTEL_EXPORTER_OTLP_METRICS_PROTOCOL", "http/protobuf"),
            ("OTEL_EXPORTER_OTLP_METRICS_HEADERS", "token=of-metrics"),
            ("OTEL_BSP_SCHEDULE_DELAY", "200"), ("OTEL_METRIC_EXPORT_INTERVAL", "500"), ("Telemetry:TraceShare", "1"));
        await SendAsync(service, Sampled);

        await traces.UntilAsync("/their/traces", text => text.Contains("POST /api/v1/identifications", StringComparison.Ordinal));
        await metrics.UntilAsync("/their/metrics", text => text.Contains("derivid.identifications", StringComparison.Ordinal));

        Assert.Equal([("/their/traces", "of-traces")], traces.Senders);
        Assert.Equal([("/their/metrics", "of-metrics")], metrics.Senders);
    }

    [Fact]
    public async Task VariablesOfOneSignalGoBeforeTheGeneralOnes()
    {
        await using var general = await Collector.StartAsync();
        await using var traces = await Collector.StartAsync();
        await using var service = await WatchedService.StartAsync(
            new SqliteDatabase(),
            [
                .. general.Settings, ("OTEL_EXPORTER_OTLP_HEADERS", "token=general"),
                ("OTEL_EXPORTER_OTLP_TRACES_ENDPOINT", traces.Address + "/their/traces"), ("Telemetry:TraceShare", "1"),
            ]);
        await SendAsync(service, Sampled);

        await traces.UntilAsync("/their/traces", text => text.Contains("POST /api/v1/identifications", StringComparison.Ordinal));
        await general.UntilAsync("/v1/metrics", text => text.Contains("derivid.identifications", StringComparison.Ordinal));

        Assert.Equal([("/their/traces", "general")], traces.Senders);
        Assert.Equal([("/v1/metrics", "general")], general.Senders);
    }

    [Fact]
    public async Task UnlessAProtocolIsSetItIsGrpc()
    {
        await using var collector = await Collector.StartAsync(HttpProtocols.Http2);
        await using var service = await WatchedService.StartAsync(
            new SqliteDatabase(),
            ("OTEL_EXPORTER_OTLP_ENDPOINT", collector.Address), ("OTEL_BSP_SCHEDULE_DELAY", "200"), ("OTEL_METRIC_EXPORT_INTERVAL", "500"),
            ("Telemetry:TraceShare", "1"));
        await SendAsync(service, Sampled);

        await collector.UntilAsync(
            "/opentelemetry.proto.collector.trace.v1.TraceService/Export", text => text.Contains("POST /api/v1/identifications", StringComparison.Ordinal));
        await collector.UntilAsync(
            "/opentelemetry.proto.collector.metrics.v1.MetricsService/Export", text => text.Contains("derivid.identifications", StringComparison.Ordinal));
    }

    [Fact]
    public void SignalIsSentOnlyWhereAVariableSaysWhere()
    {
        static CollectorSettings? Read(string signal, params (string Name, string Value)[] set) => CollectorSettings.Read(
            new ConfigurationBuilder().AddInMemoryCollection(set.Select(each => KeyValuePair.Create(each.Name, (string?)each.Value))).Build(), signal);
        const string General = "OTEL_EXPORTER_OTLP_ENDPOINT";
        const string OfTraces = "OTEL_EXPORTER_OTLP_TRACES_ENDPOINT";

        Assert.Null(Read("TRACES"));
        Assert.Null(Read("TRACES", (General, " ")));
        Assert.Null(Read("METRICS", (OfTraces, "http://traces:4317")));
        Assert.Equal(new CollectorSettings(null, null, null), Read("METRICS", (General, "http://all:4317"), (OfTraces, "http://traces:4317")));
        Assert.Equal(
            new CollectorSettings(new Uri("http://traces:4317"), "a=b", OtlpExportProtocol.Grpc),
            Read("TRACES", (OfTraces, "http://traces:4317"), ("OTEL_EXPORTER_OTLP_TRACES_HEADERS", "a=b"), ("OTEL_EXPORTER_OTLP_TRACES_PROTOCOL", "grpc")));
        foreach (var (general, name, value) in new[]
        {
            ("http://all:4317", OfTraces, "file:///traces"), ("http://all:4317", "OTEL_EXPORTER_OTLP_TRACES_PROTOCOL", "smoke"), ("", General, "traces:4317"),
        })
        {
            var fault = Assert.Throws<SettingException>(() => Read("TRACES", general.Length > 0 ? [(General, general), (name, value)] : [(name, value)]));
            Assert.StartsWith($"{name} is '{value}'; ", fault.Message, StringComparison.Ordinal);
        }
    }

    private static async Task SendAsync(WatchedService service, string traceParent)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, Requests.Identifications + "?store=false") { Content = Requests.Json(Requests.Propanone) };
        request.Headers.Add("traceparent", traceParent);
        request.Headers.Add("tracestate", "vendor=forged");
        request.Headers.Add("baggage", "who=forged");
        using var response = await service.Process.Client.SendAsync(request, Patience);
        Assert.True(response.IsSuccessStatusCode);
    }
}
