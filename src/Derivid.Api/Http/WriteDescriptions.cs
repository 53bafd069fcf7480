
namespace Derivid.Api.Http;

/// <summary>What a write says of itself.</summary>
public static class WriteDescriptions
{
    /// <summary>States that sending the request again under one key changes nothing.</summary>
    /// <param name="endpoint">The endpoint.</param>
    public static RouteHandlerBuilder WithIdempotencyKey(this RouteHandlerBuilder endpoint) =>
        endpoint.WithMetadata(new TakesIdempotencyKey()).ProducesProblems(ProblemTypes.IdempotencyKeyReused);

    /// <summary>States that a change must name the revision it is meant for.</summary>
    /// <param name="endpoint">The endpoint.</param>
    public static RouteHandlerBuilder TakesRevision(this RouteHandlerBuilder endpoint) =>
        endpoint.WithMetadata(new NeedsRevision())
            .ProducesProblems(ProblemTypes.RevisionRequired, ProblemTypes.StaleRevision);
}
