using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store.Access;

namespace Derivid.Api.Keys;

/// <summary>Giving out keys and taking them back.</summary>
public static class KeyEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapKeys(this RouteGroupBuilder api)
    {
        var keys = api.MapGroup("/keys").WithTags("Keys").ProducesProblems(ProblemTypes.StorageUnavailable);
        keys.MapGet("/current", GetCurrentAsync)
            .RequireRole(Role.Student)
            .WithName("getCurrentKey")
            .WithSummary("Ask who the service takes you for")
            .WithDescription("Your role, and the key you sent, without its secret.")
            .Produces<CallerItem>();

        var given = keys.MapGroup("").RequireRole(Role.Administrator);
        given.MapPost("", MakeAsync)
            .WithIdempotencyKey(answersAgain: false)
            .WithName("makeKey")
            .WithSummary("Make a key")
            .WithDescription(
                "The whole key is in this answer and nowhere else: the service keeps a hash. A key whose answer got lost "
                + "can't be fetched; revoke it and make another. Sent again under the same idempotency key, the request makes no "
                + "second key, and the problem names the one it made.")
            .WithBody<KeyRequest>()
            .Produces<KeyMade>(StatusCodes.Status201Created)
            .ProducesProblems(ProblemTypes.KeyAlreadyMade);
        given.MapGet("", ListAsync)
            .WithName("listKeys")
            .WithSummary("List the keys given out")
            .WithDescription("Without their secrets, in order of their public parts; expired and revoked ones stay listed.")
            .WithQuery<KeyQuery>()
            .Produces<RowPage<KeyItem>>();
        given.MapGet("/{id}", GetAsync)
            .WithName("getKey")
            .WithSummary("Get one key, without its secret")
            .WithDescription("The id is the key's public part.")
            .Produces<KeyItem>()
            .ProducesProblems(ProblemTypes.NotFound);
        given.MapDelete("/{id}", RevokeAsync)
            .WithName("revokeKey")
            .WithSummary("Revoke a key")
            .WithDescription(
                "For good, and for every instance of the service from its next request on. Revoking a revoked key changes "
                + "nothing. You can't revoke the key you send: so an administrator's key is always left.")
            .Produces(StatusCodes.Status204NoContent)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.OwnKey);
    }

    private static async Task<IResult> GetCurrentAsync(HttpContext context, ApiKeys keys, TimeProvider time)
    {
        var caller = Caller.Of(context)!;
        var key = caller.KeyId is { } id ? await keys.FindAsync(id, context.RequestAborted) : null;
        context.Response.Headers.CacheControl = "no-store";
        return Reply.Json(new CallerItem(caller.Actor, caller.Role!.Value, key is null ? null : Item(key, time)));
    }

    private static async Task<IResult> MakeAsync(HttpContext context, ApiKeys keys, TimeProvider time)
    {
        if (!(await WriteRequest.ReadAsync<KeyRequest>(context)).Succeeded(out var write, out var problem))
        {
            return problem;
        }

        if (string.IsNullOrWhiteSpace(write.Body.Name))
        {
            return FieldErrors.One("/name", "Empty; say whom or what the key is for.");
        }

        var text = KeyText.New();
        var key = KeyOf(write.Body, text, write.Origin.Actor, time.GetUtcNow().UtcDateTime);
        var created = await keys.AddAsync(key, write.Key, write.Origin, context.RequestAborted);
        if (!created.IsNew)
        {
            return new Problem(
                ProblemTypes.KeyAlreadyMade,
                $"The key {created.Value.Id} for {Text.Quoted(created.Value.Name)} was made by this request before. Its secret was in that "
                + "answer and is kept nowhere; if the answer got lost, revoke the key and make another with a new request.");
        }

        WriteRequest.Made(context, "/api/v1/keys/" + key.Id);
        return Reply.Json(new KeyMade(text.Reveal(), Item(key, time)));
    }

    private static Task<IResult> ListAsync(HttpContext context, ApiKeys keys, TimeProvider time) =>
        Pager.ListAsync<KeyQuery, ApiKey, KeyItem>(
            context,
            (query, beyond, most) => keys.ListAsync(
                new ApiKeyFilter(query.Role, query.IsUsable), beyond is null ? null : ApiKeyPlace.Parse(beyond), most,
                context.RequestAborted),
            key => ApiKeyPlace.Of(key).ToString(),
            text => ApiKeyPlace.Parse(text) is not null,
            key => Item(key, time));

    /// <param name="id">The key's public part.</param>
    /// <param name="context">The request.</param>
    /// <param name="keys">Where keys are kept.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> GetAsync(string id, HttpContext context, ApiKeys keys, TimeProvider time)
    {
        context.Response.Headers.CacheControl = "no-store";
        return KeyText.IsId(id) && await keys.FindAsync(id, context.RequestAborted) is { } key
            ? Reply.Json(Item(key, time))
            : Missing(id);
    }

    /// <param name="id">The key's public part.</param>
    /// <param name="context">The request.</param>
    /// <param name="keys">Where keys are kept.</param>
    private static async Task<IResult> RevokeAsync(string id, HttpContext context, ApiKeys keys)
    {
        if (!WriteRequest.Read(context).Succeeded(out var write, out var problem))
        {
            return problem;
        }

        if (id == Caller.Of(context)!.KeyId)
        {
            return new Problem(ProblemTypes.OwnKey, ProblemTypes.OwnKey.Example);
        }

        return KeyText.IsId(id) && await keys.RevokeAsync(id, write.Origin, context.RequestAborted)
            ? Results.NoContent()
            : Missing(id);
    }

    private static ApiKey KeyOf(KeyRequest request, KeyText text, string maker, DateTime now) => new()
    {
        Id = text.Id,
        SecretHash = text.SecretHash(),
        Name = request.Name.Trim(),
        Role = request.Role,
        CreatedAtUtc = now,
        CreatedBy = maker,
        ExpiresAtUtc = now.AddDays(request.ValidDays ?? KeyRequest.DefaultValidDays),
    };

    private static KeyItem Item(ApiKey key, TimeProvider time) => new(
        key.Id,
        key.Name,
        key.Role,
        key.IsUsable(time.GetUtcNow().UtcDateTime),
        key.CreatedAtUtc,
        key.CreatedBy,
        key.ExpiresAtUtc,
        key.RevokedAtUtc,
        key.LastUsedOn);

    // Whoever pastes a whole key here by mistake must not find it in the answer.
    private static Problem Missing(string id) => new(
        ProblemTypes.NotFound,
        KeyText.IsId(id)
            ? $"No key has the public part {Text.Quoted(id)}."
            : "No key has this public part. It is the 16 letters and digits between the two low lines of a key.");
}
