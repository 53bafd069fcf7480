using Derivid.Client;

namespace Derivid.Cli.Curation;

/// <summary>Whoever the audit log and proposals name, by name where the service knows one.</summary>
internal sealed class People
{
    private readonly Dictionary<string, string> _names;

    private People(Dictionary<string, string> names) => _names = names;

    public static async Task<People> LoadAsync(DerividClient client, CancellationToken cancellationToken) => new(
        await client.Keys.ListPeopleAsync(cancellationToken: cancellationToken)
            .ToDictionaryAsync(person => person.Actor, person => person.Name, cancellationToken: cancellationToken));

    public string NameOf(string actor) => _names.GetValueOrDefault(actor, actor);
}
