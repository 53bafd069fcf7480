using System.Threading.RateLimiting;
using Derivid.Api.Operating;

namespace Derivid.Api.Access;

/// <summary>Sees to it that no one sender has all processors, or the memory for answers, to themselves.</summary>
/// <remarks>
/// Of one sender half of the processors, and at least one, do work that takes more than a moment: the rest of theirs waits, and
/// others' goes on beside it. Answers that are large are made and sent for one sender a few at a time, since a slow reader holds each
/// until it is read. All of it holds for one process. Thread safety: safe.
/// </remarks>
public sealed class SenderTurns : IDisposable
{
    /// <summary>Candidates beyond which an answer is large: some 6 KB each. Chosen.</summary>
    public const int ManyCandidates = 40;

    /// <summary>Large answers of one sender that are under way at once. Chosen.</summary>
    private const int LargeAtOnce = 4;

    private readonly PartitionedRateLimiter<string> _turns = Limited(int.Max(1, Environment.ProcessorCount / 2));
    private readonly PartitionedRateLimiter<string> _large = Limited(LargeAtOnce);
    private readonly WaitingLine _line = new();
    private readonly WaitingLine _largeLine = new();

    /// <summary>How many wait for a turn.</summary>
    public int Waiting => _line.Count;

    /// <summary>How many wait to have a large answer made.</summary>
    public int LargeWaiting => _largeLine.Count;

    /// <summary>Waits until it is a sender's turn to have something worked out.</summary>
    /// <param name="context">The request.</param>
    /// <returns>The turn, over when it is disposed of.</returns>
    public ValueTask<RateLimitLease> TakeAsync(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        return _line.WaitAsync(_turns.AcquireAsync(RateLimits.SenderOf(context), 1, context.RequestAborted));
    }

    /// <summary>Waits until a sender may have another large answer made; it is theirs until the request ends.</summary>
    /// <param name="context">The request.</param>
    public async Task HoldLargeAsync(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        context.Response.RegisterForDispose(await _largeLine.WaitAsync(_large.AcquireAsync(RateLimits.SenderOf(context), 1, context.RequestAborted)));
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _turns.Dispose();
        _large.Dispose();
    }

    // How many wait is bounded by the requests that a sender may have under way.
    private static PartitionedRateLimiter<string> Limited(int most) => PartitionedRateLimiter.Create<string, string>(
        sender => RateLimitPartition.GetConcurrencyLimiter(sender, _ => RateLimits.InOrder(most, int.MaxValue)));
}

/// <summary>Has an endpoint work in its sender's turn.</summary>
/// <param name="turns">The turns.</param>
public sealed class SenderTurnFilter(SenderTurns turns) : IEndpointFilter
{
    /// <inheritdoc/>
    public async ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(next);
        using (await turns.TakeAsync(context.HttpContext))
        {
            return await next(context);
        }
    }
}

/// <summary>States that an endpoint's answer takes more than a moment to work out.</summary>
public static class SenderTurnDescriptions
{
    /// <summary>Has it work in its sender's turn, one after the other of theirs.</summary>
    /// <typeparam name="TBuilder">Endpoint or group.</typeparam>
    /// <param name="builder">The endpoint or group.</param>
    public static TBuilder TakesTurns<TBuilder>(this TBuilder builder)
        where TBuilder : IEndpointConventionBuilder => builder.AddEndpointFilter<TBuilder, SenderTurnFilter>();
}
