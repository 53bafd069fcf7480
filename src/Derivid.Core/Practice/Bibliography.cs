using System.Collections.Frozen;
using Derivid.Core.Compounds;

namespace Derivid.Core.Practice;

/// <summary>The sources of <c>seed-tables/sources.csv</c>, as they were when this was built.</summary>
/// <remarks>
/// What is built in cites them, and a version of the table need not list them: it may be older, or another laboratory's.
/// </remarks>
public static class Bibliography
{
    private const string Header = "key,citation,address,grade,family,how_read";

    private static FrozenDictionary<string, Source> ByKey { get; } = EmbeddedTable.Rows("sources.csv", Header)
        .Select(cells => new Source(
            cells[0],
            cells[1],
            EmbeddedTable.OrNull(cells[2]),
            EmbeddedTable.Member<SourceGrade>(cells[3])!.Value,
            cells[4],
            EmbeddedTable.Member<SourceReading>(cells[5])!.Value))
        .ToFrozenDictionary(source => source.Key, StringComparer.Ordinal);

    /// <summary>One of them. Missing: null, there is none of this key.</summary>
    /// <param name="key">Its key.</param>
    public static Source? Find(string key) => ByKey.GetValueOrDefault(key);
}
