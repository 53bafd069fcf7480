using Derivid.Core.Teaching;

namespace Derivid.Api.Access;

/// <summary>The settings under <c>Access:OpenIdConnect</c>: whose tokens are taken, and what their claims mean.</summary>
public sealed record SignInSettings
{
    /// <summary>Address of the issuer, below which its discovery document lies (OpenID Connect Discovery 1.0).</summary>
    public string Authority { get; init; } = "";

    /// <summary>The audience a token must be for.</summary>
    public string Audience { get; init; } = "";

    /// <summary>The claim that holds what a person is. Missing: "roles".</summary>
    public string RoleClaim { get; init; } = "roles";

    /// <summary>What each value of that claim means here. Shape: claim value to role; the highest one found counts.</summary>
    public IReadOnlyDictionary<string, Role> Roles { get; init; } = new Dictionary<string, Role>();

    /// <summary>Whether the issuer's address must be https. Missing: true; false is for trying out on one machine.</summary>
    public bool RequireHttps { get; init; } = true;

    /// <summary>Refuses settings that can't work.</summary>
    /// <exception cref="InvalidOperationException">What is wrong, by the setting's name.</exception>
    internal void Check()
    {
        if (!Uri.TryCreate(Authority, UriKind.Absolute, out var address)
            || (RequireHttps && address.Scheme != Uri.UriSchemeHttps))
        {
            throw new InvalidOperationException(
                $"Access:OpenIdConnect:Authority is '{Authority}'; an absolute address is wanted, with https unless Access:OpenIdConnect:RequireHttps is false.");
        }

        if (Audience.Length == 0)
        {
            throw new InvalidOperationException(
                "Access:OpenIdConnect:Audience is empty; without it tokens meant for other services would be taken.");
        }

        if (Roles.Count == 0)
        {
            throw new InvalidOperationException(
                "Access:OpenIdConnect:Roles is empty; give at least one, such as Access:OpenIdConnect:Roles:staff = instructor.");
        }
    }
}
