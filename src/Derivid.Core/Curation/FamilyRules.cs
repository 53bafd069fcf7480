namespace Derivid.Core.Curation;

/// <summary>A parent answers a question alike in every test that asks it.</summary>
internal static class FamilyRules
{
    public static void Check(TableIndex index, List<TableFinding> found)
    {
        var outcomes = new ExpectedOutcomes(index.Table);
        foreach (var parent in index.Table.Parents)
        {
            var answers = outcomes.Of(parent.Key, index.EnvironmentOf(parent.Smiles)!.Features)
                .Where(outcome => outcome.Response is not null).Select(outcome => (outcome.Test.QuestionKey, Row: outcome.Response!));
            foreach (var family in answers.GroupBy(answer => answer.QuestionKey, StringComparer.Ordinal))
            {
                foreach (var (_, contrary) in family.DistinctBy(answer => answer.Row.AnswersYes).Skip(1))
                {
                    new RecordFindings(
                        RecordKind.SpotTestResponse, RecordTypes.Of(RecordKind.SpotTestResponse).KeyOf(contrary), found).Expect(
                        false, nameof(contrary.AnswersYes), contrary.AnswersYes,
                        $"the answer that {parent.Key} gives in the other tests of the family \"{family.Key}\"");
                }
            }
        }
    }
}
