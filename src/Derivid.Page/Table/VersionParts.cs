using System.Collections.Concurrent;
using Derivid.Client;
using Derivid.Core.Compounds;
using Derivid.Page.Observations;

namespace Derivid.Page.Table;

/// <summary>What most views need of a version of the table: its words and its sources.</summary>
/// <param name="Words">Names of kinds, tests, colours and standards.</param>
/// <param name="Sources">The sources, by key.</param>
public sealed record VersionPart(Vocabulary Words, IReadOnlyDictionary<string, Source> Sources);

/// <summary>Keeps the parts of the versions asked for last: a version never changes.</summary>
/// <remarks>
/// To be asked only for a version that the service has just answered with, so that nobody is shown by it what the service
/// would not tell them. Thread safety: safe.
/// </remarks>
public sealed class VersionParts
{
    // The current one, and those of a few courses.
    private const int Most = 8;

    private readonly ConcurrentDictionary<int, VersionPart> _parts = new();

    /// <summary>The parts of a version.</summary>
    /// <param name="client">The service.</param>
    /// <param name="version">The version.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<VersionPart> GetAsync(DerividClient client, int version, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(client);
        if (_parts.TryGetValue(version, out var kept))
        {
            return kept;
        }

        var words = Vocabulary.LoadAsync(client, version, cancellationToken);
        var sources = await client.Table.ListSourcesAsync(version, cancellationToken).ToListAsync(cancellationToken);
        var part = new VersionPart(await words, sources.ToDictionary(source => source.Key));
        if (_parts.Count >= Most)
        {
            _parts.Clear();
        }

        return _parts[version] = part;
    }
}
