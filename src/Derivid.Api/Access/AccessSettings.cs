using Derivid.Core.Teaching;
using Derivid.Store;

namespace Derivid.Api.Access;

/// <summary>The settings under <c>Access</c>: who is let in, and as what.</summary>
public sealed record AccessSettings
{
    /// <summary>Name of the section.</summary>
    public const string Section = "Access";

    /// <summary>Whether even reading the released table and identifying need a key or a sign-in. Missing: false.</summary>
    public bool RequireKeyToRead { get; init; }

    /// <summary>
    /// A whole administrator key, for automation and for those who lost theirs: made known at the start, unless a key of
    /// the same public part is known already, revoked or not. Missing: null; the first start makes one and prints it.
    /// </summary>
    public string? AdministratorKey { get; init; }

    /// <summary>
    /// Addresses and networks of the proxies that are believed when they say whose request they pass on, separated by
    /// commas. Missing: empty, none; all that comes through a proxy then counts as sent by it.
    /// </summary>
    public string TrustedProxies { get; init; } = "";

    /// <summary>
    /// How long the check of a key may hold up what is answered to anyone; who sent it is then nobody known. Missing: 250.
    /// Units: ms. Bounds: 50 to 60000.
    /// </summary>
    public int KeyPatienceMilliseconds { get; init; } = 250;

    /// <summary>The institution's sign-in. Missing: null, keys only.</summary>
    public SignInSettings? OpenIdConnect { get; init; }

    /// <summary>Reads and checks the settings.</summary>
    /// <param name="configuration">The host's settings.</param>
    /// <exception cref="SettingException">A setting contradicts itself; the message names it, never a secret.</exception>
    public static AccessSettings Read(IConfiguration configuration)
    {
        var settings = configuration.GetSection(Section).Get<AccessSettings>() ?? new AccessSettings();
        if (settings.AdministratorKey is { Length: > 0 } key && KeyText.Parse(key) is null)
        {
            throw new SettingException(
                $"Access:AdministratorKey isn't a key. It must be {KeyText.Form}, every x and y a digit 0-9 or a-f.");
        }

        if (settings.KeyPatienceMilliseconds is < 50 or > 60_000)
        {
            throw new SettingException(
                $"Access:KeyPatienceMilliseconds is {settings.KeyPatienceMilliseconds}; 50 to 60000 ms are allowed.");
        }

        _ = Access.TrustedProxies.Read(settings.TrustedProxies);
        settings.OpenIdConnect?.Check();
        return settings;
    }
}

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

    /// <summary>Name of the page at the issuer, for signing in there. Missing: null, the page takes keys only.</summary>
    public string? ClientId { get; init; }

    /// <summary>Secret of the page at the issuer. Missing: null, it has none.</summary>
    public string? ClientSecret { get; init; }

    /// <summary>What the page asks the issuer for, by spaces. Missing: "openid".</summary>
    public string Scope { get; init; } = "openid";

    /// <summary>Refuses settings that can't work.</summary>
    /// <exception cref="SettingException">What is wrong, by the setting's name.</exception>
    internal void Check()
    {
        if (!Uri.TryCreate(Authority, UriKind.Absolute, out var address)
            || (RequireHttps && address.Scheme != Uri.UriSchemeHttps))
        {
            throw new SettingException(
                $"Access:OpenIdConnect:Authority is '{Authority}'; an absolute address is wanted, with https unless Access:OpenIdConnect:RequireHttps is false.");
        }

        if (Audience.Length == 0)
        {
            throw new SettingException(
                "Access:OpenIdConnect:Audience is empty; without it tokens meant for other services would be taken.");
        }

        if (Roles.Count == 0)
        {
            throw new SettingException(
                "Access:OpenIdConnect:Roles is empty; give at least one, such as Access:OpenIdConnect:Roles:staff = instructor.");
        }
    }
}
