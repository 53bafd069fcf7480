using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using Derivid.Api.Http;
using Microsoft.AspNetCore.RateLimiting;

namespace Derivid.Api.Access;

/// <summary>How often one sender may ask.</summary>
public static class RateLimits
{
    /// <summary>Name of the further limit of requests that carry many items.</summary>
    public const string Batches = "batches";

    /// <summary>Adds the limits.</summary>
    /// <param name="services">The services.</param>
    /// <param name="settings">The limits.</param>
    public static void AddRateLimits(this IServiceCollection services, RateLimitSettings settings) =>
        services.AddRateLimiter(options =>
        {
            options.GlobalLimiter = PartitionedRateLimiter.Create<HttpContext, string>(context =>
                Caller.Of(context) is { } caller
                    ? Limited(caller.Actor, settings.RequestsPerMinute)
                    : Limited(AddressOf(context), settings.AnonymousRequestsPerMinute));
            options.AddPolicy(Batches, context => Limited(SenderOf(context), settings.BatchesPerMinute));
            options.OnRejected = (rejected, _) => RefuseAsync(rejected);
        });

    /// <summary>Whose allowance a request spends: a key's, a person's, or an address's.</summary>
    /// <param name="context">The request.</param>
    public static string SenderOf(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        return Caller.Of(context)?.Actor ?? AddressOf(context);
    }

    // As many at once as a minute brings; evenly after that.
    private static RateLimitPartition<string> Limited(string sender, int perMinute)
    {
        if (perMinute == 0)
        {
            return RateLimitPartition.GetNoLimiter(sender);
        }

        var tokens = (perMinute + 59) / 60;
        return RateLimitPartition.GetTokenBucketLimiter(sender, _ => new TokenBucketRateLimiterOptions
        {
            TokenLimit = perMinute,
            TokensPerPeriod = tokens,
            ReplenishmentPeriod = TimeSpan.FromMinutes((double)tokens / perMinute),
            QueueLimit = 0,
        });
    }

    // Whoever has one IPv6 address mostly has its whole /64 network.
    private static string AddressOf(HttpContext context)
    {
        var address = context.Connection.RemoteIpAddress ?? IPAddress.None;
        if (address.IsIPv4MappedToIPv6)
        {
            address = address.MapToIPv4();
        }

        return address.AddressFamily == AddressFamily.InterNetworkV6
            ? "address:" + Convert.ToHexString(address.GetAddressBytes()[..8])
            : "address:" + address;
    }

    private static async ValueTask RefuseAsync(OnRejectedContext rejected)
    {
        var wait = rejected.Lease.TryGetMetadata(MetadataName.RetryAfter, out var told) && told > TimeSpan.FromSeconds(1)
            ? TimeSpan.FromSeconds(Math.Ceiling(told.TotalSeconds))
            : TimeSpan.FromSeconds(1);
        await new Problem(
            ProblemTypes.TooManyRequests,
            $"Wait {wait.TotalSeconds:0} s, then go on more slowly, or send many observations in one batch.")
        {
            RetryAfter = wait,
        }.ExecuteAsync(rejected.HttpContext);
    }
}

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
