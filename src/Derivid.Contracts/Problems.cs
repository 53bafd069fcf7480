namespace Derivid.Contracts;

/// <summary>A refusal or failure on the wire, <c>application/problem+json</c> (RFC 9457).</summary>
public sealed record ProblemBody
{
    /// <summary>Stable name of the kind of problem.</summary>
    public required string Type { get; init; }

    /// <summary>The type of a kind of problem.</summary>
    /// <param name="slug">Its own name, such as <see cref="ProblemSlugs.IdempotencyKeyReused"/>.</param>
    public static string TypeOf(string slug) => "urn:derivid:problem:" + slug;

    /// <summary>The same in words, fixed for the type.</summary>
    public required string Title { get; init; }

    /// <summary>The HTTP status code.</summary>
    public required int Status { get; init; }

    /// <summary>What happened this time, and what to do.</summary>
    public required string Detail { get; init; }

    /// <summary>The address that was asked for. Missing: within a batch, where the whole has one address.</summary>
    public string? Instance { get; init; }

    /// <summary>
    /// What is wrong, by place: a JSON Pointer (RFC 6901) into the body, "line 12, bench" in a CSV file, or "?" and the name of a
    /// query parameter.
    /// Missing: the problem has no particular place.
    /// </summary>
    public IReadOnlyDictionary<string, IReadOnlyList<string>>? Errors { get; init; }

    /// <summary>Names the request in the service's log. Missing: within a batch.</summary>
    public string? TraceId { get; init; }

    /// <summary>Version of the reference table that was used. Missing: none was.</summary>
    public int? TableVersion { get; init; }
}

/// <summary>Names of the problems by which a client decides what to do; the others are for people.</summary>
public static class ProblemSlugs
{
    /// <summary>One idempotency key for two requests: the first counted, this one did not.</summary>
    public const string IdempotencyKeyReused = "idempotency-key-reused";

    /// <summary>A request for a key, sent again: the key was made, and its secret can't be told again.</summary>
    public const string KeyAlreadyMade = "key-already-made";

    /// <summary>A roster from which students with unknowns would fall out, or become somebody else; the errors say who.</summary>
    public const string RosterDropsStudents = "roster-drops-students";
}
