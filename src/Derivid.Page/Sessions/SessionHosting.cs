using System.Net;
using Derivid.Client;
using Derivid.Page.Hosting;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Page.Sessions;

/// <summary>Sets up signing in and out.</summary>
internal static class SessionHosting
{
    // A day in the laboratory, without signing in again after lunch.
    private static readonly TimeSpan Lifetime = TimeSpan.FromHours(12);

    /// <summary>Adds the cookie.</summary>
    /// <param name="services">The host's services.</param>
    public static void AddSessions(this IServiceCollection services) =>
        new AuthenticationBuilder(services).AddCookie(Session.Scheme, options =>
        {
            options.Cookie.Name = "derivid-session";
            options.Cookie.HttpOnly = true;
            options.Cookie.SameSite = SameSiteMode.Lax;
            options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            options.ExpireTimeSpan = Lifetime;
            options.SlidingExpiration = true;
            options.LoginPath = "/sign-in";
            options.ReturnUrlParameter = "returnUrl";
            options.Events.OnValidatePrincipal = LookAgainAsync;
            options.Events.OnRedirectToAccessDenied = denied =>
            {
                denied.Response.StatusCode = StatusCodes.Status403Forbidden;
                return Task.CompletedTask;
            };
        });

    /// <summary>Maps signing out: a form's post, so that no link can do it.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapSignOut(this IEndpointRouteBuilder routes) =>
        routes.MapPost("/sign-out", async context =>
            {
                await context.SignOutAsync(Session.Scheme);
                context.Response.Redirect("/");
            })
            .WithMetadata(new ViewMark(), new RequireAntiforgeryTokenAttribute())
            .ExcludeFromDescription();

    // A key revoked, or given another role, since the cookie was made counts from now on; a service that can't say leaves
    // things as they are, and says so where it matters.
    private static async Task LookAgainAsync(CookieValidatePrincipalContext cookie)
    {
        var http = cookie.HttpContext;
        if (Session.KeyOf(cookie.Properties) is not { } key)
        {
            cookie.RejectPrincipal();
            return;
        }

        try
        {
            using var client = http.RequestServices.GetRequiredService<ServiceCalls>().For(http, key);
            cookie.ReplacePrincipal(Session.PrincipalOf(await client.Keys.GetCurrentAsync(http.RequestAborted)));
        }
        catch (DerividException refusal) when (refusal.Status is HttpStatusCode.Unauthorized or HttpStatusCode.Forbidden)
        {
            cookie.RejectPrincipal();
            await http.SignOutAsync(Session.Scheme);
        }
        catch (Exception fault) when (fault is DerividException or HttpRequestException or TaskCanceledException)
        {
            // It stays; whatever the view asks the service for is checked there.
        }
    }
}
