using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>Records that nothing refers to: not wrong, but probably forgotten.</summary>
internal static class UseRules
{
    public static void Check(ReferenceTable table, List<TableFinding> found)
    {
        Report(table, RecordKinds.Sources, null, "something that cites it", found);
        Report(table, RecordKinds.Parents, RecordKinds.Derivatives, "a derivative; without one no melting range can point to it", found);
        Report(table, RecordKinds.DerivativeKinds, RecordKinds.Derivatives, "a derivative of the kind", found);
        Report(table, RecordKinds.SpotTests, RecordKinds.SpotTestResponses, "a response; without one every parent answers no", found);
        Report(table, RecordKinds.SpotTestQuestions, RecordKinds.SpotTests, "a test that asks it", found);
    }

    // The list whose columns should name each record of the kind. Missing: null, any list.
    private static void Report(ReferenceTable table, RecordKind kind, RecordKind? user, string wanted, List<TableFinding> found)
    {
        var named =
            from list in table.Lists()
            where user is null || list.Kind == user
            from column in list.Kind.Columns.Where(column => column.Names == kind)
            from row in list.Rows
            select column.Of(row);
        foreach (var key in table.RowsOf(kind).Select(kind.KeyOf).Except(named.OfType<string>(), StringComparer.Ordinal))
        {
            new RecordFindings(kind, key, found).Lack("Key", wanted, key);
        }
    }
}
