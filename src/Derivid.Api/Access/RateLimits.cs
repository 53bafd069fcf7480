using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using Derivid.Api.Http;
using Derivid.Contracts;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.RateLimiting;

namespace Derivid.Api.Access;

/// <summary>How often one sender may ask.</summary>
/// <remarks>
/// Whoever sends a key that opened nothing in this process so far spends their address's allowance before it is looked up;
/// everybody else spends their own, or their address's, once it is known who they are.
/// </remarks>
public static class RateLimits
{
    private const string OfRequests = "then go on more slowly, or send many observations in one batch.";

    /// <summary>Adds the limits.</summary>
    /// <param name="services">The services.</param>
    /// <param name="settings">The limits.</param>
    public static void AddRateLimits(this IServiceCollection services, RateLimitSettings settings)
    {
        // Made by the services, they end with them: a limiter's clock goes on, and holds all it knows, until it is disposed.
        // The framework's own middleware leaves one running.
        services.AddSingleton(_ => new BatchAllowances(settings.BatchItemsPerMinute));
        services.AddSingleton(_ => new StoringAllowances(settings.StoredPerHour));
        services.AddSingleton(_ => new SenderPlaces(settings.RequestsAtOnce));
        services.AddSingleton(_ => PartitionedRateLimiter.Create<HttpContext, string>(context =>
            Caller.Of(context) is { } caller ? Limited(caller.Actor, settings.RequestsPerMinute, TimeSpan.FromMinutes(1))
            : Limited(AddressOf(context), settings.AnonymousRequestsPerMinute, TimeSpan.FromMinutes(1))));
    }

    /// <summary>Counts requests with keys not met before against their address; to be used before anything is looked up.</summary>
    /// <param name="app">The application.</param>
    public static void UseAddressLimits(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        var lookups = app.Services.GetRequiredService<KeyLookups>();

        // Nobody is known yet, so that it is the address's.
        app.UseLimits(context => AccessHandler.KeyOf(context.Request) is { } key && !lookups.HasMet(key));
    }

    /// <summary>Counts everybody else's against whoever they are; to be used once that is known.</summary>
    /// <param name="app">The application.</param>
    public static void UseSenderLimits(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        app.UseLimits(context => Caller.Of(context) is not null || context.Features.Get<Counted>() is null);
        var places = app.Services.GetRequiredService<SenderPlaces>();
        app.Use(async (context, next) =>
        {
            using var place = NeedsPlace(context) ? await places.TakeAsync(PlaceOf(context), context.RequestAborted) : null;
            if (place is { IsAcquired: false })
            {
                await Refused(place, $"and have no more than {places.Most} requests under way at once.").ExecuteAsync(context);
                return;
            }

            await next(context);
        });
    }

    /// <summary>Has whoever isn't signed in send small forms only: nothing but a bench and a key is asked of them.</summary>
    /// <param name="app">The application.</param>
    public static void UseFormLimits(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        app.Use((context, next) =>
        {
            if (Caller.Of(context) is not null || IsOfApi(context))
            {
                return next(context);
            }

            if (context.Request.ContentLength > RequestLimits.SingleBytes)
            {
                return new Problem(ProblemTypes.TooLarge, $"A form of somebody who isn't signed in may hold at most {RequestLimits.SingleBytes} bytes.")
                    .ExecuteAsync(context);
            }

            // Of a form that doesn't say how long it is, no more is read.
            if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } size)
            {
                size.MaxRequestBodySize = RequestLimits.SingleBytes;
            }

            return next(context);
        });
    }

    private static void UseLimits(this WebApplication app, Func<HttpContext, bool> counts)
    {
        var limiter = app.Services.GetRequiredService<PartitionedRateLimiter<HttpContext>>();
        app.Use(async (context, next) =>
        {
            if (!counts(context) || !IsLimited(context))
            {
                await next(context);
                return;
            }

            using var lease = limiter.AttemptAcquire(context);
            if (!lease.IsAcquired)
            {
                await Refused(lease, OfRequests).ExecuteAsync(context);
                return;
            }

            context.Features.Set(new Counted());
            await next(context);
        });
    }

    // What has no body holds nothing for long, and what the page asks for is part of a view that has its place.
    private static bool NeedsPlace(HttpContext context) =>
        IsLimited(context) && context.Features.Get<TrustedProxies.PageCall>() is null
        && context.Features.Get<IHttpRequestBodyDetectionFeature>()?.CanHaveBody != false;

    // Whoever fills the places of the service from an address leaves those of the page, where people sign in.
    private static string PlaceOf(HttpContext context) =>
        (IsOfApi(context) ? "" : "page ") + SenderOf(context);

    private static bool IsOfApi(HttpContext context) =>
        context.Request.Path.StartsWithSegments("/api", StringComparison.OrdinalIgnoreCase);

    private static bool IsLimited(HttpContext context) =>
        context.GetEndpoint()?.Metadata.GetMetadata<DisableRateLimitingAttribute>() is null;

    /// <summary>Whose allowance a request spends: a key's, a person's, or an address's.</summary>
    /// <param name="context">The request.</param>
    public static string SenderOf(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        return Caller.Of(context)?.Actor ?? AddressOf(context);
    }

    /// <summary>The problem of whoever has no allowance left.</summary>
    /// <param name="lease">What they got instead.</param>
    /// <param name="advice">What to do besides waiting.</param>
    internal static Problem Refused(RateLimitLease lease, string advice)
    {
        var wait = lease.TryGetMetadata(MetadataName.RetryAfter, out var told) && told > TimeSpan.FromSeconds(1)
            ? TimeSpan.FromSeconds(Math.Ceiling(told.TotalSeconds))
            : TimeSpan.FromSeconds(1);
        return new Problem(
            ProblemTypes.TooManyRequests,
            $"Wait {wait.TotalSeconds:0} s, {advice}")
        {
            RetryAfter = wait,
        };
    }

    // As many at once as the span brings; evenly after that.
    internal static RateLimitPartition<string> Limited(string sender, int most, TimeSpan span)
    {
        if (most == 0)
        {
            return RateLimitPartition.GetNoLimiter(sender);
        }

        var tokens = (most + 59) / 60;
        return RateLimitPartition.GetTokenBucketLimiter(sender, _ => new TokenBucketRateLimiterOptions
        {
            TokenLimit = most,
            TokensPerPeriod = tokens,
            ReplenishmentPeriod = span * ((double)tokens / most),
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

    // Says of a request that its address was charged for it.
    private sealed record Counted;
}

/// <summary>How many requests with a body one sender has under way at once: bodies that never end hold memory and connections.</summary>
/// <param name="most">See <see cref="RateLimitSettings.RequestsAtOnce"/>.</param>
public sealed class SenderPlaces(int most) : IDisposable
{
    /// <summary>Requests of one sender that wait for a place, nothing of their bodies read. Chosen: a class behind one address at once.</summary>
    private const int MostWaiting = 400;

    private readonly PartitionedRateLimiter<string> _places = PartitionedRateLimiter.Create<string, string>(sender => most == 0
        ? RateLimitPartition.GetNoLimiter(sender)
        : RateLimitPartition.GetConcurrencyLimiter(sender, _ => new ConcurrencyLimiterOptions
        {
            PermitLimit = most,
            QueueLimit = MostWaiting,
            QueueProcessingOrder = QueueProcessingOrder.OldestFirst,
        }));

    /// <summary>How many. 0: as many as come.</summary>
    public int Most { get; } = most;

    /// <summary>Waits for a place for one request.</summary>
    /// <param name="sender">Who sends it.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The place, given back when it is disposed of; or none, when too many wait.</returns>
    public ValueTask<RateLimitLease> TakeAsync(string sender, CancellationToken cancellationToken) =>
        _places.AcquireAsync(sender, 1, cancellationToken);

    /// <inheritdoc/>
    public void Dispose() => _places.Dispose();
}

/// <summary>How much of something each sender may spend within a span, beside their requests.</summary>
/// <param name="most">What comes back within the span. 0: no limit.</param>
/// <param name="span">The span.</param>
/// <param name="advice">What to do, besides waiting, once it is spent.</param>
public abstract class SenderAllowances(int most, TimeSpan span, string advice) : IDisposable
{
    private readonly PartitionedRateLimiter<string> _left =
        PartitionedRateLimiter.Create<string, string>(sender => RateLimits.Limited(sender, most, span));

    /// <summary>Spends the allowance of a sender.</summary>
    /// <param name="sender">Whose it is.</param>
    /// <param name="count">How much of it; 0 to ask whether any is left.</param>
    /// <returns>Or the problem of one that is spent; nothing is taken then.</returns>
    public Problem? Spend(string sender, int count)
    {
        using var lease = _left.AttemptAcquire(sender, count);
        return lease.IsAcquired ? null : RateLimits.Refused(lease, advice);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _left.Dispose();
        GC.SuppressFinalize(this);
    }
}

/// <summary>How many identifications one sender may have stored: each takes room for as long as the operator keeps them.</summary>
/// <param name="perHour">See <see cref="RateLimitSettings.StoredPerHour"/>.</param>
public sealed class StoringAllowances(int perHour)
    : SenderAllowances(perHour, TimeSpan.FromHours(1), "or send store=false: so many answers are not kept for one sender.");

/// <summary>How many items of batches one sender may have worked on: the work of a batch is that of its items.</summary>
/// <param name="itemsPerMinute">See <see cref="RateLimitSettings.BatchItemsPerMinute"/>.</param>
public sealed class BatchAllowances(int itemsPerMinute)
    : SenderAllowances(itemsPerMinute, TimeSpan.FromMinutes(1), "then go on more slowly; batches count by their items.");

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

    /// <summary>
    /// Items in batches of one sender, beside each batch counting as one request. Units: per minute. Bounds: 0, or at least
    /// the items of the largest batch.
    /// </summary>
    public int BatchItemsPerMinute { get; init; } = 24_000;

    /// <summary>
    /// Requests with a body that one sender has under way at once: a key or person, or an address. A whole class may share an
    /// address, so some hundreds more wait their turn.
    /// </summary>
    public int RequestsAtOnce { get; init; } = 100;

    /// <summary>
    /// Identifications stored for one sender, batches' too. Units: per hour. Each takes 2 to 8 KB. Bounds: 0, or at least the
    /// items of the largest batch.
    /// </summary>
    public int StoredPerHour { get; init; } = 5000;

    /// <summary>Reads and checks the settings.</summary>
    /// <param name="configuration">The host's settings.</param>
    /// <exception cref="InvalidOperationException">A limit is out of bounds.</exception>
    public static RateLimitSettings Read(IConfiguration configuration)
    {
        var settings = configuration.GetSection(Section).Get<RateLimitSettings>() ?? new RateLimitSettings();
        if (int.Min(int.Min(settings.RequestsPerMinute, settings.AnonymousRequestsPerMinute), settings.RequestsAtOnce) < 0)
        {
            throw new InvalidOperationException(
                $"A limit under {Section} is negative; 0 (no limit) or more requests are allowed.");
        }

        foreach (var (name, most) in new[] { (nameof(BatchItemsPerMinute), settings.BatchItemsPerMinute), (nameof(StoredPerHour), settings.StoredPerHour) })
        {
            if (most is not (0 or >= BatchRequest.MostItems))
            {
                throw new InvalidOperationException(
                    $"{Section}:{name} is {most}; 0 (no limit) or at least {BatchRequest.MostItems}, the items of the largest batch, are allowed.");
            }
        }

        return settings;
    }
}
