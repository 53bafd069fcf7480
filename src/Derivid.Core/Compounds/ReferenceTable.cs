using Derivid.Core.Colours;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Compounds;

/// <summary>The whole reference table in one version, as its curators released it.</summary>
/// <remarks>
/// Shape: every list is ordered by key (responses and expectations by test or kind, then order).
/// Thread safety: immutable.
/// </remarks>
public sealed record ReferenceTable
{
    /// <summary>The version's number, from 1.</summary>
    public required int Version { get; init; }

    /// <summary>Everything the other rows cite.</summary>
    public required IReadOnlyList<Source> Sources { get; init; }

    /// <summary>The parent compounds.</summary>
    public required IReadOnlyList<Parent> Parents { get; init; }

    /// <summary>Their boiling points, melting points and enthalpies of fusion.</summary>
    public required IReadOnlyList<ParentConstant> Constants { get; init; }

    /// <summary>The kinds of derivative.</summary>
    public required IReadOnlyList<DerivativeKind> Kinds { get; init; }

    /// <summary>The derivative records.</summary>
    public required IReadOnlyList<Derivative> Derivatives { get; init; }

    /// <summary>The questions spot tests ask.</summary>
    public required IReadOnlyList<SpotTestQuestion> Questions { get; init; }

    /// <summary>The spot tests.</summary>
    public required IReadOnlyList<SpotTest> SpotTests { get; init; }

    /// <summary>How classes of parents answer the tests.</summary>
    public required IReadOnlyList<SpotTestResponse> Responses { get; init; }

    /// <summary>The ordered vocabulary of colours, by rank.</summary>
    public required IReadOnlyList<Colour> Colours { get; init; }

    /// <summary>The colours expected of classes of parents.</summary>
    public required IReadOnlyList<ColourExpectation> ColourExpectations { get; init; }

    /// <summary>The melting-point standards.</summary>
    public required IReadOnlyList<MeltingPointStandard> Standards { get; init; }
}

/// <summary>The one order of a table's rows: by key, compared as code units, so that no engine's collation decides.</summary>
public static class ReferenceTableOrder
{
    /// <summary>Orders every list of a table.</summary>
    /// <param name="table">The table.</param>
    /// <returns>The same rows in order.</returns>
    public static ReferenceTable Ordered(this ReferenceTable table) => table with
    {
        Sources = ByKey(table.Sources, row => row.Key),
        Parents = ByKey(table.Parents, row => row.Key),
        Constants =
        [
            .. table.Constants.OrderBy(row => row.ParentKey, StringComparer.Ordinal)
                .ThenBy(row => row.Property)
                .ThenBy(row => row.SourceKey, StringComparer.Ordinal)
                .ThenBy(row => row.Low).ThenBy(row => row.High).ThenBy(row => row.PressureKilopascals)
                .ThenBy(row => row.Locator, StringComparer.Ordinal)
                .ThenBy(row => row.Verification)
                .ThenBy(row => row.Note, StringComparer.Ordinal),
        ],
        Kinds = ByKey(table.Kinds, row => row.Key),
        Derivatives = ByKey(table.Derivatives, row => row.Key),
        Questions = ByKey(table.Questions, row => row.Key),
        SpotTests = ByKey(table.SpotTests, row => row.Key),
        Responses = [.. table.Responses.OrderBy(row => row.TestKey, StringComparer.Ordinal).ThenBy(row => row.Order)],
        Colours = [.. table.Colours.OrderBy(row => row.Rank)],
        ColourExpectations =
        [
            .. table.ColourExpectations.OrderBy(row => row.KindKey, StringComparer.Ordinal).ThenBy(row => row.Order),
        ],
        Standards = ByKey(table.Standards, row => row.Key),
    };

    private static List<T> ByKey<T>(IEnumerable<T> rows, Func<T, string> key) =>
        [.. rows.OrderBy(key, StringComparer.Ordinal)];
}
