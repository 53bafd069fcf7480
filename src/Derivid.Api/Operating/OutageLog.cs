using Derivid.Store.Databases;

namespace Derivid.Api.Operating;

/// <summary>Tells of a database that can't be used in a line a minute, however many had to be told to wait.</summary>
/// <remarks>The first failure is told at once. Thread safety: safe.</remarks>
/// <param name="engine">The database, to say where it is.</param>
/// <param name="time">The clock.</param>
/// <param name="log">Takes the lines.</param>
public sealed partial class OutageLog(DatabaseEngine engine, TimeProvider time, ILogger<OutageLog> log)
{
    private static readonly TimeSpan Pause = TimeSpan.FromMinutes(1);

    private readonly Lock _gate = new();
    private long _told;
    private long _began;
    private long _failed;
    private int _count;
    private long _failures;
    private bool _isOut;

    /// <summary>Whether it could not be used when that was last tried.</summary>
    public bool IsOut => Volatile.Read(ref _isOut);

    /// <summary>How often something could not be done for want of it, since the process began.</summary>
    public long Failures => Interlocked.Read(ref _failures);

    /// <summary>Takes down that something could not be done for want of the database.</summary>
    /// <param name="reason">What its provider says.</param>
    public void Note(string reason)
    {
        Interlocked.Increment(ref _failures);
        int count;
        lock (_gate)
        {
            _count++;
            _failed = time.GetTimestamp();
            if (_isOut && time.GetElapsedTime(_told) < Pause)
            {
                return;
            }

            _began = _isOut ? _began : time.GetTimestamp();
            (_isOut, _told, count, _count) = (true, time.GetTimestamp(), _count, 0);
        }

        Away(log, engine.Place, reason, count);
    }

    /// <summary>Takes down that the database was used.</summary>
    /// <param name="asked">When it was asked to do so, by the clock's timestamp: what failed since then counts for more.</param>
    public void NoteAnswer(long asked)
    {
        // Asked on every look of the watch, and hardly ever true.
        if (!IsOut)
        {
            return;
        }

        TimeSpan lasted;
        int count;
        lock (_gate)
        {
            if (!_isOut || _failed > asked)
            {
                return;
            }

            lasted = time.GetElapsedTime(_began);
            (count, _count, _isOut) = (_count, 0, false);
        }

        Back(log, lasted.TotalSeconds, count);
    }

    [LoggerMessage(LogLevel.Warning, "The database, {Place}, can't be used: {Reason} (times since this was last said: {Count})")]
    private static partial void Away(ILogger log, string place, string reason, int count);

    [LoggerMessage(LogLevel.Information, "The database is used again, after {Seconds:0} s (failures since they were last told: {Count}).")]
    private static partial void Back(ILogger log, double seconds, int count);
}
