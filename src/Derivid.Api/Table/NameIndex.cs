using Derivid.Api.Http;
using Derivid.Core.Compounds;

namespace Derivid.Api.Table;

/// <summary>Finds an entry of a vocabulary by key, name or synonym.</summary>
/// <remarks>
/// Names are compared as <see cref="FoldedName"/> has them. A name that two entries share finds neither, unless it is the key
/// or the name of one of them. Thread safety: immutable.
/// </remarks>
public sealed class NameIndex
{
    private const int SuggestionsGiven = 3;

    private readonly Dictionary<string, string?> _keyByName = new(StringComparer.Ordinal);
    private readonly List<(string Folded, string Key)> _primary = [];
    private readonly string _noun;
    private readonly bool _listsAll;

    /// <summary>Takes a vocabulary.</summary>
    /// <param name="noun">What an entry is called, such as "parent".</param>
    /// <param name="entries">Key, name and other names of each.</param>
    /// <param name="listsAll">Whether a message about an unknown name lists every key; else only the closest.</param>
    public NameIndex(string noun, IEnumerable<(string Key, string Name, IEnumerable<string> Others)> entries, bool listsAll)
    {
        ArgumentNullException.ThrowIfNull(entries);
        (_noun, _listsAll) = (noun, listsAll);
        var all = entries.ToList();
        AddRank(all.SelectMany(e => new[] { (e.Key, e.Key), (e.Name, e.Key) }));
        _primary.AddRange(_keyByName.Where(p => p.Value is not null).Select(p => (p.Key, p.Value!)));
        AddRank(all.SelectMany(e => e.Others.Select(other => (other, e.Key))));
    }

    /// <summary>Finds the key for a name.</summary>
    /// <param name="name">Key, name or synonym.</param>
    /// <returns>Missing: null, unknown or shared by two entries.</returns>
    public string? Find(string name) => _keyByName.GetValueOrDefault(FoldedName.Of(name));

    /// <summary>Says that a name is unknown and what is known.</summary>
    /// <param name="name">The name nobody knows.</param>
    public string Unknown(string name)
    {
        var shown = Text.Quoted(name);
        if (_keyByName.ContainsKey(FoldedName.Of(name)))
        {
            return $"{shown} may mean more than one {_noun}; use the key.";
        }

        var known = _listsAll
            ? "Allowed: " + string.Join(", ", _primary.Select(p => p.Key).Distinct().Order(StringComparer.Ordinal))
            : "Closest: " + string.Join(", ", Closest(name));
        return $"{shown} is no {_noun} of this table. {known}.";
    }

    private void AddRank(IEnumerable<(string Name, string Key)> names)
    {
        var rank = names.GroupBy(n => FoldedName.Of(n.Name), n => n.Key, StringComparer.Ordinal);
        foreach (var group in rank.Where(g => g.Key.Length > 0))
        {
            var keys = group.Distinct(StringComparer.Ordinal).ToList();
            _keyByName.TryAdd(group.Key, keys.Count == 1 ? keys[0] : null);
        }
    }

    private IEnumerable<string> Closest(string name)
    {
        var wanted = FoldedName.Of(name);
        return _primary
            .Select(p => (p.Key, Distance: FoldedName.Distance(wanted, p.Folded)))
            .OrderBy(p => p.Distance)
            .ThenBy(p => p.Key, StringComparer.Ordinal)
            .Select(p => p.Key)
            .Distinct()
            .Take(SuggestionsGiven);
    }
}
