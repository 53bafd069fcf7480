using Derivid.Api.Documentation;
using Derivid.Api.Problems;

namespace Derivid.Api.Writing;

/// <summary>What a write says of itself.</summary>
public static class WriteDescriptions
{
    /// <summary>States that sending the request again under one key changes nothing.</summary>
    /// <param name="endpoint">The endpoint.</param>
    public static RouteHandlerBuilder TakesRequestKey(this RouteHandlerBuilder endpoint) =>
        endpoint.WithMetadata(new MarkedByKey()).ProducesProblems(ProblemTypes.RequestKeyReused);

    /// <summary>States that a change must name the revision it is meant for.</summary>
    /// <param name="endpoint">The endpoint.</param>
    public static RouteHandlerBuilder TakesRevision(this RouteHandlerBuilder endpoint) =>
        endpoint.WithMetadata(new NeedsRevision())
            .ProducesProblems(ProblemTypes.RevisionRequired, ProblemTypes.StaleRevision);
}
