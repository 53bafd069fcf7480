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
                Session.Keep(validated.Properties!, token);
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
