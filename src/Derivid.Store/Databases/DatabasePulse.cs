namespace Derivid.Store.Databases;

/// <summary>Whether the database answers at all: asked once for all who wait for it, and again until it does.</summary>
/// <remarks>
/// A server that stands still keeps its connections open and refuses nothing, so everybody would find out by waiting to the
/// end of a time limit of their own. Here whoever has waited too long asks; one question is under way at a time, on a
/// connection of its own, and none while work gets done, however slowly. Once the database is lost nobody waits any more,
/// until a question, one each second, is answered. Thread safety: safe.
/// </remarks>
/// <param name="engine">The database.</param>
/// <param name="time">The clock to wait by.</param>
internal sealed class DatabasePulse(DatabaseEngine engine, TimeProvider time) : IDisposable
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan Recently = TimeSpan.FromMilliseconds(500);

    private readonly CancellationTokenSource _ended = new();
    private readonly Lock _gate = new();
    private Task<bool>? _question;
    private volatile bool _isLost;
    private long _lastDone;

    /// <summary>Whether it did not answer when it was last asked.</summary>
    public bool IsLost => _isLost;

    /// <summary>How long ago it last did something. Missing: null, it has not yet.</summary>
    public TimeSpan? SinceDone => Volatile.Read(ref _lastDone) is not 0 and var done ? time.GetElapsedTime(done) : null;

    /// <summary>Takes down that it has done something.</summary>
    public void Note() => Volatile.Write(ref _lastDone, time.GetTimestamp());

    /// <summary>Asks it, unless that is known or under way.</summary>
    /// <returns>Whether it answers.</returns>
    public Task<bool> IsThereAsync()
    {
        lock (_gate)
        {
            return _question is { IsCompleted: false } ? _question : _question = AskAsync();
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _ended.Cancel();
        _ended.Dispose();
    }

    private async Task<bool> AskAsync()
    {
        var asked = time.GetTimestamp();
        if (!_isLost && !HasDone(asked) && !await engine.AnswersAsync(_ended.Token) && !HasDone(asked))
        {
            _isLost = true;
            _ = AskOnAsync(_ended.Token);
        }

        return !_isLost;
    }

    // Since shortly before an instant.
    private bool HasDone(long instant) => time.GetElapsedTime(Volatile.Read(ref _lastDone), instant) < Recently;

    private async Task AskOnAsync(CancellationToken cancellation)
    {
        while (!await HasAnsweredAsync(cancellation))
        {
            await Task.Delay(Pause, time, cancellation);
        }

        _isLost = false;
    }

    // Whatever becomes of one question, another follows, or the database would be lost for good.
    private async Task<bool> HasAnsweredAsync(CancellationToken cancellation)
    {
        try
        {
            return await engine.AnswersAsync(cancellation);
        }
        catch (OutOfMemoryException)
        {
            return false;
        }
    }
}
