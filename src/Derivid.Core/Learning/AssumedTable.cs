using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Learning;

/// <summary>The table without what classes taught it: what anything learned is shrunk to.</summary>
/// <remarks>
/// Learning from the same reports beside a table that holds what they said already would count them twice, and take a class's own mean for
/// the print that it might have been copied from. So a rate or colours learned go back to what stood there before, and what classes measured, and
/// rows that only learning brought, are left out. A row that a curator wrote since stays.
/// </remarks>
public static class AssumedTable
{
    /// <summary>Takes out what classes taught.</summary>
    /// <param name="table">The table.</param>
    /// <param name="responses">All responses that any version of it had. Shape: newest first.</param>
    /// <param name="colours">All colours expected that any version had. Shape: newest first.</param>
    /// <returns>The table; itself where classes taught it nothing.</returns>
    public static ReferenceTable Of(
        ReferenceTable table, IReadOnlyList<SpotTestResponse> responses, IReadOnlyList<ColourExpectation> colours)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(responses);
        ArgumentNullException.ThrowIfNull(colours);
        if (table.Sources.All(source => source.Key != LearnedTable.Source.Key))
        {
            return table;
        }

        return table with
        {
            Derivatives = [.. table.Derivatives.Where(record => record.SourceKey != LearnedTable.Source.Key)],
            Responses =
            [
                .. from test in table.Responses.GroupBy(row => row.TestKey, StringComparer.Ordinal)
                   from row in test.OrderBy(row => row.Order).Select(row => Before(row, responses)).OfType<SpotTestResponse>().Select((row, place) => row with { Order = place + 1 })
                   select row,
            ],
            ColourExpectations = [.. table.ColourExpectations.Select(row => row.SourceKey != LearnedTable.Source.Key
                ? row
                : colours.FirstOrDefault(earlier => earlier.KindKey == row.KindKey && earlier.StructureClass == row.StructureClass && earlier.SourceKey != row.SourceKey) is { } before
                    ? before with { Order = row.Order }
                    : row)],
        };
    }

    // Missing: null, only learning brought it, as an exception to its class.
    private static SpotTestResponse? Before(SpotTestResponse row, IReadOnlyList<SpotTestResponse> earlier) =>
        row.SourceKey != LearnedTable.Source.Key ? row
        : earlier.FirstOrDefault(one => one.TestKey == row.TestKey && one.AppliesTo == row.AppliesTo && one.SourceKey != row.SourceKey)
            ?? (RespondingClass.ParentOf(row.AppliesTo) is null ? row : null);
}
