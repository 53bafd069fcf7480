namespace Derivid.Api.Operating;

/// <summary>Lets something be said at once, and then once a minute with how often it happened.</summary>
/// <remarks>Thread safety: safe.</remarks>
/// <param name="time">The clock.</param>
public sealed class EachMinute(TimeProvider time)
{
    private static readonly TimeSpan Pause = TimeSpan.FromMinutes(1);

    private readonly Lock _gate = new();
    private long? _told;
    private int _count;

    /// <summary>Takes down that it happened.</summary>
    /// <returns>How often it has since it was last said, this time too. Missing: null, it need not be said now.</returns>
    public int? Due()
    {
        lock (_gate)
        {
            _count++;
            if (_told is { } told && time.GetElapsedTime(told) < Pause)
            {
                return null;
            }

            var count = _count;
            (_told, _count) = (time.GetTimestamp(), 0);
            return count;
        }
    }
}
