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

    /// <summary>The institution's sign-in. Missing: null, keys only.</summary>
    public SignInSettings? OpenIdConnect { get; init; }

    /// <summary>Reads and checks the settings.</summary>
    /// <param name="configuration">The host's settings.</param>
    /// <exception cref="InvalidOperationException">A setting contradicts itself; the message names it, never a secret.</exception>
    public static AccessSettings Read(IConfiguration configuration)
    {
        var settings = configuration.GetSection(Section).Get<AccessSettings>() ?? new AccessSettings();
        if (settings.AdministratorKey is { Length: > 0 } key && KeyText.Parse(key) is null)
        {
            throw new InvalidOperationException(
                $"Access:AdministratorKey isn't a key. It must be {KeyText.Form}, every x and y a digit 0-9 or a-f.");
        }

        _ = Access.TrustedProxies.Read(settings.TrustedProxies);
        settings.OpenIdConnect?.Check();
        return settings;
    }
}
