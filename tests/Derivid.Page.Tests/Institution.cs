using System.Security.Claims;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using OpenIddict.Abstractions;
using static OpenIddict.Server.OpenIddictServerEvents;

namespace Derivid.Page.Tests;

/// <summary>An institution's OpenID Connect server on a loopback port, at which one person is signed in already.</summary>
public sealed class Institution : IAsyncDisposable
{
    /// <summary>The page, as the institution calls it; its tokens are for the service of the same name.</summary>
    public const string ClientId = "derivid-page-test";

    private readonly WebApplication _server;
    private readonly List<string> _ended = [];

    private Institution(string role, bool announcesEnd)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Services.AddOpenIddict().AddServer(options =>
        {
            options.SetAuthorizationEndpointUris("authorize").SetTokenEndpointUris("token");
            if (announcesEnd)
            {
                options.SetEndSessionEndpointUris("end-session");
                options.AddEventHandler<ValidateEndSessionRequestContext>(handler => handler.UseInlineHandler(_ => default));
                options.AddEventHandler<HandleEndSessionRequestContext>(handler => handler.UseInlineHandler(request =>
                {
                    _ended.Add(request.IdentityTokenHintPrincipal?.FindFirst("sub")?.Value ?? "");
                    request.SignOut();
                    return default;
                }));
            }

            options.AllowAuthorizationCodeFlow().RequireProofKeyForCodeExchange().EnableDegradedMode();
            options.AddEphemeralSigningKey().AddEphemeralEncryptionKey().DisableAccessTokenEncryption();
            options.UseAspNetCore().DisableTransportSecurityRequirement();
            options.AddEventHandler<ValidateAuthorizationRequestContext>(handler => handler.UseInlineHandler(request =>
            {
                if (request.ClientId != ClientId)
                {
                    request.Reject(OpenIddictConstants.Errors.InvalidClient);
                }

                return default;
            }));
            options.AddEventHandler<ValidateTokenRequestContext>(handler => handler.UseInlineHandler(_ => default));
            options.AddEventHandler<HandleAuthorizationRequestContext>(handler => handler.UseInlineHandler(request =>
            {
                var identity = new ClaimsIdentity("test");
                identity.SetClaim("sub", "somebody").SetClaim("roles", role);
                identity.SetDestinations(_ => [OpenIddictConstants.Destinations.AccessToken, OpenIddictConstants.Destinations.IdentityToken]);
                var principal = new ClaimsPrincipal(identity);
                principal.SetScopes(request.Request.GetScopes()).SetAudiences(ClientId);
                request.SignIn(principal);
                return default;
            }));
        });
        _server = builder.Build();
    }

    public string Authority { get; private set; } = "";

    /// <summary>Whose sessions were ended there.</summary>
    public IReadOnlyList<string> Ended => _ended;

    /// <summary>Starts it.</summary>
    /// <param name="role">What it says the person is.</param>
    /// <param name="announcesEnd">Whether it says where its sessions end.</param>
    public static async Task<Institution> StartAsync(string role, bool announcesEnd = false)
    {
        var institution = new Institution(role, announcesEnd);
        await institution._server.StartAsync();
        institution.Authority = institution._server.Services.GetRequiredService<IServer>()
            .Features.Get<IServerAddressesFeature>()!.Addresses.Single() + "/";
        return institution;
    }

    /// <summary>The settings that have a service take its tokens, and the page sign in there.</summary>
    public (string Name, string Value)[] Settings() =>
    [
        ("Access:OpenIdConnect:Authority", Authority),
        ("Access:OpenIdConnect:Audience", ClientId),
        ("Access:OpenIdConnect:ClientId", ClientId),
        ("Access:OpenIdConnect:RequireHttps", "false"),
        ("Access:OpenIdConnect:Roles:staff", "instructor"),
    ];

    public ValueTask DisposeAsync() => _server.DisposeAsync();
}
