using Derivid.Page.Failures;
using Derivid.Page.Sessions;
using Derivid.Page.Table;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Components.Endpoints;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Page.Hosting;

/// <summary>Puts the page into a host.</summary>
public static class PageHosting
{
    /// <summary>Adds the page, its sessions and its way to the service.</summary>
    /// <param name="services">The host's services. The host keeps the keys of data protection where all instances find them.</param>
    /// <param name="configuration">The host's settings.</param>
    public static void AddPage(this IServiceCollection services, IConfiguration configuration)
    {
        ArgumentNullException.ThrowIfNull(services);
        services.AddRazorComponents();
        services.AddHttpContextAccessor();
        services.AddSingleton<PageMark>();
        services.AddSingleton<ServiceCalls>();
        services.AddSingleton<VersionParts>();
        services.AddScoped(scope => scope.GetRequiredService<ServiceCalls>()
            .For(scope.GetRequiredService<IHttpContextAccessor>().HttpContext!));
        services.AddSessions();
        InstitutionSignIn.Add(services, configuration);
        services.AddSingleton<IExceptionHandler, PageExceptions>();
        services.AddAntiforgery(options =>
        {
            options.Cookie.Name = "derivid-form";
            // Come here from another site, a reader keeps the forms open elsewhere; what another site sends is refused by its token.
            options.Cookie.SameSite = SameSiteMode.Lax;
            options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            options.SuppressXFrameOptionsHeader = true;
        });
        services.AddResponseCompression(options =>
        {
            // What is secret on a view is written anew each time (the form's token), so compression gives nothing away.
            options.EnableForHttps = true;
            options.MimeTypes = ["text/html"];
        });
    }

    /// <summary>Where the files of the views are when the program was started from elsewhere. Missing: null, where it was started.</summary>
    public static string? FilesBeside => Path.Combine(AppContext.BaseDirectory, "wwwroot") is var beside
        && !Directory.Exists("wwwroot") && Directory.Exists(beside)
            ? beside
            : null;

    /// <summary>Gives the views their headers, and tells who is signed in; to be used after the framework's authentication.</summary>
    /// <param name="app">The application.</param>
    public static void UsePage(this WebApplication app) => app.UseWhen(IsView, views =>
    {
        views.UseResponseCompression();
        views.Use(async (context, next) =>
        {
            PageHeaders.Set(context.Response);
            await Session.ReadAsync(context);
            await next(context);
        });
    });

    /// <summary>Refuses forms that are not of this page; to be used after the framework's antiforgery.</summary>
    /// <param name="app">The application.</param>
    public static void UsePageForms(this WebApplication app) => app.Use((context, next) =>
        IsView(context) && context.Features.Get<IAntiforgeryValidationFeature>() is { } form && (!form.IsValid || Failure.IsFromHere(context.Request) == false)
            ? FailurePage.WriteAsync(context, Failure.OfForm(context))
            : next(context));

    /// <summary>Maps the views and the files they load.</summary>
    /// <param name="app">The application.</param>
    public static void MapPage(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        app.MapStaticAssets();
        app.MapRazorComponents<Document>();
        app.MapSessions();
        InstitutionSignIn.Map(app);
        app.MapDownloads();
    }

    /// <summary>Whether a request is for a view.</summary>
    /// <param name="context">The request, its endpoint chosen.</param>
    internal static bool IsView(HttpContext context) => IsView(context.GetEndpoint());

    /// <summary>Whether an endpoint is a view.</summary>
    /// <param name="endpoint">The endpoint. Missing: null, none was found.</param>
    internal static bool IsView(Endpoint? endpoint) =>
        endpoint?.Metadata.GetMetadata<ComponentTypeMetadata>() is not null
        || endpoint?.Metadata.GetMetadata<ViewMark>() is not null;
}
