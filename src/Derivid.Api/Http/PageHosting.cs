namespace Derivid.Api.Http;

/// <summary>Serves the web page, static files that talk to the API over HTTP only, at the root.</summary>
public static class PageHosting
{
    /// <summary>Finds the page's files also when the service runs from its build output.</summary>
    /// <param name="builder">The application's builder.</param>
    public static void AddPage(this WebApplicationBuilder builder)
    {
        ArgumentNullException.ThrowIfNull(builder);
        builder.WebHost.UseStaticWebAssets();
    }

    /// <summary>Serves them.</summary>
    /// <param name="app">The application.</param>
    public static void UsePage(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        app.UseDefaultFiles();
        app.UseStaticFiles();
    }
}
