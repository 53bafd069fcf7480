using System.Text;
using Derivid.Api.Http;

namespace Derivid.Api.Table;

/// <summary>Finds an entry of a vocabulary by key, name or synonym.</summary>
/// <remarks>
/// Letters count alike in either case; spaces, dashes, commas, apostrophes, primes and brackets do not count. A name
/// that two entries share finds neither, unless it is the key or the name of one of them. Thread safety: immutable.
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
    public string? Find(string name) => _keyByName.GetValueOrDefault(Folded(name));

    /// <summary>Says that a name is unknown and what is known.</summary>
    /// <param name="name">The name nobody knows.</param>
    public string Unknown(string name)
    {
        var shown = Text.Quoted(name);
        if (_keyByName.ContainsKey(Folded(name)))
        {
            return $"{shown} may mean more than one {_noun}; use the key.";
        }

        var known = _listsAll
            ? "Allowed: " + string.Join(", ", _primary.Select(p => p.Key).Distinct().Order(StringComparer.Ordinal))
            : "Closest: " + string.Join(", ", Closest(name));
        return $"{shown} is no {_noun} of this table. {known}.";
    }

    private static string Folded(string name)
    {
        var folded = new StringBuilder(name.Length);
        foreach (var letter in name)
        {
            if (char.IsLetterOrDigit(letter) || letter is '+' or '%')
            {
                folded.Append(char.ToLowerInvariant(letter));
            }
        }

        return folded.ToString();
    }

    // Optimal string alignment: insertions, deletions, replacements and swaps of neighbours.
    private static int Distance(string a, string b)
    {
        var (before, last, row) = (new int[b.Length + 1], new int[b.Length + 1], new int[b.Length + 1]);
        for (var j = 0; j <= b.Length; j++)
        {
            last[j] = j;
        }

        for (var i = 1; i <= a.Length; i++)
        {
            row[0] = i;
            for (var j = 1; j <= b.Length; j++)
            {
                row[j] = Math.Min(Math.Min(row[j - 1], last[j]) + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1));
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                {
                    row[j] = Math.Min(row[j], before[j - 2] + 1);
                }
            }

            (before, last, row) = (last, row, before);
        }

        return last[b.Length];
    }

    private void AddRank(IEnumerable<(string Name, string Key)> names)
    {
        var rank = names.GroupBy(n => Folded(n.Name), n => n.Key, StringComparer.Ordinal);
        foreach (var group in rank.Where(g => g.Key.Length > 0))
        {
            var keys = group.Distinct(StringComparer.Ordinal).ToList();
            _keyByName.TryAdd(group.Key, keys.Count == 1 ? keys[0] : null);
        }
    }

    private IEnumerable<string> Closest(string name)
    {
        var wanted = Folded(name);
        return _primary
            .Select(p => (p.Key, Distance: Distance(wanted, p.Folded)))
            .OrderBy(p => p.Distance)
            .ThenBy(p => p.Key, StringComparer.Ordinal)
            .Select(p => p.Key)
            .Distinct()
            .Take(SuggestionsGiven);
    }
}
