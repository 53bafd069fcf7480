namespace Derivid.Core.Compounds;

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
