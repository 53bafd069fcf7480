using System.Net;
using Derivid.Client;
using Derivid.Page.Hosting;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.OpenIdConnect;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Options;
using Microsoft.IdentityModel.Protocols.OpenIdConnect;

namespace Derivid.Page.Sessions;

/// <summary>Signing in at the institution: OpenID Connect, by authorization code with PKCE (RFC 7636).</summary>
/// <remarks>
/// What comes of it is a session as with a key, but for the token in the key's place: the service takes the institution's
/// tokens, so the page decides nothing of its own. The session ends with the token.
/// </remarks>
/// <param name="IsOffered">Whether it is set up: the service's settings under Access:OpenIdConnect, and a ClientId.</param>
public sealed record InstitutionSignIn(bool IsOffered)
{
    /// <summary>Where signing in begins.</summary>
    public const string Address = "/sign-in/institution";

    private const string Scheme = "institution";
    private const string Section = "Access:OpenIdConnect";
    private const string Done = Address + "/done";
    private const string Ended = "/sign-out/institution/done";

    /// <summary>Adds it, where it is set up.</summary>
    /// <param name="services">The host's services.</param>
    /// <param name="configuration">The host's settings.</param>
    internal static void Add(IServiceCollection services, IConfiguration configuration)
    {
        var settings = configuration.GetSection(Section);
        var isOffered = settings["ClientId"] is { Length: > 0 };
        services.AddSingleton(new InstitutionSignIn(isOffered));
        if (isOffered)
        {
            new AuthenticationBuilder(services).AddOpenIdConnect(Scheme, options => Configure(options, settings));
        }
    }

    /// <summary>Maps where it begins, where it is set up.</summary>
    /// <param name="routes">The routes.</param>
    internal static void Map(IEndpointRouteBuilder routes)
    {
        if (routes.ServiceProvider.GetRequiredService<InstitutionSignIn>().IsOffered)
        {
            routes.MapGet(Address, (string? returnUrl) => Results.Challenge(
                    new AuthenticationProperties { RedirectUri = Addresses.Local(returnUrl) }, [Scheme]))
                .WithMetadata(new ViewMark()).ExcludeFromDescription();
        }
    }

    /// <summary>Where a browser goes to end the institution's session too, after the one here.</summary>
    /// <param name="context">The request to sign out, its session still there.</param>
    /// <returns>Missing: null, nobody is signed in by the institution, or it announces no such address, or can't be reached.</returns>
    internal static async Task<string?> EndAsync(HttpContext context)
    {
        var result = await context.AuthenticateAsync(Session.Scheme);
        if (!context.RequestServices.GetRequiredService<InstitutionSignIn>().IsOffered
            || result.Properties?.GetTokenValue(OpenIdConnectParameterNames.IdToken) is null)
        {
            return null;
        }

        var options = context.RequestServices.GetRequiredService<IOptionsMonitor<OpenIdConnectOptions>>().Get(Scheme);
        try
        {
            if (string.IsNullOrEmpty((await options.ConfigurationManager!.GetConfigurationAsync(context.RequestAborted)).EndSessionEndpoint))
            {
                return null;
            }
        }
        catch (Exception away) when (away is InvalidOperationException or HttpRequestException or IOException or TaskCanceledException)
        {
            return null;
        }

        // The framework leads there at once; a form's answer must not lead to another site, so the address is given on.
        await context.SignOutAsync(Scheme, new AuthenticationProperties { RedirectUri = "/" });
        var address = context.Response.Headers.Location.ToString();
        context.Response.Headers.Remove("Location");
        context.Response.StatusCode = StatusCodes.Status200OK;
        return address;
    }

    private static void Configure(OpenIdConnectOptions options, IConfigurationSection settings)
    {
        options.Authority = settings["Authority"];
        options.ClientId = settings["ClientId"];
        options.ClientSecret = settings["ClientSecret"];
        options.RequireHttpsMetadata = settings["RequireHttps"] is not "false" and not "False";
        options.ResponseType = OpenIdConnectResponseType.Code;
        options.ResponseMode = OpenIdConnectResponseMode.Query;
        options.MapInboundClaims = false;
        options.SignInScheme = Session.Scheme;
        options.CallbackPath = Done;
        options.SignedOutCallbackPath = Ended;
        options.Scope.Clear();
        foreach (var scope in (settings["Scope"] ?? "openid").Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            options.Scope.Add(scope);
        }

        // The answer comes back by a link, so these need not go with requests of other sites.
        foreach (var cookie in new[] { options.NonceCookie, options.CorrelationCookie })
        {
            cookie.SameSite = SameSiteMode.Lax;
            cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        }

        options.Events.OnTokenValidated = BecomeSessionAsync;
        options.Events.OnRemoteFailure = failed =>
        {
            failed.Response.Redirect("/sign-in?refused=1");
            failed.HandleResponse();
            return Task.CompletedTask;
        };
    }

    // Which of the two is for this service's audience is the institution's choice.
    private static async Task BecomeSessionAsync(TokenValidatedContext validated)
    {
        var calls = validated.HttpContext.RequestServices.GetRequiredService<ServiceCalls>();
        var answer = validated.TokenEndpointResponse;
        foreach (var token in new[] { answer?.AccessToken, answer?.IdToken }.OfType<string>())
        {
            using var client = calls.For(validated.HttpContext, token);
            try
            {
                validated.Principal = Session.PrincipalOf(await client.Keys.GetCurrentAsync(validated.HttpContext.RequestAborted));
                Session.Keep(validated.Properties!, token, answer?.IdToken);
                return;
            }
            catch (DerividException refusal) when (refusal.Status is HttpStatusCode.Unauthorized or HttpStatusCode.Forbidden)
            {
                // Perhaps the other.
            }
        }

        validated.Fail("The service takes neither token.");
    }
}
