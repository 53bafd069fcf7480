using System.Net;
using Derivid.Api.Http;
using Derivid.Contracts;

namespace Derivid.Api.Access;

/// <summary>A key sent where it would be kept and read by others: in an address, in what is said with a write, in a text.</summary>
/// <remarks>The audit log can't be corrected, so such a request is refused before anything of it is written.</remarks>
internal sealed class StrayKey : IEndpointFilter
{
    /// <summary>What its sender is told. The key itself isn't repeated.</summary>
    public const string Told =
        "Holds a key, which others could read here; nothing was kept. Take the key as known: revoke it and have another made. "
        + "A key goes into the header Authorization and nowhere else.";

    private static readonly string[] Headers = [Caller.ReasonHeader, IdempotencyHeader.Header];

    /// <inheritdoc/>
    public async ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(next);
        return PlaceIn(context.HttpContext.Request) is { } place ? FieldErrors.One(place, Told) : await next(context);
    }

    // Missing: null, there is none outside of the body.
    private static string? PlaceIn(HttpRequest request) =>
        request.RouteValues.FirstOrDefault(part => IsIn(part.Value as string)).Key
        ?? (IsIn(request.QueryString.Value) ? "?" : null)
        ?? Array.Find(Headers, name => IsIn(request.Headers[name].ToString()));

    // However it was escaped on its way.
    private static bool IsIn(string? text) => text is not null && (KeyForm.IsIn(text) || KeyForm.IsIn(WebUtility.UrlDecode(text)));
}
