using System.Net;
using System.Security.Claims;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Page.Failures;
using Derivid.Page.Hosting;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.IdentityModel.Protocols.OpenIdConnect;

namespace Derivid.Page.Sessions;

/// <summary>Somebody signed in at the page: the key they brought, and who the service says they are.</summary>
/// <remarks>
/// It lives in an encrypted cookie and nowhere else. The role chooses what is shown; what is allowed the service decides anew
/// with each call.
/// </remarks>
/// <param name="Key">Their key, or the institution's token, sent with each call of the service.</param>
/// <param name="Actor">As the audit log names them.</param>
/// <param name="Role">What they may do.</param>
public sealed record Session(string Key, string Actor, Role Role)
{
    /// <summary>Name of the scheme: the way they proved it.</summary>
    public const string Scheme = "page";

    private const string KeyToken = "key";
    private const string ActorClaim = "actor";

    /// <summary>Who is signed in.</summary>
    /// <param name="context">A request for a view.</param>
    /// <returns>Missing: null, nobody.</returns>
    public static Session? Of(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        return context.Features.Get<Session>();
    }

    /// <summary>Leaves the key out.</summary>
    /// <returns>Actor and role.</returns>
    public override string ToString() => $"{Actor}, {Role}";

    /// <summary>Signs in whoever brings a key.</summary>
    /// <param name="context">The request.</param>
    /// <param name="key">What was typed as a key. Missing: nothing was.</param>
    /// <returns>Why they are not let in. Missing: null, they are, and so they are in what is left of the request.</returns>
    internal static async Task<Failure?> SignInAsync(HttpContext context, string? key)
    {
        key = key?.Trim();
        if (string.IsNullOrEmpty(key))
        {
            return Failure.SignedOut with { Detail = "Enter your key." };
        }

        using var client = context.RequestServices.GetRequiredService<ServiceCalls>().For(context, key);
        try
        {
            var caller = await client.Keys.GetCurrentAsync(context.RequestAborted);
            var properties = new AuthenticationProperties();
            Keep(properties, key);
            context.User = PrincipalOf(caller);
            await context.SignInAsync(Scheme, context.User, properties);
            context.Features.Set(new Session(key, caller.Actor, caller.Role));
            return null;
        }
        catch (DerividException refusal) when (refusal.Status == HttpStatusCode.Unauthorized)
        {
            return Failure.SignedOut with { Detail = "This key opens nothing: it is mistyped, revoked or past its time. Whoever gave it to you can make another." };
        }
        catch (DerividException refusal)
        {
            return Failure.Of(refusal);
        }
    }

    /// <summary>Puts a key into a cookie's properties.</summary>
    /// <param name="properties">The properties.</param>
    /// <param name="key">The key, or a token of the institution's.</param>
    /// <param name="idToken">By which the institution knows its session again when it is to end. Missing: null, there is none.</param>
    internal static void Keep(AuthenticationProperties properties, string key, string? idToken = null) => properties.StoreTokens(
    [
        new AuthenticationToken { Name = KeyToken, Value = key },
        .. idToken is null ? Array.Empty<AuthenticationToken>() : [new AuthenticationToken { Name = OpenIdConnectParameterNames.IdToken, Value = idToken }],
    ]);

    /// <summary>Reads the cookie of a request for a view.</summary>
    /// <param name="context">The request.</param>
    internal static async Task ReadAsync(HttpContext context)
    {
        var result = await context.AuthenticateAsync(Scheme);
        if (result.Succeeded && KeyOf(result.Properties) is { } key
            && Enum.TryParse<Role>(result.Principal.FindFirstValue(ClaimTypes.Role), out var role))
        {
            context.User = result.Principal;
            context.Features.Set(new Session(key, result.Principal.FindFirstValue(ActorClaim) ?? "", role));
        }
    }

    /// <summary>The key a cookie holds.</summary>
    /// <param name="properties">The cookie's properties.</param>
    internal static string? KeyOf(AuthenticationProperties properties) => properties.GetTokenValue(KeyToken);

    /// <summary>Somebody as the framework carries them.</summary>
    /// <param name="caller">Who the service takes them for.</param>
    internal static ClaimsPrincipal PrincipalOf(CallerItem caller) => new(new ClaimsIdentity(
        [new Claim(ActorClaim, caller.Actor), new Claim(ClaimTypes.Role, caller.Role.ToString())], Scheme, ActorClaim, ClaimTypes.Role));
}
