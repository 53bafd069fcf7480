using Derivid.Api.Http;

namespace Derivid.Api.Operating;

/// <summary>Counts requests answered with a problem, and tells in a line a minute that some are turned away for want of room.</summary>
/// <remarks>The first is told at once. Thread safety: safe.</remarks>
/// <param name="meter">Counts them.</param>
/// <param name="time">The clock.</param>
/// <param name="log">Takes the lines.</param>
public sealed partial class Refusals(ServiceMeter meter, TimeProvider time, ILogger<Refusals> log)
{
    /// <summary>The cause of a request whose body stopped, or came too slowly.</summary>
    public const string SlowBody = "slow-body";

    // What a sender is told and an operator should hear of too: a queue is full, or somebody asks without end.
    private readonly Dictionary<ProblemType, EachMinute> _told = new() { [ProblemTypes.Busy] = new EachMinute(time), [ProblemTypes.TooManyRequests] = new EachMinute(time) };

    /// <summary>Takes down that a request was answered with a problem.</summary>
    /// <param name="problem">The problem.</param>
    public void Note(Problem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        meter.Refused(problem.Cause ?? problem.Type.Slug, problem.Type.Status);
        if (_told.TryGetValue(problem.Type, out var told) && told.Due() is { } count)
        {
            TurnedAway(log, problem.Type.Slug, problem.Type.Title, count);
        }
    }

    [LoggerMessage(LogLevel.Warning, "Requests are answered {Problem}: {Title} (times since this was last said: {Count})")]
    private static partial void TurnedAway(ILogger log, string problem, string title, int count);
}
