using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>Records that nothing refers to: not wrong, but probably forgotten.</summary>
internal static class UseRules
{
    public static void Check(ReferenceTable table, List<TableFinding> found)
    {
        var cited = CitedSources(table).ToHashSet(StringComparer.Ordinal);
        Report(RecordKind.Source, table.Sources.Select(row => row.Key).Where(key => !cited.Contains(key)), "something that cites it", found);
        Report(
            RecordKind.Parent, table.Parents.Select(row => row.Key).Except(table.Derivatives.Select(row => row.ParentKey)),
            "a derivative; without one no melting range can point to it", found);
        Report(
            RecordKind.DerivativeKind, table.Kinds.Select(row => row.Key).Except(table.Derivatives.Select(row => row.KindKey)),
            "a derivative of the kind", found);
        Report(
            RecordKind.SpotTest, table.SpotTests.Select(row => row.Key).Except(table.Responses.Select(row => row.TestKey)),
            "a response; without one every parent answers no", found);
        Report(
            RecordKind.SpotTestQuestion, table.Questions.Select(row => row.Key).Except(table.SpotTests.Select(row => row.QuestionKey)),
            "a test that asks it", found);
    }

    private static IEnumerable<string> CitedSources(ReferenceTable table) =>
    [
        .. table.Derivatives.Select(row => row.SourceKey), .. table.Constants.Select(row => row.SourceKey),
        .. table.Kinds.Select(row => row.SourceKey), .. table.Questions.Select(row => row.SourceKey),
        .. table.SpotTests.Select(row => row.SourceKey), .. table.Responses.Select(row => row.SourceKey),
        .. table.ColourExpectations.Select(row => row.SourceKey), .. table.Standards.Select(row => row.SourceKey),
    ];

    private static void Report(RecordKind kind, IEnumerable<string> unused, string wanted, List<TableFinding> found)
    {
        foreach (var key in unused)
        {
            new RecordFindings(kind, key, found).Expect(false, "Key", key, wanted);
        }
    }
}
