using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Derivid.Api.Access;
using Derivid.Store.Auditing;
using Derivid.Store.Idempotency;
using Microsoft.Net.Http.Headers;

namespace Derivid.Api.Http;

/// <summary>What a write brings besides its address and body.</summary>
/// <param name="Origin">Who sends it, and why.</param>
/// <param name="Revision">The revision it is meant for; 0 where the endpoint asks for none.</param>
public record WriteRequest(AuditOrigin Origin, int Revision)
{
    /// <summary>Reads what a write brings in its headers, as the endpoint says of itself.</summary>
    /// <param name="context">A request let in by a policy that asks for a role.</param>
    public static Outcome<WriteRequest> Read(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        if (!Caller.OriginOf(context).Succeeded(out var origin, out var problem)
            || (problem = context.RequestServices.GetRequiredService<StoringAllowances>().Spend(origin.Actor, 1)) is not null)
        {
            return problem;
        }

        return context.GetEndpoint()?.Metadata.GetMetadata<NeedsRevision>() is null
            ? new WriteRequest(origin, 0)
            : Revisions.Read(context.Request, origin);
    }

    /// <summary>Reads a write with a JSON body.</summary>
    /// <typeparam name="T">The body's type, one of the wire context's.</typeparam>
    /// <param name="context">A request let in by a policy that asks for a role.</param>
    /// <param name="mostBytes">Largest body taken. Units: bytes.</param>
    public static async Task<Outcome<WriteRequest<T>>> ReadAsync<T>(
        HttpContext context, int mostBytes = RequestLimits.SingleBytes)
        where T : class
    {
        if (!Read(context).Succeeded(out var write, out var problem)
            || !(await JsonBody.ReadAsync(context.Request, mostBytes)).Succeeded(out var json, out problem))
        {
            return problem;
        }

        using (json)
        {
            if (!JsonBody.As<T>(json.RootElement).Succeeded(out var body, out problem))
            {
                return problem;
            }

            var whole = new WriteRequest<T>(body, write.Origin, write.Revision, null);
            return context.GetEndpoint()?.Metadata.GetMetadata<TakesIdempotencyKey>() is null
                ? whole
                : await IdempotencyHeader.ReadAsync(context.Request, whole, new MemoryStream(Encoding.UTF8.GetBytes(json.RootElement.GetRawText())));
        }
    }

    /// <summary>Sets status and address of an answer about something made.</summary>
    /// <param name="context">The request.</param>
    /// <param name="location">Its address.</param>
    /// <param name="isNew">Whether it was made now; else an earlier request of the same key made it.</param>
    public static void Made(HttpContext context, string location, bool isNew = true)
    {
        ArgumentNullException.ThrowIfNull(context);
        context.Response.StatusCode = isNew ? StatusCodes.Status201Created : StatusCodes.Status200OK;
        context.Response.Headers.Location = location;
        context.Response.Headers.CacheControl = "no-store";
    }
}

/// <summary>What a write with a JSON body brings besides its address.</summary>
/// <typeparam name="T">The body.</typeparam>
/// <param name="Body">The body; its shape has been checked.</param>
/// <param name="Origin">Who sends it, and why.</param>
/// <param name="Revision">The revision it is meant for; 0 where the endpoint asks for none.</param>
/// <param name="Key">Makes it count once, however often it is sent. Missing: null, it counts each time.</param>
public sealed record WriteRequest<T>(T Body, AuditOrigin Origin, int Revision, IdempotencyKey? Key)
    : WriteRequest(Origin, Revision)
    where T : class;

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
        headers.ETag = new EntityTagHeaderValue(string.Create(CultureInfo.InvariantCulture, $"\"{revision}\""));
        headers.CacheControl = new CacheControlHeaderValue { NoStore = true };
    }

    /// <summary>Reads which revision a change is meant for.</summary>
    /// <returns>Or the problem of one that names none.</returns>
    internal static Outcome<WriteRequest> Read(HttpRequest request, AuditOrigin origin)
    {
        var tags = request.GetTypedHeaders().IfMatch;
        if (tags.Count == 0)
        {
            return new Problem(ProblemTypes.RevisionRequired, ProblemTypes.RevisionRequired.Example);
        }

        return tags.Count == 1 && !tags[0].IsWeak
            && int.TryParse(
                tags[0].Tag.AsSpan().Trim('"'), NumberStyles.None, CultureInfo.InvariantCulture, out var revision)
            ? new WriteRequest(origin, revision)
            : new Problem(ProblemTypes.StaleRevision, "If-Match names no revision of this; send the ETag of its last answer.");
    }
}

/// <summary>The header by which a sender makes a request count once, so that sending it again changes nothing.</summary>
/// <remarks>Source: The Idempotency-Key HTTP Header Field, Internet-Draft of the IETF HTTPAPI working group.</remarks>
public static class IdempotencyHeader
{
    /// <summary>Name of the header.</summary>
    public const string Header = "Idempotency-Key";

    /// <summary>Longest key taken. Units: characters.</summary>
    public const int LongestKey = 100;

    /// <summary>Reads the key of a request.</summary>
    /// <returns>The request with its key, if it has one; or the problem of a key that can't be kept.</returns>
    internal static async Task<Outcome<WriteRequest<T>>> ReadAsync<T>(HttpRequest request, WriteRequest<T> write, Stream body)
        where T : class
    {
        if (request.Headers[Header].Count == 0)
        {
            return write;
        }

        var key = request.Headers[Header].ToString().Trim().Trim('"');
        if (key.Length is 0 or > LongestKey || Text.HasControlCharacter(key))
        {
            return FieldErrors.One(
                Header, $"{Text.Quoted(key)} can't be kept; 1 to {LongestKey} characters in one line are allowed.");
        }

        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(Encoding.UTF8.GetBytes($"{request.Method} {request.Path}{request.QueryString}\n"));
        var chunk = new byte[64 * 1024];
        while (await body.ReadAsync(chunk, request.HttpContext.RequestAborted) is > 0 and var read)
        {
            hash.AppendData(chunk, 0, read);
        }

        return write with { Key = new IdempotencyKey(write.Origin.Actor, key, Convert.ToHexStringLower(hash.GetHashAndReset())) };
    }
}
