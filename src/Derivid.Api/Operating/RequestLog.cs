using Derivid.Page.Failures;

namespace Derivid.Api.Operating;

/// <summary>A line in the log for each request, once it is answered.</summary>
/// <remarks>
/// Method, route, status, time and the trace id that a problem quotes; of the address the route's pattern only, and no query,
/// header or body, since codes of unknowns and people's names stand in them. Level: information, category
/// <see cref="Category"/>; the settings begin with it off.
/// </remarks>
public static partial class RequestLog
{
    /// <summary>The category whose level turns it on and off.</summary>
    public const string Category = "Requests";

    /// <summary>Logs what everything after it answers.</summary>
    /// <param name="app">The application.</param>
    public static void UseRequestLog(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        var log = app.Services.GetRequiredService<ILoggerFactory>().CreateLogger(Category);
        var time = app.Services.GetRequiredService<TimeProvider>();
        app.Use(async (context, next) =>
        {
            if (!log.IsEnabled(LogLevel.Information))
            {
                await next(context);
                return;
            }

            var (began, trace) = (time.GetTimestamp(), TraceId.Of(context));
            try
            {
                await next(context);
            }
            finally
            {
                var milliseconds = time.GetElapsedTime(began).TotalMilliseconds;
                var left = context.RequestAborted.IsCancellationRequested ? ", the caller had left" : "";
                Answered(log, context.Request.Method, Route(context), context.Response.StatusCode, milliseconds, trace, left);
            }
        });
    }

    private static string Route(HttpContext context) =>
        context.GetEndpoint() is RouteEndpoint { RoutePattern.RawText: { } pattern } ? $"/{pattern.Trim('/')}" : "(no route)";

    [LoggerMessage(LogLevel.Information, "{Method} {Route} {Status} in {Milliseconds:0.0} ms, {TraceId}{Left}")]
    private static partial void Answered(
        ILogger log, string method, string route, int status, double milliseconds, string traceId, string left);
}
