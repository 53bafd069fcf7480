using Derivid.Core.SpotTests;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>A parent answers a question alike in every test that asks it.</summary>
internal static class FamilyRules
{
    public static void Check(TableIndex index, List<TableFinding> found)
    {
        var responses = index.Table.Responses.ToLookup(response => response.TestKey, StringComparer.Ordinal);
        foreach (var family in index.Table.SpotTests.GroupBy(test => test.QuestionKey, StringComparer.Ordinal))
        {
            var rows = family.SelectMany(test => responses[test.Key]).ToLookup(row => row.TestKey, StringComparer.Ordinal);
            foreach (var parent in index.Table.Parents)
            {
                var features = index.EnvironmentOf(parent.Smiles)!.Features;
                var answers = rows.Select(test => test.OrderBy(row => row.Order).First(row => Applies(row, parent.Key, features)));
                foreach (var contrary in answers.DistinctBy(row => row.AnswersYes).Skip(1))
                {
                    new RecordFindings(
                        RecordKind.SpotTestResponse, RecordTypes.Of(RecordKind.SpotTestResponse).KeyOf(contrary), found).Expect(
                        false, nameof(contrary.AnswersYes), contrary.AnswersYes,
                        $"the answer that {parent.Key} gives in the other tests of the family \"{family.Key}\"");
                }
            }
        }
    }

    private static bool Applies(SpotTestResponse response, string parentKey, StructureFeature features) =>
        response.AppliesTo.StartsWith(SpotTestRules.SingleParent, StringComparison.Ordinal)
            ? response.AppliesTo[SpotTestRules.SingleParent.Length..] == parentKey
            : StructureClass.Parse(response.AppliesTo).Matches(features);
}
