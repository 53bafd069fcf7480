using System.Net;
using Polly;
using Polly.Retry;

namespace Derivid.Client;

/// <summary>
/// Tries again when the service is too busy (429) or away for a moment (503) and says for how long: at most three times,
/// and no longer than half a minute each time.
/// </summary>
/// <remarks>Either status says that nothing was done. Bodies can be read more than once; see to it where one is made.</remarks>
internal sealed class PatientHandler : DelegatingHandler
{
    private const int MostRetries = 3;

    private static readonly TimeSpan ShortestWait = TimeSpan.FromSeconds(1);

    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(30);

    private readonly ResiliencePipeline<HttpResponseMessage> _pipeline;

    public PatientHandler(HttpMessageHandler inner, TimeProvider time, Action<Waiting>? whenWaiting)
        : base(inner) =>
        _pipeline = new ResiliencePipelineBuilder<HttpResponseMessage> { TimeProvider = time }
            .AddRetry(new RetryStrategyOptions<HttpResponseMessage>
            {
                MaxRetryAttempts = MostRetries,
                ShouldHandle = attempt => ValueTask.FromResult(WaitOf(attempt.Outcome.Result, time) <= LongestWait),
                DelayGenerator = attempt => ValueTask.FromResult(WaitOf(attempt.Outcome.Result, time)),
                OnRetry = attempt =>
                {
                    whenWaiting?.Invoke(new Waiting(
                        attempt.Outcome.Result!.StatusCode, attempt.RetryDelay, attempt.AttemptNumber + 1, MostRetries));
                    return ValueTask.CompletedTask;
                },
            })
            .Build();

    protected override async Task<HttpResponseMessage> SendAsync(
        HttpRequestMessage request, CancellationToken cancellationToken) =>
        await _pipeline.ExecuteAsync(
            async (sent, token) => await base.SendAsync(sent, token), request, cancellationToken);

    /// <summary>How long an answer asks to wait: in seconds, or until a date (RFC 9110, 10.2.3).</summary>
    /// <returns>Missing: null, it doesn't ask.</returns>
    internal static TimeSpan? AskedOf(HttpResponseMessage response, TimeProvider time) =>
        response.Headers.RetryAfter is { } asked
            ? asked.Delta ?? TimeSpan.FromTicks(Math.Max(0, (asked.Date!.Value - time.GetUtcNow()).Ticks))
            : null;

    // Whoever is asked not to wait at all waits a little, so as not to hammer.
    private static TimeSpan? WaitOf(HttpResponseMessage? response, TimeProvider time) =>
        response is { StatusCode: HttpStatusCode.TooManyRequests or HttpStatusCode.ServiceUnavailable } && AskedOf(response, time) is { } asked
            ? asked > ShortestWait ? asked : ShortestWait
            : null;
}

/// <summary>That a client waits, as the service asked it to, before it sends a request again.</summary>
/// <param name="Status">What it was answered: 429 or 503.</param>
/// <param name="For">How long it waits.</param>
/// <param name="Retry">Which time it will be sent again, from 1.</param>
/// <param name="MostRetries">How often at most.</param>
public sealed record Waiting(HttpStatusCode Status, TimeSpan For, int Retry, int MostRetries);
