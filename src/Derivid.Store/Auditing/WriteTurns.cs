namespace Derivid.Store.Auditing;

/// <summary>Has one sender's writes wait for each other before they take a connection, in the order in which they came.</summary>
/// <remarks>
/// Writes of a sender mostly want the same rows, so that those beyond the first would only wait in the database, each with a
/// connection that somebody else goes without. What the service writes by itself waits for no one. Thread safety: safe.
/// </remarks>
internal sealed class WriteTurns
{
    /// <summary>Writes of one sender under way at once in this process. Chosen: one more than has to be, so that one held up is not all.</summary>
    public const int AtOnce = 2;

    private readonly Lock _gate = new();
    private readonly Dictionary<string, Line> _lines = new(StringComparer.Ordinal);

    /// <summary>How many of all senders wait.</summary>
    public int Waiting
    {
        get
        {
            lock (_gate)
            {
                return _lines.Values.Sum(line => int.Max(0, line.Count - AtOnce));
            }
        }
    }

    /// <summary>Waits for the turn.</summary>
    /// <param name="origin">Who writes.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Ends the turn. Missing: null, there is nothing to end.</returns>
    public async Task<IDisposable?> TakeAsync(AuditOrigin origin, CancellationToken cancellation)
    {
        if (origin.Actor == AuditOrigin.Service.Actor)
        {
            return null;
        }

        var line = Join(origin.Actor);
        try
        {
            await line.Turns.WaitAsync(cancellation);
            return new Turn(this, line);
        }
        catch
        {
            Leave(line);
            throw;
        }
    }

    private Line Join(string actor)
    {
        lock (_gate)
        {
            if (!_lines.TryGetValue(actor, out var line))
            {
                _lines.Add(actor, line = new Line(actor));
            }

            line.Count++;
            return line;
        }
    }

    private void Leave(Line line)
    {
        lock (_gate)
        {
            if (--line.Count == 0)
            {
                _lines.Remove(line.Actor);
            }
        }
    }

    // A semaphore whose wait handle nobody asks for holds nothing to dispose of, and lets in who came first.
    private sealed class Line(string actor)
    {
        public string Actor => actor;

        public SemaphoreSlim Turns { get; } = new(AtOnce);

        /// <summary>Those whose turn it is, and those who wait.</summary>
        public int Count { get; set; }
    }

    private sealed class Turn(WriteTurns turns, Line line) : IDisposable
    {
        public void Dispose()
        {
            line.Turns.Release();
            turns.Leave(line);
        }
    }
}
