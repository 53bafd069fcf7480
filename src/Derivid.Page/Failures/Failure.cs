using System.Globalization;
using Derivid.Client;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http;

namespace Derivid.Page.Failures;

/// <summary>Why a view can't be shown.</summary>
/// <param name="Status">The HTTP status code.</param>
/// <param name="Title">What happened, in a few words.</param>
/// <param name="Detail">What happened this time, and what to do.</param>
public sealed record Failure(int Status, string Title, string Detail)
{
    private static readonly HashSet<string> NeverKept = ["__RequestVerificationToken", "key"];

    /// <summary>Names the request in the service's log. Missing: null.</summary>
    public string? TraceId { get; init; }

    /// <summary>When to try again. Missing: null, nobody said.</summary>
    public TimeSpan? RetryAfter { get; init; }

    /// <summary>The fields of a form that was sent in vain, to be sent again. Shape: empty when there was none; files aren't kept.</summary>
    public IReadOnlyList<(string Name, string Value)> Kept { get; init; } = [];

    /// <summary>Whether the form had files, which can't be kept.</summary>
    public bool HadFiles { get; init; }

    /// <summary>The service refused, or can't just now.</summary>
    /// <param name="refusal">What it said.</param>
    public static Failure Of(DerividException refusal)
    {
        ArgumentNullException.ThrowIfNull(refusal);
        return new Failure(refusal.Problem.Status, refusal.Problem.Title, refusal.Detail)
        {
            TraceId = refusal.Problem.TraceId,
            RetryAfter = refusal.RetryAfter,
        };
    }

    /// <summary>The service didn't answer.</summary>
    public static Failure NoAnswer { get; } = new(
        StatusCodes.Status503ServiceUnavailable, "The service does not answer just now.", "Try again in a few seconds.")
    {
        RetryAfter = TimeSpan.FromSeconds(5),
    };

    /// <summary>There is no such view.</summary>
    public static Failure NotFound { get; } = new(
        StatusCodes.Status404NotFound, "There is nothing at this address.", "Perhaps it was mistyped. The bench and the table are above.");

    /// <summary>The session's role doesn't reach so far.</summary>
    public static Failure Forbidden { get; } = new(
        StatusCodes.Status403Forbidden, "Your role does not reach so far.", "Sign in with a key of the role this view needs.");

    /// <summary>A form came from another site, or its session has ended.</summary>
    public static Failure ForeignForm { get; } = new(
        StatusCodes.Status400BadRequest, "The form was not taken.",
        "It came from another site, or the page was open for so long that its session has ended. Nothing was done. If it was you, send it again.");

    /// <summary>Our own fault.</summary>
    /// <param name="traceId">Names the request in the log.</param>
    public static Failure Unexpected(string traceId) => new(
        StatusCodes.Status500InternalServerError, "Something went wrong here.", "It was not you. Nothing was lost that was stored before.")
    {
        TraceId = traceId,
    };

    /// <summary>The same, with what a form held.</summary>
    /// <param name="request">The request.</param>
    public Failure Keeping(HttpRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        var isOurs = request.HttpContext.Features.Get<IAntiforgeryValidationFeature>() is { IsValid: true };
        return HttpMethods.IsPost(request.Method) && isOurs && request.HasFormContentType
            ? this with
            {
                Kept = [.. request.Form.Where(field => !NeverKept.Contains(field.Key))
                    .SelectMany(field => field.Value.Select(value => (field.Key, value ?? "")))],
                HadFiles = request.Form.Files.Count > 0,
            }
            : this;
    }

    /// <summary>Seconds to wait, as a header has them.</summary>
    internal string? RetryAfterSeconds => RetryAfter is { } wait
        ? Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture)
        : null;
}
