using System.Net;
using System.Text.Json;
using Derivid.Client;
using Derivid.Page.Failures;
using Derivid.Page.Hosting;
using Derivid.Page.Observations;
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
    /// <summary>Where signing out is sent.</summary>
    public const string SignOutAddress = "/sign-out";

    /// <summary>Where signing in again is sent, with what was typed before.</summary>
    public const string SignInAgainAddress = "/sign-in/again";

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
            options.Events.OnRedirectToLogin = async asked =>
            {
                // Sent on to sign in, a form would lose what was typed.
                if (HttpMethods.IsPost(asked.Request.Method))
                {
                    await FailurePage.WriteAsync(asked.HttpContext, Failure.SignedOut);
                }
                else
                {
                    asked.Response.Redirect(asked.RedirectUri);
                }
            };
            options.Events.OnRedirectToAccessDenied = denied =>
            {
                denied.Response.StatusCode = StatusCodes.Status403Forbidden;
                return Task.CompletedTask;
            };
        });

    /// <summary>Maps signing out, and signing in again where a form was sent in vain: forms' posts, so that no link can do it.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapSessions(this IEndpointRouteBuilder routes)
    {
        routes.MapPost(SignOutAddress, async context =>
            {
                var onward = await InstitutionSignIn.EndAsync(context);
                await context.SignOutAsync(Session.Scheme);
                context.Features.Set<Session>(null);
                // On a shared computer, what was typed and not sent goes too; the script does it where a browser does not.
                context.Response.Headers["Clear-Site-Data"] = "\"storage\"";
                TypedReadings.Forget(context);
                if (onward is null)
                {
                    context.Response.Redirect("/");
                    return;
                }

                await FailurePage.WriteAsync(context, Failure.SignedOutHere with { Onward = onward });
            })
            .WithMetadata(new ViewMark(), new RequireAntiforgeryTokenAttribute())
            .ExcludeFromDescription();
        routes.MapPost(SignInAgainAddress, SignInAgainAsync)
            .WithMetadata(new ViewMark(), new RequireAntiforgeryTokenAttribute())
            .ExcludeFromDescription();
        routes.MapGet(SignInAgainAddress, () => Results.Redirect("/sign-in"))
            .WithMetadata(new ViewMark())
            .ExcludeFromDescription();
    }

    // Answered at once and not by leading on: what was typed before is in this answer and nowhere else.
    private static async Task SignInAgainAsync(HttpContext context)
    {
        var form = await context.Request.ReadFormAsync(context.RequestAborted);
        var refusal = await Session.SignInAsync(context, form["key"]);
        await FailurePage.WriteAsync(context, (refusal ?? Failure.SignedInAgain) with
        {
            Kept = Kept(form["kept"].ToString()),
            Address = Addresses.Local(form["returnUrl"]),
        });
    }

    private static IReadOnlyList<KeptField> Kept(string json)
    {
        try
        {
            return JsonSerializer.Deserialize<IReadOnlyList<KeptField>>(json) ?? [];
        }
        catch (JsonException)
        {
            return [];
        }
    }

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
