using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Teaching;

namespace Derivid.Page.Sessions;

/// <summary>Whoever is named in a view by what the audit log calls them, by name where the service knows one.</summary>
public sealed class People
{
    private readonly IReadOnlyDictionary<string, PersonItem> _known;

    private People(IReadOnlyDictionary<string, PersonItem> known) => _known = known;

    /// <summary>Those whose keys open something. Shape: by name.</summary>
    public IEnumerable<PersonItem> Present => _known.Values.Where(person => person.IsUsable).OrderBy(person => person.Name, StringComparer.OrdinalIgnoreCase);

    /// <summary>Asks who there is; for graders and up.</summary>
    /// <param name="client">The service.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public static async Task<People> LoadAsync(DerividClient client, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(client);
        return new People(await client.Keys.ListPeopleAsync(cancellationToken: cancellationToken).ToDictionaryAsync(person => person.Actor, cancellationToken: cancellationToken));
    }

    /// <summary>Somebody's name: of a key whom it was made for, of who signs in at the institution their name there.</summary>
    /// <param name="actor">As the audit log calls them.</param>
    public string NameOf(string actor)
    {
        ArgumentNullException.ThrowIfNull(actor);
        return _known.TryGetValue(actor, out var person) ? person.Name
            : actor.StartsWith(ActorName.SignInPrefix, StringComparison.Ordinal) ? actor[ActorName.SignInPrefix.Length..].Split(' ')[0]
            : actor;
    }
}
