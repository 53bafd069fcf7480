using System.Net;
using Derivid.Contracts;

namespace Derivid.Client;

/// <summary>The service answered, and the answer is a problem.</summary>
/// <remarks>A service that can't be reached is an <see cref="HttpRequestException"/>, as ever.</remarks>
/// <param name="problem">The problem.</param>
/// <param name="retryAfter">When to try again, as the service says. Missing: null, it doesn't say.</param>
public sealed class DerividException(ProblemBody problem, TimeSpan? retryAfter)
    : Exception(problem?.Detail)
{
    /// <summary>The problem in full.</summary>
    public ProblemBody Problem { get; } = problem ?? throw new ArgumentNullException(nameof(problem));

    /// <summary>When to try again, as the service says. Missing: null, it doesn't say.</summary>
    public TimeSpan? RetryAfter { get; } = retryAfter;

    /// <summary>The HTTP status code.</summary>
    public HttpStatusCode Status => (HttpStatusCode)Problem.Status;

    /// <summary>Whether the request itself is refused, so that the same again would be; not that a key is missing or it came too soon.</summary>
    public bool IsRefusal => Problem.Status is >= 400 and < 500 and not (401 or 429);

    /// <summary>Stable name of the kind of problem, such as "urn:derivid:problem:not-found".</summary>
    public string Type => Problem.Type;

    /// <summary>What happened, and what to do.</summary>
    public string Detail => Problem.Detail;

    /// <summary>What is wrong, by place. Shape: JSON Pointer or "?" and a query parameter; empty when it has no place.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<string>> Errors =>
        Problem.Errors ?? new Dictionary<string, IReadOnlyList<string>>();
}
