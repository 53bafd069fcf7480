using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>Rows that are tried in order leave no gap and end in one that fits every structure.</summary>
internal static class OrderRules
{
    private const string Any = "any";

    public static void Check(ReferenceTable table, List<TableFinding> found)
    {
        CheckColours(table, found);
        Check(RecordKinds.SpotTestResponses, table.Responses, row => row.TestKey, row => (row.Order, row.AppliesTo), "AppliesTo", found);
        Check(
            RecordKinds.ColourExpectations, table.ColourExpectations, row => row.KindKey,
            row => (row.Order, row.StructureClass), "StructureClass", found);
        var expected = table.ColourExpectations.Select(row => row.KindKey).ToHashSet(StringComparer.Ordinal);
        foreach (var kind in table.Kinds)
        {
            new RecordFindings(RecordKinds.DerivativeKinds, kind.Key, found).Require(
                kind.ColourInforms == expected.Contains(kind.Key), nameof(kind.ColourInforms), kind.ColourInforms,
                "yes exactly where the table has colour expectations for the kind");
        }
    }

    private static void CheckColours(ReferenceTable table, List<TableFinding> found)
    {
        var rank = 0;
        foreach (var colour in table.Colours.Where(colour => colour.Rank is not null).OrderBy(colour => colour.Rank))
        {
            new RecordFindings(RecordKinds.Colours, colour.Key, found).Require(
                colour.Rank == rank, nameof(colour.Rank), colour.Rank, FormattableString.Invariant($"{rank}: ranks run from 0 without gaps; empty for a colour outside the order"));
            rank++;
        }
    }

    private static void Check<T>(
        RecordKind kind, IReadOnlyList<T> rows, Func<T, string> owner, Func<T, (int Order, string Class)> step,
        string classField, List<TableFinding> found)
        where T : class
    {
        foreach (var group in rows.GroupBy(owner, StringComparer.Ordinal))
        {
            var expected = 1;
            foreach (var row in group.OrderBy(row => step(row).Order))
            {
                new RecordFindings(kind, kind.KeyOf(row), found).Require(
                    step(row).Order == expected, "Order", step(row).Order, FormattableString.Invariant($"{expected}: rows run from 1 without gaps"));
                expected++;
            }

            var last = group.MaxBy(row => step(row).Order)!;
            new RecordFindings(kind, kind.KeyOf(last), found).Require(
                step(last).Class == Any, classField, step(last).Class, "\"any\" in the last row, so that some row fits every parent");
        }
    }
}
