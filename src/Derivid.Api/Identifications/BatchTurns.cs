using System.Threading.RateLimiting;
using Derivid.Api.Access;

namespace Derivid.Api.Identifications;

/// <summary>Sees to it that batches are worked on beside everything else, and never instead of it.</summary>
/// <remarks>
/// One sender has one batch worked on at a time, and a few wait; half of the processors, and at least one, work on items of
/// batches, so that a single observation finds one free. A turn is an item: batches under way take turns in the order in
/// which they ask, and one whose sender reads slowly holds up none. All of it holds for one process. Thread safety: safe.
/// </remarks>
public sealed class BatchTurns : IDisposable
{
    /// <summary>Batches of one sender that are worked on or wait. Chosen.</summary>
    public const int MostOfSender = 8;

    /// <summary>Batches of all senders with a key that are read or worked on. Chosen: what they hold in memory stays bounded.</summary>
    public const int Most = 32;

    /// <summary>The same of all senders without one, who have many addresses easily. Chosen.</summary>
    public const int MostWithoutKey = 8;

    // The sender's own first: what waits for their turn holds no place of everybody's, or a few senders of slow bodies would have them all.
    private readonly PartitionedRateLimiter<string> _places = PartitionedRateLimiter.CreateChained(
        Limited(1, waiting: MostOfSender - 1),
        PartitionedRateLimiter.Create<string, bool>(sender => RateLimitPartition.GetConcurrencyLimiter(
            RateLimits.IsAddress(sender), isAddress => RateLimits.InOrder(isAddress ? MostWithoutKey : Most, 0))));

    private readonly ConcurrencyLimiter _turns = new(RateLimits.InOrder(int.Max(1, Environment.ProcessorCount / 2), int.MaxValue));

    /// <summary>Waits until a sender's batch may begin, before anything of it is read.</summary>
    /// <param name="sender">Who sends it.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The place, given back when it is disposed of; or none, when too many wait.</returns>
    public ValueTask<RateLimitLease> EnterAsync(string sender, CancellationToken cancellationToken) =>
        _places.AcquireAsync(sender, 1, cancellationToken);

    /// <summary>Waits until it is a batch's turn to have one item worked on.</summary>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The turn, over when it is disposed of.</returns>
    public ValueTask<RateLimitLease> TakeAsync(CancellationToken cancellationToken) => _turns.AcquireAsync(1, cancellationToken);

    /// <inheritdoc/>
    public void Dispose()
    {
        _places.Dispose();
        _turns.Dispose();
    }

    private static PartitionedRateLimiter<string> Limited(int most, int waiting) =>
        PartitionedRateLimiter.Create<string, string>(sender => RateLimitPartition.GetConcurrencyLimiter(sender, _ => RateLimits.InOrder(most, waiting)));
}
