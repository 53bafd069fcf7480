using System.Diagnostics;
using System.Reflection;
using OpenTelemetry;
using OpenTelemetry.Context.Propagation;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using OpenTelemetry.Trace;

namespace Derivid.Api.Operating;

/// <summary>Sets up what the service tells of itself: log lines, metrics, traces.</summary>
public static class TelemetryHosting
{
    /// <summary>The name of the database provider's meter and source.</summary>
    private const string Npgsql = "Npgsql";

    /// <summary>Adds the instruments, and those who read them where the settings name one.</summary>
    /// <param name="builder">The application's builder.</param>
    /// <exception cref="InvalidOperationException">A setting is out of bounds.</exception>
    public static void AddTelemetry(this WebApplicationBuilder builder)
    {
        ArgumentNullException.ThrowIfNull(builder);
        var (services, settings) = (builder.Services, TelemetrySettings.Read(builder.Configuration));
        services.AddSingleton(settings);
        services.AddSingleton<ServiceMeter>();
        services.AddSingleton<Refusals>();
        services.AddSingleton<DistributedContextPropagator>(new TraceIntake());
        TracedLines.Wrap(services);
        if (settings.HasMetrics)
        {
            services.AddOpenTelemetry().ConfigureResource(Describe).WithMetrics(metrics => Measure(metrics, settings));
            services.AddHostedService<ServiceGauges>();
        }

        if (settings.MetricsPort is not null)
        {
            services.AddHostedService<MetricsServer>();
        }

        if (settings.Traces is { } collector)
        {
            // Events can't be taken off a span: the database's provider hangs an error's text and stack on it as one. The exporter is to write none.
            builder.Configuration["OTEL_SPAN_EVENT_COUNT_LIMIT"] = "0";

            // Else the instrumentation would read tracestate and baggage itself.
            Sdk.SetDefaultTextMapPropagator(new TraceContextPropagator());
            services.AddOpenTelemetry().ConfigureResource(Describe).WithTracing(traces => Trace(traces, settings.TraceShare, collector));
        }
    }

    private static void Describe(ResourceBuilder resource) => resource
        .AddService("derivid", serviceVersion: typeof(TelemetryHosting).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion)
        .AddEnvironmentVariableDetector();

    private static void Measure(MeterProviderBuilder metrics, TelemetrySettings settings)
    {
        metrics.AddMeter(ServiceMeter.Name, Npgsql).AddAspNetCoreInstrumentation().AddRuntimeInstrumentation();
        if (settings.MetricsPort is not null)
        {
            metrics.AddPrometheusExporter();
        }

        if (settings.Metrics is { } collector)
        {
            metrics.AddOtlpExporter(collector.Apply);
        }
    }

    private static void Trace(TracerProviderBuilder traces, double share, CollectorSettings collector) => traces
        .SetSampler(new TraceShare(share))
        .AddSource(ServiceTrace.Name, Npgsql)
        .AddAspNetCoreInstrumentation(requests => requests.Filter = IsTold)
        .AddProcessor(new SpanTags())
        .AddOtlpExporter(collector.Apply);

    // What asks every few seconds whether all is well says nothing of where time goes.
    private static bool IsTold(HttpContext context) =>
        !context.Request.Path.StartsWithSegments("/health") && !context.Request.Path.StartsWithSegments(MetricsServer.Path);
}
