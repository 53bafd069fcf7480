using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using Derivid.Api.Http;
using Derivid.Api.Operating;
using Derivid.Contracts;
using Derivid.Store;
using Derivid.Store.Identifications;
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
    private const string AddressPrefix = "address:";

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
        services.AddSingleton<SenderTurns>();
        services.AddSingleton(_ => PartitionedRateLimiter.Create<HttpContext, string>(context =>
            Caller.Of(context) is { } caller ? Limited(caller.Actor, settings.RequestsPerMinute, TimeSpan.FromMinutes(1))
            : Limited(Share(context) + AddressOf(context), settings.AnonymousRequestsPerMinute, TimeSpan.FromMinutes(1))));
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
            if (!NeedsPlace(context))
            {
                await next(context);
                return;
            }

            using var place = await places.TakeAsync(PlaceOf(context), MayBeLarge(context.Request), context.RequestAborted);
            if (place.Refusal is { } refusal)
            {
                await Refused(refusal, $"and have no more than {places.Most} requests under way at once.").ExecuteAsync(context);
                return;
            }

            if (place.HasWaited)
            {
                Arrival.Of(context).Waited();
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

    // What the page asks for is part of a view that has its place.
    private static bool NeedsPlace(HttpContext context) => IsLimited(context) && context.Features.Get<TrustedProxies.PageCall>() is null;

    // One that doesn't say how long it is may be.
    private static bool MayBeLarge(HttpRequest request) =>
        request.HttpContext.Features.Get<IHttpRequestBodyDetectionFeature>()?.CanHaveBody != false
        && request.ContentLength is null or > RequestLimits.SingleBytes;

    // Keys met for the first time, the page where people sign in, and everything else have a share each: whoever spends the last
    // keeps nobody of their address from coming in.
    private static string Share(HttpContext context) =>
        AccessHandler.KeyOf(context.Request) is not null ? "key " : IsOfApi(context) ? "" : "page ";

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

    /// <summary>Whether a sender is an address, having sent no key.</summary>
    /// <param name="sender">See <see cref="SenderOf"/>.</param>
    internal static bool IsAddress(string sender) => sender.StartsWith(AddressPrefix, StringComparison.Ordinal);

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

    // So many at once; others wait, and go on in the order in which they came.
    internal static ConcurrencyLimiterOptions InOrder(int most, int waiting) => new()
    {
        PermitLimit = most,
        QueueLimit = waiting,
        QueueProcessingOrder = QueueProcessingOrder.OldestFirst,
    };

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
            ? AddressPrefix + Convert.ToHexString(address.GetAddressBytes()[..8])
            : AddressPrefix + address;
    }

    // Says of a request that its address was charged for it.
    private sealed record Counted;
}

/// <summary>How many requests one sender has under way at once: bodies and readers that never end hold memory and connections.</summary>
/// <param name="most">See <see cref="RateLimitSettings.RequestsAtOnce"/>.</param>
public sealed class SenderPlaces(int most) : IDisposable
{
    /// <summary>Requests of one sender that wait for a place, nothing of their bodies read. Chosen: a class behind one address at once.</summary>
    private const int MostWaiting = 400;

    /// <summary>Large bodies of one sender that are read at once: each is held several times over while it is understood. Chosen.</summary>
    private const int LargeAtOnce = 4;

    private readonly PartitionedRateLimiter<string> _places = Limited(most, most);
    private readonly PartitionedRateLimiter<string> _large = Limited(most, LargeAtOnce);
    private readonly WaitingLine _line = new();

    /// <summary>How many. 0: as many as come.</summary>
    public int Most { get; } = most;

    /// <summary>How many requests of all senders wait for a place.</summary>
    public int Waiting => _line.Count;

    /// <summary>Waits for a place for one request.</summary>
    /// <param name="sender">Who sends it.</param>
    /// <param name="mayBeLarge">Whether its body may be large.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The place, given back when it is disposed of; or a refusal, when too many wait.</returns>
    public async Task<SenderPlace> TakeAsync(string sender, bool mayBeLarge, CancellationToken cancellationToken)
    {
        // The large one first: whoever waits for it holds no place of the others.
        var (large, hasWaited) = mayBeLarge ? await TakeAsync(_large, sender, cancellationToken) : default((RateLimitLease?, bool));
        if (large is { IsAcquired: false })
        {
            return new SenderPlace(large, null, hasWaited);
        }

        try
        {
            var (place, hasWaitedAgain) = await TakeAsync(_places, sender, cancellationToken);
            return new SenderPlace(place, large, hasWaited || hasWaitedAgain);
        }
        catch
        {
            large?.Dispose();
            throw;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _places.Dispose();
        _large.Dispose();
    }

    private async Task<(RateLimitLease Lease, bool HasWaited)> TakeAsync(
        PartitionedRateLimiter<string> limiter, string sender, CancellationToken cancellationToken)
    {
        var lease = limiter.AttemptAcquire(sender);
        if (lease.IsAcquired)
        {
            return (lease, false);
        }

        lease.Dispose();
        return (await _line.WaitAsync(limiter.AcquireAsync(sender, 1, cancellationToken)), true);
    }

    private static PartitionedRateLimiter<string> Limited(int set, int most) => PartitionedRateLimiter.Create<string, string>(sender => set == 0
        ? RateLimitPartition.GetNoLimiter(sender)
        : RateLimitPartition.GetConcurrencyLimiter(sender, _ => RateLimits.InOrder(most, MostWaiting)));
}

/// <summary>A place taken, or not.</summary>
/// <param name="place">The request's.</param>
/// <param name="large">Its large body's. Missing: null, none was asked for.</param>
/// <param name="hasWaited">Whether others of the same sender kept it waiting.</param>
public sealed class SenderPlace(RateLimitLease place, RateLimitLease? large, bool hasWaited) : IDisposable
{
    /// <summary>What was got in place of it. Missing: null, it was taken.</summary>
    public RateLimitLease? Refusal { get; } = !place.IsAcquired ? place : large is { IsAcquired: false } ? large : null;

    /// <summary>Whether others of the same sender kept it waiting.</summary>
    public bool HasWaited { get; } = hasWaited;

    /// <inheritdoc/>
    public void Dispose()
    {
        place.Dispose();
        large?.Dispose();
    }
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

/// <summary>
/// How much one sender may have stored: identifications take room for as long as the operator keeps them, and what every write leaves in
/// the audit log is kept for good.
/// </summary>
/// <param name="perHour">See <see cref="RateLimitSettings.StoredPerHour"/>.</param>
public sealed class StoringAllowances(int perHour)
    : SenderAllowances(perHour, TimeSpan.FromHours(1), "or send store=false where that is possible: so much is not kept for one sender.")
{
    /// <summary>What counts as one. Units: bytes. Chosen: an everyday answer, compressed.</summary>
    private const int BytesOfOne = 8 * 1024;

    /// <summary>How much an identification counts for.</summary>
    /// <param name="stored">The identification.</param>
    public static int CostOf(StoredIdentification stored)
    {
        ArgumentNullException.ThrowIfNull(stored);
        return 1 + ((stored.ObservationJson.Length + (stored.ResultBrotli?.Length ?? 0)) / BytesOfOne);
    }
}

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
    /// Requests that one sender has under way at once: a key or person, or an address. A whole class may share an
    /// address, so some hundreds more wait their turn. Of bodies over 64 KB, and such as don't say how long they are, 4.
    /// </summary>
    public int RequestsAtOnce { get; init; } = 100;

    /// <summary>
    /// What is stored for one sender: each identification, batches' too, counts once and once more every 8 KB it takes (as a rule
    /// 2 to 8), and each other write once. Units: per hour. Bounds: 0, or at least the items of the largest batch.
    /// </summary>
    public int StoredPerHour { get; init; } = 5000;

    /// <summary>Reads and checks the settings.</summary>
    /// <param name="configuration">The host's settings.</param>
    /// <exception cref="SettingException">A limit is out of bounds.</exception>
    public static RateLimitSettings Read(IConfiguration configuration)
    {
        var settings = configuration.GetSection(Section).Get<RateLimitSettings>() ?? new RateLimitSettings();
        if (int.Min(int.Min(settings.RequestsPerMinute, settings.AnonymousRequestsPerMinute), settings.RequestsAtOnce) < 0)
        {
            throw new SettingException(
                $"A limit under {Section} is negative; 0 (no limit) or more requests are allowed.");
        }

        foreach (var (name, most) in new[] { (nameof(BatchItemsPerMinute), settings.BatchItemsPerMinute), (nameof(StoredPerHour), settings.StoredPerHour) })
        {
            if (most is not (0 or >= BatchRequest.MostItems))
            {
                throw new SettingException(
                    $"{Section}:{name} is {most}; 0 (no limit) or at least {BatchRequest.MostItems}, the items of the largest batch, are allowed.");
            }
        }

        return settings;
    }
}
