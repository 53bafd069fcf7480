using System.Net.Http.Headers;

namespace Derivid.Client.Http;

/// <summary>Headers of writes.</summary>
internal static class RequestHeaders
{
    private const string RequestKey = "Idempotency-Key";

    /// <summary>Marks a request as one, so that the service does once what is sent twice.</summary>
    public static HttpRequestMessage Marked(this HttpRequestMessage request, string? key)
    {
        request.Headers.Add(RequestKey, key ?? Guid.NewGuid().ToString());
        return request;
    }

    /// <summary>Names the revision that a change is meant for.</summary>
    public static HttpRequestMessage Meant(this HttpRequestMessage request, string tag)
    {
        request.Headers.IfMatch.Add(EntityTagHeaderValue.Parse(tag));
        return request;
    }
}
