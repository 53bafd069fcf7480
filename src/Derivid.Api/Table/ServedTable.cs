using System.Collections.Concurrent;
using Derivid.Core.Compounds;
using Derivid.Core.Ranking;

namespace Derivid.Api.Table;

/// <summary>One version of the reference table, ready to answer.</summary>
/// <remarks>Thread safety: immutable.</remarks>
public sealed class ServedTable
{
    private readonly ConcurrentDictionary<string, Lazy<byte[]>> _exports = new(StringComparer.Ordinal);

    /// <summary>Takes a table and the model's settings.</summary>
    /// <param name="table">The table.</param>
    /// <param name="settings">The model's settings.</param>
    public ServedTable(ReferenceTable table, ModelSettings settings)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(settings);
        Table = table;
        ModelVersion = settings.Version;
        Snapshot = TableSnapshot.Build(table, settings);
        Engine = new IdentificationEngine(Snapshot);
        Kinds = new NameIndex("derivative kind", table.Kinds.Select(k => (k.Key, k.Name, k.Synonyms.AsEnumerable())), true);
        Tests = new NameIndex("spot test", table.SpotTests.Select(t => (t.Key, t.Name, t.Synonyms.AsEnumerable())), true);
        Colours = new NameIndex("colour", table.Colours.Select(c => (c.Key, c.Name, c.Synonyms.AsEnumerable())), true);
        Parents = new NameIndex("parent", table.Parents.Select(p => (p.Key, p.Name, p.CasNumber is null ? p.Synonyms : p.Synonyms.Append(p.CasNumber))), false);
        Standards = new NameIndex(
            "melting-point standard", table.Standards.Select(s => (s.Key, s.Name, Enumerable.Repeat(s.CasNumber, 1))), true);
        ParentByKey = table.Parents.ToDictionary(p => p.Key, StringComparer.Ordinal);
        StandardByKey = table.Standards.ToDictionary(s => s.Key, s => s.ClearPointCelsius, StringComparer.Ordinal);
    }

    /// <summary>The table.</summary>
    public ReferenceTable Table { get; }

    /// <summary>Version of the ranking model and its settings.</summary>
    public string ModelVersion { get; }

    /// <summary>The table laid out for ranking.</summary>
    public TableSnapshot Snapshot { get; }

    /// <summary>Ranks on this version.</summary>
    public IdentificationEngine Engine { get; }

    /// <summary>Names of the derivative kinds.</summary>
    public NameIndex Kinds { get; }

    /// <summary>Names of the spot tests.</summary>
    public NameIndex Tests { get; }

    /// <summary>Names of the colours.</summary>
    public NameIndex Colours { get; }

    /// <summary>Names of the parents.</summary>
    public NameIndex Parents { get; }

    /// <summary>Names of the melting-point standards.</summary>
    public NameIndex Standards { get; }

    /// <summary>The parents by key.</summary>
    public IReadOnlyDictionary<string, Parent> ParentByKey { get; }

    /// <summary>The version written out in one way: made when it is first asked for, and kept with it, since it never changes.</summary>
    /// <param name="name">Names the way.</param>
    /// <param name="write">Writes it.</param>
    public ReadOnlyMemory<byte> Export(string name, Func<ReferenceTable, byte[]> write) =>
        _exports.GetOrAdd(name, _ => new Lazy<byte[]>(() => write(Table))).Value;

    /// <summary>Accepted clear point by standard. Units: °C.</summary>
    public IReadOnlyDictionary<string, double> StandardByKey { get; }
}
