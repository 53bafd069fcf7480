using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>Records that nothing refers to: not wrong, but probably forgotten.</summary>
internal static class UseRules
{
    public static void Check(ReferenceTable table, List<TableFinding> found)
    {
        var cited = CitedSources(table).ToHashSet(StringComparer.Ordinal);
        Report(RecordKinds.Sources, table.Sources.Select(row => row.Key).Where(key => !cited.Contains(key)), "something that cites it", found);
        Report(
            RecordKinds.Parents, table.Parents.Select(row => row.Key).Except(table.Derivatives.Select(row => row.ParentKey)),
            "a derivative; without one no melting range can point to it", found);
        Report(
            RecordKinds.DerivativeKinds, table.Kinds.Select(row => row.Key).Except(table.Derivatives.Select(row => row.KindKey)),
            "a derivative of the kind", found);
        Report(
            RecordKinds.SpotTests, table.SpotTests.Select(row => row.Key).Except(table.Responses.Select(row => row.TestKey)),
            "a response; without one every parent answers no", found);
        Report(
            RecordKinds.SpotTestQuestions, table.Questions.Select(row => row.Key).Except(table.SpotTests.Select(row => row.QuestionKey)),
            "a test that asks it", found);
    }

    private static IEnumerable<string> CitedSources(ReferenceTable table) =>
        from list in table.Lists()
        from column in list.Kind.Columns.Where(column => column.Names == RecordKinds.Sources)
        from row in list.Rows
        select (string)column.Of(row)!;

    private static void Report(RecordKind kind, IEnumerable<string> unused, string wanted, List<TableFinding> found)
    {
        foreach (var key in unused)
        {
            new RecordFindings(kind, key, found).Expect(false, "Key", key, wanted);
        }
    }
}
