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

    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(30);

    private readonly ResiliencePipeline<HttpResponseMessage> _pipeline;

    public PatientHandler(HttpMessageHandler inner, TimeProvider time, Action<Waiting>? whenWaiting)
        : base(inner) =>
        _pipeline = new ResiliencePipelineBuilder<HttpResponseMessage> { TimeProvider = time }
            .AddRetry(new RetryStrategyOptions<HttpResponseMessage>
            {
                MaxRetryAttempts = MostRetries,
                ShouldHandle = attempt => ValueTask.FromResult(WaitOf(attempt.Outcome.Result) <= LongestWait),
                DelayGenerator = attempt => ValueTask.FromResult(WaitOf(attempt.Outcome.Result)),
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

    private static TimeSpan? WaitOf(HttpResponseMessage? response) =>
        response is { StatusCode: HttpStatusCode.TooManyRequests or HttpStatusCode.ServiceUnavailable }
            ? response.Headers.RetryAfter?.Delta
            : null;
}

/// <summary>That a client waits, as the service asked it to, before it sends a request again.</summary>
/// <param name="Status">What it was answered: 429 or 503.</param>
/// <param name="For">How long it waits.</param>
/// <param name="Retry">Which time it will be sent again, from 1.</param>
/// <param name="MostRetries">How often at most.</param>
public sealed record Waiting(HttpStatusCode Status, TimeSpan For, int Retry, int MostRetries);
