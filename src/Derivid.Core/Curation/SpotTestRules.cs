using Derivid.Core.SpotTests;

namespace Derivid.Core.Curation;

/// <summary>What holds for spot tests, their questions and responses.</summary>
internal static class SpotTestRules
{
    public static void Check(SpotTestQuestion question, RecordFindings findings) => findings.Require(
        question.ContraryRate is >= 0.001 and <= 0.2, nameof(question.ContraryRate), question.ContraryRate, "0.001 to 0.2");

    public static void Check(SpotTest test, RecordFindings findings)
    {
        findings.Require(test.PositiveRateIfYes is >= 0.5 and <= 0.98, nameof(test.PositiveRateIfYes), test.PositiveRateIfYes, "0.5 to 0.98");
        findings.Require(test.PositiveRateIfNo is >= 0.02 and <= 0.5, nameof(test.PositiveRateIfNo), test.PositiveRateIfNo, "0.02 to 0.5");
        KindRules.CheckMinutes(test.Minutes, nameof(test.Minutes), findings);
        KindRules.CheckMinutes(test.ReadWithinMinutes, nameof(test.ReadWithinMinutes), findings);
    }

    public static void Check(SpotTestResponse response, TableIndex index, RecordFindings findings)
    {
        findings.Require(response.Order >= 1, nameof(response.Order), response.Order, "1 or more");
        findings.Require(response.PositiveRate is >= 0.02 and <= 0.98, nameof(response.PositiveRate), response.PositiveRate, "0.02 to 0.98");
        if (RespondingClass.ParentOf(response.AppliesTo) is { } parent)
        {
            findings.Require(index.Find(RecordKinds.Parents, parent) is not null, nameof(response.AppliesTo),
                response.AppliesTo, "\"parent:\" and the key of a parent of the table");
        }
        else
        {
            KindRules.CheckClass(response.AppliesTo, nameof(response.AppliesTo), findings);
        }
    }
}

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
                        RecordKinds.SpotTestResponses, RecordKinds.SpotTestResponses.KeyOf(contrary), found).Expect(
                        false, nameof(contrary.AnswersYes), contrary.AnswersYes,
                        $"the answer that {parent.Key} gives in the other tests of the family \"{family.Key}\"");
                }
            }
        }
    }
}
