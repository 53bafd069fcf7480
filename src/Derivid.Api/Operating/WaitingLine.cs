using System.Threading.RateLimiting;

namespace Derivid.Api.Operating;

/// <summary>How many wait for something; who gets it at once is not counted, and pays nothing for it.</summary>
/// <remarks>Thread safety: safe.</remarks>
public sealed class WaitingLine
{
    private int _count;

    /// <summary>How many wait now.</summary>
    public int Count => Volatile.Read(ref _count);

    /// <summary>Waits in line.</summary>
    /// <param name="asked">What is waited for.</param>
    /// <returns>The same.</returns>
    public ValueTask<RateLimitLease> WaitAsync(ValueTask<RateLimitLease> asked) => asked.IsCompleted ? asked : CountedAsync(asked);

    private async ValueTask<RateLimitLease> CountedAsync(ValueTask<RateLimitLease> asked)
    {
        Interlocked.Increment(ref _count);
        try
        {
            return await asked;
        }
        finally
        {
            Interlocked.Decrement(ref _count);
        }
    }
}
