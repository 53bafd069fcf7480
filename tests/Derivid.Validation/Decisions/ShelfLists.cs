using Derivid.Core.Compounds;

namespace Derivid.Validation.Decisions;

/// <summary>Shelf lists to plan for, drawn by fixed seeds.</summary>
/// <remarks>
/// Four of everyday compounds, four of everyday and usual ones, four of those with a molar mass near one another, which are
/// harder. Drawn once before anything was measured on them; none was changed since.
/// </remarks>
public static class ShelfLists
{
    /// <summary>Compounds of a list.</summary>
    public const int Length = 12;

    private const int ListsOfASort = 4;

    /// <summary>The lists.</summary>
    /// <param name="table">The table.</param>
    public static IReadOnlyList<ShelfList> Of(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var parents = table.Parents.OrderBy(parent => parent.Key, StringComparer.Ordinal).ToList();
        var everyday = parents.Where(parent => parent.Commonness == Commonness.Everyday).ToList();
        var taught = parents.Where(parent => parent.Commonness is Commonness.Everyday or Commonness.Usual).ToList();
        return
        [
            .. Enumerable.Range(1, ListsOfASort).Select(seed => new ShelfList($"everyday {seed}", Drawn(everyday, new Random(seed)))),
            .. Enumerable.Range(1, ListsOfASort).Select(seed => new ShelfList($"taught {seed}", Drawn(taught, new Random(100 + seed)))),
            .. Enumerable.Range(1, ListsOfASort).Select(seed => new ShelfList($"alike {seed}", Near(taught, new Random(200 + seed)))),
        ];
    }

    private static string[] Drawn(List<Parent> parents, Random random)
    {
        var keys = parents.Select(parent => parent.Key).ToArray();
        random.Shuffle(keys);
        return [.. keys.Take(Length).Order(StringComparer.Ordinal)];
    }

    private static string[] Near(List<Parent> parents, Random random)
    {
        var one = parents[random.Next(parents.Count)];
        return
        [
            .. parents
                .OrderBy(parent => Math.Abs(parent.MolarMass - one.MolarMass))
                .ThenBy(parent => parent.Key, StringComparer.Ordinal)
                .Take(Length)
                .Select(parent => parent.Key)
                .Order(StringComparer.Ordinal),
        ];
    }
}

/// <summary>The compounds of one shelf.</summary>
/// <param name="Name">What the report calls it.</param>
/// <param name="ParentKeys">The compounds. Shape: in ordinal order.</param>
public sealed record ShelfList(string Name, IReadOnlyList<string> ParentKeys);
