using System.Text.Json;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Store.Auditing;
using Derivid.Store.Idempotency;

namespace Derivid.Api.Teaching;

/// <summary>What every write with a JSON body brings.</summary>
/// <typeparam name="T">The body.</typeparam>
/// <param name="Body">The body; its shape has been checked.</param>
/// <param name="Origin">Who sends it, and why.</param>
/// <param name="Mark">Marks it. Missing: null, it isn't marked.</param>
public sealed record WriteRequest<T>(T Body, AuditOrigin Origin, IdempotencyKey? Mark)
    where T : class;

/// <summary>Reads what every write with a JSON body brings.</summary>
public static class WriteRequest
{
    /// <summary>Reads it.</summary>
    /// <typeparam name="T">The body's type, one of the wire context's.</typeparam>
    /// <param name="context">A request let in by a policy that asks for a role.</param>
    /// <param name="mostBytes">Largest body taken. Units: bytes.</param>
    public static async Task<Outcome<WriteRequest<T>>> ReadAsync<T>(
        HttpContext context, int mostBytes = RequestLimits.SingleBytes)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(context);
        if (!RequestQuery.Read<NoQuery>(context.Request).Succeeded(out _, out var problem)
            || !Caller.OriginOf(context).Succeeded(out var origin, out problem)
            || !(await JsonBody.ReadAsync(context.Request, mostBytes)).Succeeded(out var json, out problem))
        {
            return problem;
        }

        using (json)
        {
            var errors = new FieldErrors();
            Shape.Check(json.RootElement, typeof(T), "", errors);
            if (errors.ToProblem() is { } wrong)
            {
                return wrong;
            }

            return IdempotencyHeader.Of(context.Request, json.RootElement.GetRawText(), origin.Actor)
                .Succeeded(out var marked, out problem)
                ? new WriteRequest<T>((T)json.RootElement.Deserialize(typeof(T), WireJson.Context)!, origin, marked.Mark)
                : problem;
        }
    }

    /// <summary>Sets status and address of an answer about something made.</summary>
    /// <param name="context">The request.</param>
    /// <param name="isNew">Whether it was made now; else an earlier request of the same key made it.</param>
    /// <param name="location">Its address.</param>
    public static void Answered(HttpContext context, bool isNew, string location)
    {
        ArgumentNullException.ThrowIfNull(context);
        context.Response.StatusCode = isNew ? StatusCodes.Status201Created : StatusCodes.Status200OK;
        context.Response.Headers.Location = location;
        context.Response.Headers.CacheControl = "no-store";
    }
}
