using Derivid.Core.Ranking;

namespace Derivid.Core.Teaching.HandOuts;

/// <summary>What one teaching laboratory has on its shelf and what can be done there.</summary>
/// <remarks>Equality: by reference to its lists. Thread safety: immutable.</remarks>
public sealed record Laboratory
{
    /// <summary>The parents that can be unknowns. Shape: one or more, any order, no repeats.</summary>
    public required IReadOnlyList<string> ShelfKeys { get; init; }

    /// <summary>The derivative kinds that can be made. Shape: any order, no repeats; may be empty.</summary>
    public IReadOnlyList<string> KindKeys { get; init; } = [];

    /// <summary>The spot tests that can be run. Shape: any order, no repeats; may be empty.</summary>
    public IReadOnlyList<string> SpotTestKeys { get; init; } = [];

    /// <summary>Whether the boiling point of the unknown is taken.</summary>
    public bool TakesBoilingPoint { get; init; }

    /// <summary>Whether the melting point of a solid unknown is taken.</summary>
    public bool TakesMeltingPoint { get; init; }

    /// <summary>Checks every key against a table.</summary>
    /// <param name="snapshot">The table.</param>
    /// <exception cref="ArgumentException">The shelf is empty, or a key is unknown or given twice.</exception>
    public void Check(TableSnapshot snapshot)
    {
        ArgumentNullException.ThrowIfNull(snapshot);
        if (ShelfKeys.Count == 0)
        {
            throw new ArgumentException("The shelf list names no parent; name at least one.");
        }

        Check("parent", ShelfKeys, key => snapshot.TryFindParent(key, out _));
        Check("derivative kind", KindKeys, key => snapshot.Kinds.Any(kind => kind.Kind.Key == key));
        Check("spot test", SpotTestKeys, key => snapshot.SpotTests.Tests.Any(test => test.Key == key));
    }

    private static void Check(string noun, IReadOnlyList<string> keys, Predicate<string> isKnown)
    {
        foreach (var key in keys)
        {
            if (!isKnown(key))
            {
                throw new ArgumentException($"The table has no {noun} '{key}'.");
            }
        }

        var repeated = keys.GroupBy(key => key, StringComparer.Ordinal).FirstOrDefault(group => group.Count() > 1);
        if (repeated is not null)
        {
            throw new ArgumentException($"The {noun} '{repeated.Key}' is named twice.");
        }
    }
}
