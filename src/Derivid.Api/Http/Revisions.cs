using System.Globalization;
using Microsoft.Net.Http.Headers;

namespace Derivid.Api.Http;

/// <summary>Conditional writes (RFC 9110): what changes carries its revision as ETag, and a change names the one it is meant for.</summary>
public static class Revisions
{
    /// <summary>Tags the answer with a revision.</summary>
    /// <param name="context">The request.</param>
    /// <param name="revision">The revision.</param>
    public static void Tag(HttpContext context, int revision)
    {
        ArgumentNullException.ThrowIfNull(context);
        var headers = context.Response.GetTypedHeaders();
        headers.ETag = TagOf(revision);
        headers.CacheControl = new CacheControlHeaderValue { NoStore = true };
    }

    /// <summary>The revision a change is meant for.</summary>
    /// <param name="request">The request, with an If-Match header.</param>
    /// <returns>Or the problem of one that names none.</returns>
    public static Outcome<Expected> ExpectedBy(HttpRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        var tags = request.GetTypedHeaders().IfMatch;
        if (tags.Count == 0)
        {
            return new Problem(ProblemTypes.RevisionRequired, ProblemTypes.RevisionRequired.Example);
        }

        return tags.Count == 1 && !tags[0].IsWeak
            && int.TryParse(
                tags[0].Tag.AsSpan().Trim('"'), NumberStyles.None, CultureInfo.InvariantCulture, out var revision)
            ? new Expected(revision)
            : new Problem(ProblemTypes.StaleRevision, "If-Match names no revision of this; send the ETag of its last answer.");
    }

    private static EntityTagHeaderValue TagOf(int revision) =>
        new(string.Create(CultureInfo.InvariantCulture, $"\"{revision}\""));

    /// <summary>The revision a change is meant for.</summary>
    /// <param name="Revision">Its number.</param>
    public sealed record Expected(int Revision);
}
