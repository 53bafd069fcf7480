namespace Derivid.Api.Access;

/// <summary>The settings under <c>RateLimits</c>. Each holds for one process; several instances each allow as much.</summary>
/// <remarks>Unused allowance adds up to one minute's. 0 sets no limit.</remarks>
public sealed record RateLimitSettings
{
    /// <summary>Name of the section.</summary>
    public const string Section = "RateLimits";

    /// <summary>Requests of one key or one person signed in. Units: per minute.</summary>
    public int RequestsPerMinute { get; init; } = 6000;

    /// <summary>
    /// Requests from one address (IPv6: one /64 network) without a valid key or sign-in. Units: per minute. A whole class
    /// may share an address. Behind a proxy the address is the proxy's, unless <c>Access:TrustedProxies</c> names it.
    /// </summary>
    public int AnonymousRequestsPerMinute { get; init; } = 6000;

    /// <summary>Batches of one sender, beside counting as one request each. Units: per minute.</summary>
    public int BatchesPerMinute { get; init; } = 120;

    /// <summary>Reads and checks the settings.</summary>
    /// <param name="configuration">The host's settings.</param>
    /// <exception cref="InvalidOperationException">A limit is negative.</exception>
    public static RateLimitSettings Read(IConfiguration configuration)
    {
        var settings = configuration.GetSection(Section).Get<RateLimitSettings>() ?? new RateLimitSettings();
        return int.Min(settings.RequestsPerMinute, int.Min(settings.AnonymousRequestsPerMinute, settings.BatchesPerMinute)) >= 0
            ? settings
            : throw new InvalidOperationException(
                $"A limit under {Section} is negative; 0 (no limit) or more requests per minute are allowed.");
    }
}
