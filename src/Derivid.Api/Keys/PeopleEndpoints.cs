using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store.Access;

namespace Derivid.Api.Keys;

/// <summary>Who teaches, grades and curates, for those who work with them.</summary>
public static class PeopleEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapPeople(this RouteGroupBuilder api) =>
        api.MapGet("/people", ListAsync)
            .RequireRole(Role.Grader)
            .WithTags("Keys")
            .WithName("listPeople")
            .WithSummary("List those who teach, grade or curate")
            .WithDescription(
                "By the names on their keys, revoked and expired ones among them, since proposals and remarks still name them; the "
                + "first given one first. Students are not listed. Nor is whoever signs in at the institution: no account of them is kept here.")
            .WithQuery<KeyQuery>()
            .Produces<RowPage<PersonItem>>()
            .ProducesProblems(ProblemTypes.StorageUnavailable);

    private static Task<IResult> ListAsync(HttpContext context, ApiKeys keys, TimeProvider time) =>
        Pager.ListAsync<KeyQuery, ApiKey, PersonItem>(
            context,
            (query, beyond, most) => keys.ListAsync(
                new ApiKeyFilter(query.Role, query.IsUsable, WithStudents: false), beyond is null ? null : ApiKeyPlace.Parse(beyond), most, context.RequestAborted),
            key => ApiKeyPlace.Of(key).ToString(),
            text => ApiKeyPlace.Parse(text) is not null,
            key => new PersonItem(ActorName.OfKey(key.Id), key.Name, key.Role, key.IsUsable(time.GetUtcNow().UtcDateTime)));
}
