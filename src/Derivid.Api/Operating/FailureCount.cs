namespace Derivid.Api.Operating;

/// <summary>Counts what is answered 5xx, but for questions for health: those say with it what they were asked.</summary>
public static class FailureCount
{
    /// <summary>Counts what everything after it answers.</summary>
    /// <param name="app">The application.</param>
    public static void UseFailureCount(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        var meter = app.Services.GetRequiredService<ServiceMeter>();
        app.Use(async (context, next) =>
        {
            await next(context);
            if (context.Response.StatusCode >= StatusCodes.Status500InternalServerError
                && !context.Request.Path.StartsWithSegments("/health", StringComparison.OrdinalIgnoreCase))
            {
                meter.Failed(context.Response.StatusCode);
            }
        });
    }
}
