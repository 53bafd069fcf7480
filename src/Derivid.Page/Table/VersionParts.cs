using System.Collections.Concurrent;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Page.Answers;
using Derivid.Page.Observations;

namespace Derivid.Page.Table;

/// <summary>What most views need of a version of the table: its words and its sources.</summary>
/// <param name="Words">Names of kinds, tests, colours and standards.</param>
/// <param name="Sources">The sources, by key.</param>
public sealed record VersionPart(Vocabulary Words, IReadOnlyDictionary<string, Source> Sources);

/// <summary>A parent as an answer shows it.</summary>
/// <param name="Detail">The table's records of it.</param>
/// <param name="Drawing">Its structure as SVG. Missing: null, the table leaves open what it is.</param>
public sealed record ParentPart(ParentDetail Detail, string? Drawing);

/// <summary>Keeps the parts of the versions asked for last: a version never changes.</summary>
/// <remarks>
/// To be asked only for a version that the service has just answered with, so that nobody is shown by it what the service
/// would not tell them. Thread safety: safe.
/// </remarks>
public sealed class VersionParts
{
    // The current one, and those of a few courses.
    private const int Most = 8;

    // More than the candidates that lead anywhere in a table of today's size; some 10 KB each.
    private const int MostParents = 2000;

    private readonly ConcurrentDictionary<int, VersionPart> _parts = new();
    private readonly ConcurrentDictionary<(int Version, string Key), ParentPart> _parents = new();

    /// <summary>The parts of the newest version kept. Missing: null, none is.</summary>
    /// <remarks>For a form that came back: whoever sent it may see no more by it than the names of what they could choose.</remarks>
    public VersionPart? Newest => _parts.OrderByDescending(part => part.Key).Select(part => part.Value).FirstOrDefault();

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

    /// <summary>A parent of a version.</summary>
    /// <param name="client">The service.</param>
    /// <param name="version">The version.</param>
    /// <param name="key">The parent.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<ParentPart> GetParentAsync(DerividClient client, int version, string key, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(client);
        if (_parents.TryGetValue((version, key), out var kept))
        {
            return kept;
        }

        var drawing = Structures.DrawAsync(client, key, null, version, cancellationToken);
        var part = new ParentPart(await client.Table.GetParentAsync(key, version, cancellationToken), await drawing);
        if (_parents.Count >= MostParents)
        {
            _parents.Clear();
        }

        return _parents[(version, key)] = part;
    }
}
