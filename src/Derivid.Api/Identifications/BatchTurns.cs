using System.Threading.RateLimiting;
using Derivid.Api.Access;
using Derivid.Api.Operating;

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

    private readonly WaitingLine _line = new();
    private readonly WaitingLine _itemLine = new();
    private int _active;

    private readonly ConcurrencyLimiter _turns = new(RateLimits.InOrder(int.Max(1, Environment.ProcessorCount / 2), int.MaxValue));

    /// <summary>How many batches are read or worked on.</summary>
    public int Active => Volatile.Read(ref _active);

    /// <summary>How many batches wait until they may begin.</summary>
    public int Waiting => _line.Count;

    /// <summary>How many batches under way wait for the turn of their next item.</summary>
    public int ItemsWaiting => _itemLine.Count;

    /// <summary>Waits until a sender's batch may begin, before anything of it is read.</summary>
    /// <param name="sender">Who sends it.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The place, given back when it is disposed of; or none, when too many wait.</returns>
    public async ValueTask<RateLimitLease> EnterAsync(string sender, CancellationToken cancellationToken)
    {
        var place = await _line.WaitAsync(_places.AcquireAsync(sender, 1, cancellationToken));
        return place.IsAcquired ? new Place(place, this) : place;
    }

    /// <summary>Waits until it is a batch's turn to have one item worked on.</summary>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The turn, over when it is disposed of.</returns>
    public ValueTask<RateLimitLease> TakeAsync(CancellationToken cancellationToken) =>
        _itemLine.WaitAsync(_turns.AcquireAsync(1, cancellationToken));

    /// <inheritdoc/>
    public void Dispose()
    {
        _places.Dispose();
        _turns.Dispose();
    }

    private static PartitionedRateLimiter<string> Limited(int most, int waiting) =>
        PartitionedRateLimiter.Create<string, string>(sender => RateLimitPartition.GetConcurrencyLimiter(sender, _ => RateLimits.InOrder(most, waiting)));

    // Counted for as long as it is held.
    private sealed class Place : RateLimitLease
    {
        private readonly RateLimitLease _lease;
        private BatchTurns? _turns;

        public Place(RateLimitLease lease, BatchTurns turns)
        {
            (_lease, _turns) = (lease, turns);
            Interlocked.Increment(ref turns._active);
        }

        public override bool IsAcquired => true;

        public override IEnumerable<string> MetadataNames => _lease.MetadataNames;

        public override bool TryGetMetadata(string metadataName, out object? metadata) => _lease.TryGetMetadata(metadataName, out metadata);

        protected override void Dispose(bool disposing)
        {
            if (disposing && Interlocked.Exchange(ref _turns, null) is { } turns)
            {
                Interlocked.Decrement(ref turns._active);
                _lease.Dispose();
            }

            base.Dispose(disposing);
        }
    }
}
