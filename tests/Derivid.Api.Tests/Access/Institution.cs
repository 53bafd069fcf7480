using System.Collections.Immutable;
using System.Security.Claims;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.IdentityModel.JsonWebTokens;
using Microsoft.IdentityModel.Tokens;
using OpenIddict.Abstractions;
using static OpenIddict.Server.OpenIddictServerEvents;

namespace Derivid.Api.Tests.Access;

/// <summary>An institution's OpenID Connect server on a loopback port: discovery, signing keys and tokens over real HTTP.</summary>
public sealed class Institution : IAsyncDisposable
{
    public const string Audience = "derivid-test";

    private readonly WebApplication _server;
    private readonly RSA _rsa = RSA.Create(2048);

    private Institution()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Services.AddOpenIddict().AddServer(options =>
        {
            options.SetTokenEndpointUris("token").AllowClientCredentialsFlow().EnableDegradedMode();
            options.AddSigningKey(new RsaSecurityKey(_rsa) { KeyId = "one" });
            options.AddEphemeralEncryptionKey().DisableAccessTokenEncryption();
            options.UseAspNetCore().DisableTransportSecurityRequirement();
            options.AddEventHandler<ValidateTokenRequestContext>(handler => handler.UseInlineHandler(_ => default));
            options.AddEventHandler<HandleTokenRequestContext>(handler => handler.UseInlineHandler(SignIn));
        });
        _server = builder.Build();
    }

    public string Authority { get; private set; } = "";

    public static async Task<Institution> StartAsync()
    {
        var institution = new Institution();
        await institution._server.StartAsync();
        institution.Authority = institution._server.Services.GetRequiredService<IServer>()
            .Features.Get<IServerAddressesFeature>()!.Addresses.Single() + "/";
        return institution;
    }

    /// <summary>Has the server itself issue a token.</summary>
    /// <param name="subject">Who signs in.</param>
    /// <param name="roles">What the institution says they are.</param>
    public async Task<string> TokenAsync(string subject, params string[] roles)
    {
        using var client = new HttpClient();
        using var form = new FormUrlEncodedContent(
        [
            new("grant_type", "client_credentials"), new("client_id", subject), new("client_secret", "any"),
            .. roles.Select(role => new KeyValuePair<string, string>("role", role)),
        ]);
        using var response = await client.PostAsync(Authority + "token", form, TestContext.Current.CancellationToken);
        return (await response.JsonAsync(System.Net.HttpStatusCode.OK)).GetProperty("access_token").GetString()!;
    }

    /// <summary>Makes a token by hand, signed with the server's key unless said otherwise.</summary>
    /// <param name="change">Changes what would be a good token.</param>
    public string TokenByHand(Action<SecurityTokenDescriptor>? change = null)
    {
        var descriptor = new SecurityTokenDescriptor
        {
            Issuer = Authority,
            Audience = Audience,
            NotBefore = DateTime.UtcNow.AddMinutes(-5),
            IssuedAt = DateTime.UtcNow.AddMinutes(-5),
            Expires = DateTime.UtcNow.AddMinutes(5),
            Claims = new Dictionary<string, object> { ["sub"] = "by hand", ["roles"] = "staff" },
            SigningCredentials = Signing(_rsa),
        };
        change?.Invoke(descriptor);
        return new JsonWebTokenHandler { SetDefaultTimesOnTokenCreation = false }.CreateToken(descriptor);
    }

    /// <summary>Signs with a key that calls itself the server's.</summary>
    /// <param name="rsa">The key.</param>
    public static SigningCredentials Signing(RSA rsa) =>
        new(new RsaSecurityKey(rsa) { KeyId = "one", CryptoProviderFactory = new CryptoProviderFactory { CacheSignatureProviders = false } }, "RS256");

    /// <summary>Signs with the server's public key as if it were a secret.</summary>
    public SigningCredentials SigningWithWhatIsPublic() =>
        new(new SymmetricSecurityKey(_rsa.ExportSubjectPublicKeyInfo()) { KeyId = "one" }, "HS256");

    public async ValueTask DisposeAsync()
    {
        await _server.DisposeAsync();
        _rsa.Dispose();
    }

    private static ValueTask SignIn(HandleTokenRequestContext context)
    {
        var identity = new ClaimsIdentity("test");
        identity.SetClaim("sub", context.Request.ClientId!);
        var roles = (ImmutableArray<string?>?)context.Request.GetParameter("role") ?? [];
        identity.SetClaims("roles", [.. roles.OfType<string>()]);
        identity.SetDestinations(_ => [OpenIddictConstants.Destinations.AccessToken]);
        var principal = new ClaimsPrincipal(identity);
        principal.SetAudiences(Audience);
        context.SignIn(principal);
        return default;
    }
}
