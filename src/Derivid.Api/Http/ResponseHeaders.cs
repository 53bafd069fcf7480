namespace Derivid.Api.Http;

/// <summary>Headers every answer carries.</summary>
public static class ResponseHeaders
{
    /// <summary>Tells browsers to take the media type as it is said.</summary>
    /// <param name="app">The application.</param>
    public static void UseResponseHeaders(this WebApplication app) => app.Use((context, next) =>
    {
        context.Response.Headers.XContentTypeOptions = "nosniff";
        return next(context);
    });
}
